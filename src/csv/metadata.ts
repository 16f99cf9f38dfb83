// What a reader has to know of the files: types, units, names, which column names a row and which names a row elsewhere.
// W3C, Metadata Vocabulary for Tabular Data (Recommendation, 17 December 2015); units as schema.org's unitText.
import { type CellName, LABEL_COLUMNS } from "../core/document/access";
import type { Column, Row, SheetKey, Workbook } from "../core/document/workbook";
import type { CellValue } from "./cell-text";
import type { CsvColumn } from "./headers";
import type { DecimalMark } from "./number-text";
import { guardText } from "./text-guard";
import { type CsvWriteOptions, type Delimiter, writtenColumns } from "./write";

/** A value of JSON. */
export type Json = string | number | boolean | null | readonly Json[] | { readonly [key: string]: Json };

/** One column of a described file. */
export interface DescribedColumn {
  readonly name: string;
  /** As it stands in the first line of the file. */
  readonly title: string;
  readonly datatype: Json;
  readonly required: boolean;
  readonly unit?: string;
  readonly words?: string;
}

/** One file. */
export interface DescribedTable {
  readonly url: string;
  readonly title: string;
  readonly columns: readonly DescribedColumn[];
  readonly primaryKey?: string;
  readonly foreignKeys: readonly { readonly column: string; readonly url: string; readonly target: string }[];
}

const CSVW_CONTEXT = "http://www.w3.org/ns/csvw";

const GUARD_NOTE =
  "A text that begins with = + - @ or an apostrophe, or begins or ends with a space, has one apostrophe before it so that no program runs it as a formula; so has what follows a comma, semicolon, tab, bar or line break within a text. Take those apostrophes off to have the text.";

/** The metadata of files that are written alike. */
export function describeTables(tables: readonly DescribedTable[], delimiter: Delimiter): Json {
  return {
    "@context": [CSVW_CONTEXT, { "@language": "en" }],
    dialect: {
      // Its default is "#", which would take a line that begins with one for a comment, and it has to be a text. No line of
      // ours begins with this one: a text that does is guarded, and no number has it.
      commentPrefix: "=",
      delimiter,
      doubleQuote: true,
      encoding: "utf-8",
      header: true,
      lineTerminators: ["\r\n"],
      quoteChar: '"',
      skipBlankRows: false,
      trim: false,
    },
    "rdfs:comment": GUARD_NOTE,
    tables: tables.map(tableJson),
  };
}

function tableJson(table: DescribedTable): Json {
  return {
    url: table.url,
    "dc:title": table.title,
    tableSchema: {
      columns: table.columns.map((column) => ({
        name: column.name,
        titles: column.title,
        datatype: column.datatype,
        required: column.required,
        ...(column.unit ? { "schema:unitText": column.unit } : {}),
        ...(column.words ? { "dc:description": column.words } : {}),
      })),
      ...(table.primaryKey === undefined ? {} : { primaryKey: table.primaryKey }),
      ...(table.foreignKeys.length === 0
        ? {}
        : {
            foreignKeys: table.foreignKeys.map(({ column, url, target }) => ({
              columnReference: column,
              reference: { resource: url, columnReference: target },
            })),
          }),
    },
  };
}

/** A number of any size, with the decimal mark it is written with. */
export function numberType(decimal: DecimalMark, base: "double" | "decimal" | "integer" = "double"): Json {
  return decimal === "." ? base : { base, format: { decimalChar: decimal } };
}

/** The file name of a sheet. */
export function sheetFile(sheet: SheetKey): string {
  return `${sheet}.csv`;
}

/** Describes a sheet as `writeSheetCsv` writes it; rows named elsewhere are declared only for the sheets in `beside`. */
export function describeSheet(
  book: Workbook,
  sheet: SheetKey,
  options: CsvWriteOptions,
  url: string,
  beside: readonly SheetKey[],
  valueAt: (cell: CellName) => CellValue,
): DescribedTable {
  const columns = writtenColumns(book, sheet, options.withComputed);
  const hasKey = isKey(book, sheet);
  return {
    url,
    title: `${book.meta.title}: ${book.sheets[sheet].title}`,
    columns: columns.map((entry) => describeColumn(book, sheet, entry, options, hasKey, valueAt)),
    ...(hasKey ? { primaryKey: LABEL_COLUMNS[sheet] } : {}),
    foreignKeys: columns.flatMap(({ column, shows }) => {
      const to = column.from?.split(":")[0] as SheetKey | undefined;
      if (shows !== "entered" || to === undefined || !beside.includes(to) || !isKey(book, to)) return [];
      return [{ column: column.key, url: sheetFile(to), target: LABEL_COLUMNS[to] }];
    }),
  };
}

/** Whether the names of a sheet's rows are all there and different, so that they can be a key. */
function isKey(book: Workbook, sheet: SheetKey): boolean {
  const { rows } = book.sheets[sheet];
  const names = rows.map((row) => row.cells[LABEL_COLUMNS[sheet]]);
  return (
    names.every((name) => name !== undefined && typeof name !== "object" && String(name).trim() !== "") &&
    new Set(names.map(String)).size === rows.length
  );
}

function describeColumn(
  book: Workbook,
  sheet: SheetKey,
  { header, column, shows }: CsvColumn,
  options: CsvWriteOptions,
  hasKey: boolean,
  valueAt: (cell: CellName) => CellValue,
): DescribedColumn {
  const { rows } = book.sheets[sheet];
  const unit = column.format === "percent" ? "" : column.unit.replaceAll("¤", book.meta.currency);
  const isFilled = rows.every((row) => row.cells[column.key] !== undefined);
  return {
    name: shows === "in use" ? `${column.key}_in_use` : column.key,
    title: guardText(header),
    datatype: typeOf(book, sheet, column, shows, options, valueAt),
    // Nothing may be missing from a key.
    required:
      shows === "entered" &&
      ((hasKey && column.key === LABEL_COLUMNS[sheet]) || (column.required === true && isFilled)),
    ...(unit === "" ? {} : { unit }),
    ...(column.words === undefined ? {} : { words: column.words }),
  };
}

function typeOf(
  book: Workbook,
  sheet: SheetKey,
  column: Column,
  shows: CsvColumn["shows"],
  options: CsvWriteOptions,
  valueAt: (cell: CellName) => CellValue,
): Json {
  const { rows } = book.sheets[sheet];
  // Line by line, texts stand beside numbers; and a formula typed by hand is a text.
  if (rows.some((row) => row.line) && column.key === "value") return "string";
  if (
    shows === "entered" &&
    options.formulas !== "values" &&
    rows.some((row) => typeof row.cells[column.key] === "object")
  )
    return "string";
  // What a maker's own formula gives need not be a number.
  const isNumber = (row: Row) =>
    ["number", "object"].includes(typeof valueAt({ sheet, row: row.id, column: column.key }));
  if (column.type === "number" && (shows !== "entered" || options.formulas === "values") && !rows.every(isNumber))
    return "string";
  if (column.type === "number") return numberType(options.decimal);
  if (column.type === "date") return { base: "date", format: "yyyy-MM-dd" };
  if (column.type === "time") return { base: "time", format: "HH:mm" };
  return "string";
}
