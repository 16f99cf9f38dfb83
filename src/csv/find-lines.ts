// Which row each line of a file is for, and which lines can't be imported at all.
import { freshRowId } from "../core/edits";
import type { SheetKey, Workbook } from "../core/workbook";
import type { HeaderMatch } from "./headers";
import type { ImportOptions, Rejected } from "./import-options";
import { type RowMatch, rowFinder, sameLabel } from "./match-rows";
import { isTooLong, type SheetTable, type TableRow } from "./read";
import { unguardText } from "./text-guard";

/** No sheet may have more rows than the document format allows. */
const LARGEST_ROWS = 30_000;
/** Anything longer is a slip of columns, not a name. */
const LONGEST_NAME = 300;
/** Letters that row ids of a sheet begin with; rows of the other sheets are not added by an import. */
const ROW_PREFIX: Readonly<Partial<Record<SheetKey, string>>> = {
  materials: "m",
  kilns: "k",
  firings: "f",
  pieces: "p",
};

/** A line of the file with the row it is for. */
export interface FoundLine {
  readonly row: TableRow;
  readonly name: string;
  readonly id: string;
  readonly isNew: boolean;
}

export interface FoundLines {
  readonly found: readonly FoundLine[];
  readonly rejected: readonly Rejected[];
}

/** Finds the row for each line by the name in its label column. */
export function findLines(
  book: Workbook,
  sheet: SheetKey,
  table: SheetTable,
  label: HeaderMatch,
  options: ImportOptions,
): FoundLines {
  const find = rowFinder(book, sheet);
  const named = table.rows.map((row) => ({ row, name: nameIn(row, label.at) }));
  const linesWith = countNames(named.map((line) => line.name));
  const linesFor = new Map<string, number[]>();
  const fresh = freshIds(book, sheet);
  const found: FoundLine[] = [];
  const rejected: Rejected[] = [];
  for (const { row, name } of named) {
    const match = find(name);
    const ids = rowsMeant(match, options);
    const key = ids?.[0] ?? `new ${sameLabel(name)}`;
    const earlier = linesFor.get(key) ?? [];
    const refusal =
      refusalOfLine(sheet, table, row, name, match, options) ??
      refusalOfCount(ids?.length ?? 1, linesWith.get(sameLabel(name)) ?? 1, earlier) ??
      (ids ? undefined : fresh.refusal());
    // Refused ones count too: where rows have one name, the order of all lines says which is which.
    linesFor.set(key, [...earlier, row.line]);
    if (refusal) {
      const [code, reason] = refusal;
      rejected.push({ line: row.line, column: label.header, found: name, code, reason });
      continue;
    }
    found.push({ row, name, id: ids?.[earlier.length] ?? fresh.next(), isNew: ids === undefined });
  }
  return { found, rejected };
}

/** The rows a name stands for; undefined where it is a new one. */
function rowsMeant(match: RowMatch, options: ImportOptions): readonly string[] | undefined {
  if (match.is === "rows" || (match.is === "zeros" && options.zeros === "same")) return match.ids;
  return undefined;
}

function nameIn(row: TableRow, at: number): string {
  const { text, isLiteral } = unguardText(row.cells[at] ?? "");
  return isLiteral ? text : text.trim();
}

function countNames(names: readonly string[]): ReadonlyMap<string, number> {
  const counts = new Map<string, number>();
  for (const name of names) counts.set(sameLabel(name), (counts.get(sameLabel(name)) ?? 0) + 1);
  return counts;
}

type Refusal = readonly [code: string, reason: string];

/** Why a line can't be imported at all. */
function refusalOfLine(
  sheet: SheetKey,
  table: SheetTable,
  row: TableRow,
  name: string,
  match: RowMatch,
  options: ImportOptions,
): Refusal | undefined {
  if (isTooLong(row, table.header.length))
    return ["csv.long", `It has ${row.cells.length} cells and there are ${table.header.length} columns.`];
  if (name.trim() === "") return ["csv.nameless", "It does not say which row it is for."];
  if (name.length > LONGEST_NAME) return ["csv.name", `The name is longer than ${LONGEST_NAME} characters.`];
  if (match.is === "rows" || (match.is === "zeros" && options.zeros === "same")) return undefined;
  if (match.is === "zeros" && options.zeros === undefined)
    return ["csv.zeros", `There is no such row, but there is ${match.label}.`];
  if (ROW_PREFIX[sheet] === undefined)
    return ["csv.row", "There is no such row, and this sheet takes none from a file."];
  return options.addMissing ? undefined : ["csv.missing", "There is no such row on the sheet."];
}

/** Several lines for one row contradict each other; several rows of one name are told apart only by their order, all present. */
function refusalOfCount(rows: number, lines: number, earlier: readonly number[]): Refusal | undefined {
  if (rows > 1)
    return lines === rows
      ? undefined
      : ["csv.several", `The sheet has ${rows} rows of this name and the file ${lines}.`];
  return earlier.length === 0
    ? undefined
    : ["csv.twice", `Line ${earlier[0]} is for the same row. One of them has to go.`];
}

/** Row ids that the sheet does not have yet. */
function freshIds(
  book: Workbook,
  sheet: SheetKey,
): { readonly next: () => string; readonly refusal: () => Refusal | undefined } {
  const { rows } = book.sheets[sheet];
  const prefix = ROW_PREFIX[sheet] ?? "r";
  const first = Number(freshRowId(rows, prefix).slice(prefix.length));
  let given = 0;
  return {
    refusal: () =>
      rows.length + given < LARGEST_ROWS
        ? undefined
        : ["csv.rows", `The sheet can't have more than ${LARGEST_ROWS} rows.`],
    next: () => {
      given += 1;
      return `${prefix}${first + given - 1}`;
    },
  };
}
