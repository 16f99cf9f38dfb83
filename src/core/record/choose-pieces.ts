// Pieces by their numbers: those that text such as `41-60, 66, 70-` names, and text that names them.
import { rowLabel } from "../document/access";
import type { Row, Workbook } from "../document/workbook";
import { fail, ok, problem, type Result } from "../problem";

/** Sheets whose rows are named by number. */
type NumberedSheet = "pieces" | "firings";

/** Piece rows in the order in which they are named by text such as `41-60, 66, 70-`; every part that names nothing is a problem. */
export function choosePieces(book: Workbook, text: string): Result<readonly string[]> {
  return chooseRows(book, "pieces", text);
}

/** Rows named by text such as `41-60, 66, 70-`: pieces, or firings, whose names end in numbers too. */
export function chooseRows(book: Workbook, sheet: NumberedSheet, text: string): Result<readonly string[]> {
  const { rows } = book.sheets[sheet];
  const chosen = new Set<string>();
  const tidy = text.replace(/\s*([-–])\s*(?=[^\s,;])/g, "$1").replace(/\s+([-–])/g, "$1");
  const parts = tidy.split(/[,;\s]+/).filter(Boolean);
  if (parts.length === 0) return fail(choiceProblem(sheet, text));
  for (const part of parts) {
    const found = rowsNamed(sheet, rows, part);
    if (found.length === 0) return fail(choiceProblem(sheet, part));
    for (const row of found) chosen.add(row.id);
  }
  return ok([...chosen]);
}

function choiceProblem(sheet: NumberedSheet, found: string) {
  const isPieces = sheet === "pieces";
  return problem({
    code: `${sheet}.choice`,
    where: isPieces ? "Pieces" : "Firings",
    found,
    allowed: isPieces
      ? "piece numbers that are on the sheet, such as 41-60, 66, 70-"
      : "firings that are on the sheet, such as G4, 6-8, 10-",
  });
}

function rowsNamed(sheet: NumberedSheet, rows: readonly Row[], part: string): readonly Row[] {
  const exact = rows.filter((row) => rowLabel(sheet, row).toLowerCase() === part.toLowerCase());
  if (exact.length > 0) return exact;
  const range = /^(\D*?)(\d+)?[-–](?:\D*?(\d+))?$/.exec(part);
  if (range && (range[2] !== undefined || (range[1] === "" && range[3] !== undefined))) {
    const from = range[2] === undefined ? Number.NEGATIVE_INFINITY : Number(range[2]);
    const to = range[3] === undefined ? Number.POSITIVE_INFINITY : Number(range[3]);
    return rows.filter((row) => {
      const number = rowNumber(sheet, row);
      return number !== undefined && number >= from && number <= to;
    });
  }
  const single = /^\D*?(\d+)$/.exec(part)?.[1];
  return single === undefined ? [] : rows.filter((row) => rowNumber(sheet, row) === Number(single));
}

function rowNumber(sheet: NumberedSheet, row: Row): number | undefined {
  const digits = /(\d+)$/.exec(rowLabel(sheet, row))?.[1];
  return digits === undefined ? undefined : Number(digits);
}

/** Pieces as a maker writes them: `017–021, 030`. */
export function namePieces(book: Workbook, ids: readonly string[]): string {
  const runs = runsOf(book, ids, () => true);
  const named = runs.map((run) => (run.length > 2 ? `${run[0]}–${run.at(-1)}` : run.join(", ")));
  return named.length > 6 ? `${named.slice(0, 5).join(", ")} and more, ${ids.length} in all` : named.join(", ");
}

/** Pieces as text that `choosePieces` reads back as the same pieces: `129, 131-141`. */
export function piecesAsText(book: Workbook, ids: readonly string[]): string {
  const runs = runsOf(book, ids, follows);
  return runs.map((run) => (run.length > 1 ? `${run[0]}-${run.at(-1)}` : run[0])).join(", ");
}

/** The names of pieces in runs: those next to each other on the sheet of which the next goes on from the last. */
function runsOf(
  book: Workbook,
  ids: readonly string[],
  goesOn: (last: string, next: string) => boolean,
): readonly (readonly string[])[] {
  const wanted = new Set(ids);
  const runs: string[][] = [];
  let last: string | undefined;
  for (const row of book.sheets.pieces.rows) {
    const label = wanted.has(row.id) ? rowLabel("pieces", row) : undefined;
    if (label !== undefined && last !== undefined && goesOn(last, label)) runs.at(-1)?.push(label);
    else if (label !== undefined) runs.push([label]);
    last = label;
  }
  return runs;
}

function follows(label: string, next: string): boolean {
  return /^\d+$/.test(label) && /^\d+$/.test(next) && Number(next) === Number(label) + 1;
}
