// A whole workbook as a zip of CSV files with their metadata, and back to the same workbook.
// The tables hold what was entered; `edition.json` holds what tables have no place for: which columns and rows there are,
// their ids and formulas, and values given to computed cells by hand.
import { type CellName, LABEL_COLUMNS, specOf } from "../core/document/access";
import { applyChange } from "../core/document/change";
import { readDocument } from "../core/document/document-file";
import { storedForm } from "../core/document/stored-form";
import { type Column, type Row, SHEET_KEYS, type SheetKey, type Workbook } from "../core/document/workbook";
import { writeDocument } from "../core/document/write-document";
import { fail, ok, type Problem, problem, type Result } from "../core/problem";
import type { CellValue } from "./cell-text";
import type { Progress } from "./client";
import { csvColumns } from "./headers";
import { sameLabel } from "./match-rows";
import { describeSheet, describeTables, sheetFile } from "./metadata";
import { planImport } from "./plan";
import { readSheetCsv } from "./read";
import { unguardText } from "./text-guard";
import { BYTE_ORDER_MARK, type CsvWriteOptions, writeSheetCsv } from "./write";
import { unzipTexts, zipTexts } from "./zip";
import { readShape, type ZipShape } from "./zip-shape";

/** How the files of a workbook are written. */
export interface WorkbookZipOptions extends CsvWriteOptions {
  readonly hasMark: boolean;
}

const EDITION_NAME = "edition.json";
const METADATA_NAME = "csv-metadata.json";

/** The files of a workbook, by name. */
export function workbookFiles(
  book: Workbook,
  valueAt: (cell: CellName) => CellValue,
  options: WorkbookZipOptions,
): Readonly<Record<string, string>> {
  const mark = options.hasMark ? BYTE_ORDER_MARK : "";
  const sheets = SHEET_KEYS.map((sheet) => [sheetFile(sheet), mark + writeSheetCsv(book, sheet, valueAt, options)]);
  const tables = SHEET_KEYS.map((sheet) => describeSheet(book, sheet, options, sheetFile(sheet), SHEET_KEYS, valueAt));
  const shape = {
    csv: { delimiter: options.delimiter, decimal: options.decimal },
    edition: storedForm(withoutEntries(book)),
  };
  return {
    ...Object.fromEntries(sheets),
    [METADATA_NAME]: JSON.stringify(describeTables(tables, options.delimiter), undefined, 2),
    [EDITION_NAME]: JSON.stringify(shape),
  };
}

/** A whole workbook as the bytes of a zip. */
export function writeWorkbookZip(
  book: Workbook,
  valueAt: (cell: CellName) => CellValue,
  options: WorkbookZipOptions,
): Uint8Array<ArrayBuffer> {
  return zipTexts(workbookFiles(book, valueAt, options));
}

/** What tables are matched by, or must not change: names of rows, and the kind that a step was made with. */
function staysInShape(sheet: SheetKey, key: string): boolean {
  return key === LABEL_COLUMNS[sheet] || (sheet === "route" && key === "kind");
}

/** Whether a cell's entry stands in its sheet's table alone. */
function isInTable(sheet: SheetKey, shown: ReadonlySet<string>, row: Row, column: Column): boolean {
  return shown.has(column.key) && !staysInShape(sheet, column.key) && specOf(column, row).kind === "input";
}

/** The workbook without what its tables alone hold. */
function withoutEntries(book: Workbook): Workbook {
  const sheets = SHEET_KEYS.map((key) => {
    const sheet = book.sheets[key];
    const shown = shownKeys(book, key);
    const rows = sheet.rows.map((row) => {
      const isGone = new Set(
        sheet.columns.filter((column) => isInTable(key, shown, row, column)).map((column) => column.key),
      );
      // A text of nothing is as blank as no text in a table, so it stays here.
      const kept = Object.entries(row.cells).filter(
        ([name, raw]) => !isGone.has(name) || (typeof raw === "string" && raw.trim() === ""),
      );
      return { ...row, cells: Object.fromEntries(kept) };
    });
    return [key, { ...sheet, rows }];
  });
  return { ...book, sheets: Object.fromEntries(sheets) };
}

function shownKeys(book: Workbook, sheet: SheetKey): ReadonlySet<string> {
  return new Set(csvColumns(book, sheet).flatMap(({ column, shows }) => (shows === "entered" ? [column.key] : [])));
}

/** Reads a workbook from a zip that `writeWorkbookZip` wrote, whatever another program changed in its tables since. */
export function readWorkbookZip(
  bytes: Uint8Array,
  where: string,
  onProgress: (progress: Progress) => void = () => undefined,
): Result<Workbook> {
  const files = unzipTexts(bytes, where, (done, of) => onProgress({ doing: "unpacking", done, of }));
  return files.ok ? readWorkbookFiles(files.value, where, onProgress) : files;
}

/** Reads a workbook from its files. */
export function readWorkbookFiles(
  files: Readonly<Record<string, string>>,
  where: string,
  onProgress: (progress: Progress) => void = () => undefined,
): Result<Workbook> {
  const edition = files[EDITION_NAME];
  if (edition === undefined) return fail(missingFile(where, EDITION_NAME));
  const shape = readShape(edition, EDITION_NAME, where);
  if (!shape.ok) return shape;
  let book = shape.value.edition;
  const problems: Problem[] = [];
  const of = SHEET_KEYS.reduce((sum, sheet) => sum + book.sheets[sheet].rows.length, 0);
  let done = 0;
  for (const sheet of SHEET_KEYS) {
    onProgress({ doing: "checking", done, of });
    done += book.sheets[sheet].rows.length;
    const text = files[sheetFile(sheet)];
    if (text === undefined) {
      problems.push(missingFile(where, sheetFile(sheet)));
      continue;
    }
    const filled = fillSheet(book, sheet, text, shape.value.csv, `${where}, ${sheetFile(sheet)}`);
    if (filled.ok) book = filled.value;
    else problems.push(...filled.problems);
  }
  if (problems.length > 0) return fail(...problems.slice(0, 30));
  return readDocument(writeDocument(book), where);
}

function missingFile(where: string, name: string): Problem {
  return problem({ code: "zip.file", where, found: "", allowed: `the file ${name}, as in a workbook saved here` });
}

function fillSheet(
  book: Workbook,
  sheet: SheetKey,
  text: string,
  csv: ZipShape["csv"],
  where: string,
): Result<Workbook> {
  const table = readSheetCsv(text, { delimiter: csv.delimiter, quote: '"', headerLine: 1, remarks: false, where });
  const { decimal } = csv;
  const plan = planImport(book, sheet, table, {
    decimal,
    addMissing: true,
    zeros: "different",
    percent: "fraction",
    losses: "leave",
  });
  const names = plan.matches.find(({ kind }) => kind === "label")?.at ?? 0;
  const listed = new Set(table.rows.map(({ cells }) => sameLabel(unguardText(cells[names] ?? "").text)));
  const lost = book.sheets[sheet].rows.filter(
    (row) => !listed.has(sameLabel(String(row.cells[LABEL_COLUMNS[sheet]] ?? ""))),
  );
  const problems = [
    ...table.problems,
    ...plan.questions.map((one) => problem({ code: "zip.question", where, found: one.text, allowed: "no question" })),
    ...plan.rejected.map((one) =>
      problem({
        code: one.code,
        where: `${where}, line ${one.line}, ${one.column}`,
        found: one.found,
        allowed: "what the column takes",
        fix: one.reason,
      }),
    ),
    ...lost.map((row) =>
      problem({ code: "zip.row", where, found: "no such line", allowed: `the row ${row.cells[LABEL_COLUMNS[sheet]]}` }),
    ),
  ];
  return problems.length > 0 ? fail(...problems) : ok(applyChange(book, plan.change));
}
