// Which row each line of a file is for, and which lines can't be imported at all.

import { counted } from "../core/counted";
import { freshRowId } from "../core/document/edits";
import { SHEET_MOST } from "../core/document/limits";
import type { SheetKey, Workbook } from "../core/document/workbook";
import { UNREADABLE } from "./encoding";
import type { HeaderMatch } from "./headers";
import type { ImportOptions, Rejected } from "./import-options";
import { type RowMatch, rowFinder, sameLabel } from "./match-rows";
import { isTooLong, type SheetTable, type TableRow } from "./read";
import { unguardText } from "./text-guard";

/** Anything longer is a slip of columns, not a name. */
const LONGEST_NAME = 300;
/** Letters that row ids of a sheet begin with; rows of the other sheets are not added by an import. */
const ROW_PREFIX: Readonly<Partial<Record<SheetKey, string>>> = {
  materials: "m",
  purchases: "b",
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
  const named = table.rows.map((row): NamedLine => {
    const name = nameIn(row, label.at);
    const match = find(name);
    const ids = rowsMeant(match, options);
    return { row, name, match, ids, key: ids?.[0] ?? `new ${sameLabel(name)}` };
  });
  const linesWith = countNames(named.map((line) => line.name));
  const earlier = new Map<string, number>();
  const twins = twinLines(named, options);
  const fresh = freshIds(book, sheet);
  const found: FoundLine[] = [];
  const rejected: Rejected[] = [];
  for (const { row, name, match, ids, key } of named) {
    const count = ids?.length ?? 1;
    // Refused ones count too: where rows have one name, the order of all lines says which is which.
    const before = earlier.get(key) ?? 0;
    earlier.set(key, before + 1);
    const refusal =
      refusalOfLine(sheet, table, row, name, match, options) ??
      refusalOfCount(count, linesWith.get(sameLabel(name)) ?? 1) ??
      twins.get(row.line) ??
      (ids ? undefined : fresh.refusal());
    if (refusal) {
      const [code, reason] = refusal;
      rejected.push({ line: row.line, column: label.header, found: name, code, reason });
      continue;
    }
    found.push({ row, name, id: ids?.[count > 1 ? before : 0] ?? fresh.next(), isNew: ids === undefined });
  }
  return { found, rejected };
}

/** The rows a name stands for; undefined where it is a new one. */
function rowsMeant(match: RowMatch, options: ImportOptions): readonly string[] | undefined {
  if (match.kind === "rows" || (match.kind === "zeros" && options.zeros === "same")) return match.ids;
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
  if (row.brokenBy !== undefined)
    return [
      "csv.quotes",
      `The quotation mark that begins on line ${row.brokenBy} is not closed, or has text after it.`,
    ];
  if (isTooLong(row, table.header.length))
    return ["csv.long", `It has ${counted(row.cells.length, "cell")} for ${counted(table.header.length, "column")}.`];
  if (name.trim() === "") return ["csv.nameless", "It does not say which row it is for."];
  if (name.includes(UNREADABLE)) return ["csv.encoding", "It holds letters that can't be read."];
  if (name.length > LONGEST_NAME) return ["csv.name", `The name is longer than ${LONGEST_NAME} characters.`];
  if (match.kind === "rows" || (match.kind === "zeros" && options.zeros === "same")) return undefined;
  if (match.kind === "zeros" && options.zeros === undefined)
    return ["csv.zeros", `There is no such row, but there is ${match.label}.`];
  if (ROW_PREFIX[sheet] === undefined)
    return ["csv.row", "There is no such row, and this sheet takes none from a file."];
  return options.addMissing ? undefined : ["csv.missing", "There is no such row on the sheet."];
}

/** Several rows of one name are told apart only by their order, all present. */
function refusalOfCount(rows: number, lines: number): Refusal | undefined {
  if (rows === 1 || lines === rows) return undefined;
  return ["csv.several", `The sheet has ${counted(rows, "row")} of this name and the file ${lines}.`];
}

interface NamedLine {
  readonly row: TableRow;
  readonly name: string;
  readonly match: RowMatch;
  /** The rows the name stands for; undefined where it is a new one. */
  readonly ids: readonly string[] | undefined;
  /** The same for all lines that are for one row. */
  readonly key: string;
}

/** Lines for one row, refused but for the one that counts: any where they say the same, else the one that was chosen. */
function twinLines(named: readonly NamedLine[], options: ImportOptions): ReadonlyMap<number, Refusal> {
  const byRow = new Map<string, NamedLine[]>();
  for (const line of named) {
    if (line.row.brokenBy !== undefined || line.name.trim() === "" || (line.ids?.length ?? 1) > 1) continue;
    const same = byRow.get(line.key);
    if (same) same.push(line);
    else byRow.set(line.key, [line]);
  }
  const refused = new Map<number, Refusal>();
  for (const lines of byRow.values()) {
    const [first] = lines;
    const last = lines.at(-1);
    if (!first || !last || first === last) continue;
    const isSame = new Set(lines.map(({ row }) => JSON.stringify(row.cells.map((cell) => cell.trim())))).size === 1;
    const counts = isSame || options.twice === "first" ? first : options.twice === "last" ? last : undefined;
    for (const one of lines) {
      const other = counts ?? (one === first ? last : first);
      if (one === counts) continue;
      const why = isSame
        ? `It says the same as line ${other.row.line}.`
        : counts
          ? `Line ${other.row.line} is for the same row and is the one that counts.`
          : `Line ${other.row.line} is for the same row and says something else.`;
      refused.set(one.row.line, [counts ? "csv.twice" : "csv.differs", why]);
    }
  }
  return refused;
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
      rows.length + given < SHEET_MOST.rows
        ? undefined
        : ["csv.rows", `The sheet can't have more than ${counted(SHEET_MOST.rows, "row")}.`],
    next: () => {
      given += 1;
      return `${prefix}${first + given - 1}`;
    },
  };
}
