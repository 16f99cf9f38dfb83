// Which formulas may be the one that takes the calculation down, and how it is found among them.
import { describeCell } from "../core/document/access";
import type { Change } from "../core/document/change";
import { type Column, type Row, SHEET_KEYS, type Workbook } from "../core/document/workbook";

const inCells = (row: Row) => Object.values(row.cells).flatMap((raw) => (typeof raw === "object" ? [raw.f] : []));
const inLine = (row: Row) => (row.line?.formula === undefined ? [] : [row.line.formula]);
const inColumn = ({ formula }: Column) => (formula === undefined ? [] : [formula]);

/** Formulas that a change brings. */
export function formulasOf(change: Change): readonly string[] {
  const found = change.operations.flatMap((operation): readonly string[] => {
    switch (operation.kind) {
      case "cell":
        return typeof operation.is === "object" ? [operation.is.f] : [];
      case "column":
        return inColumn(operation.is);
      case "add columns":
        return operation.columns.flatMap(inColumn);
      case "add rows":
        return operation.rows.flatMap((row) => [...inCells(row), ...inLine(row)]);
      default:
        return [];
    }
  });
  return [...new Set(found)];
}

/** Formulas of a document: those that the maker brought, and all there are. */
export function formulasIn(book: Workbook): { readonly own: readonly string[]; readonly all: readonly string[] } {
  const own = new Set<string>();
  const all = new Set<string>();
  for (const key of SHEET_KEYS) {
    const { columns, rows } = book.sheets[key];
    for (const column of columns) for (const formula of inColumn(column)) (column.own ? own : all).add(formula);
    for (const row of rows) {
      for (const formula of inCells(row)) own.add(formula);
      for (const formula of inLine(row)) (row.own ? own : all).add(formula);
    }
  }
  return { own: [...own], all: [...new Set([...own, ...all])] };
}

/** Where a formula stands, in the maker's words: the first place and how many more. */
export function whereStands(book: Workbook, formula: string): string {
  const places = SHEET_KEYS.flatMap((sheet) => {
    const { title, columns, rows } = book.sheets[sheet];
    const filled = columns.filter((column) => column.formula === formula);
    const cells = rows.flatMap((row) => [
      ...Object.entries(row.cells).flatMap(([column, raw]) =>
        typeof raw === "object" && raw.f === formula ? [{ sheet, row: row.id, column }] : [],
      ),
      ...(row.line?.formula === formula ? [{ sheet, row: row.id, column: "value" }] : []),
    ]);
    return [
      ...filled.map((column) => `${title}, column ${column.title}`),
      ...cells.map((cell) => describeCell(book, cell)),
    ];
  });
  return places.length > 1 ? `${places[0]} and ${places.length - 1} more` : (places[0] ?? formula);
}

/**
 * The guilty among suspects, by halves. `isSound` says whether all goes well with some left out; with all of the suspects
 * left out it does.
 */
export async function findGuilty(
  suspects: readonly string[],
  isSound: (leftOut: readonly string[]) => Promise<boolean>,
): Promise<readonly string[]> {
  if (suspects.length <= 1) return suspects;
  const middle = Math.ceil(suspects.length / 2);
  const [first, second] = [suspects.slice(0, middle), suspects.slice(middle)];
  if (await isSound(first)) return findGuilty(first, isSound);
  if (await isSound(second)) return findGuilty(second, isSound);
  const inFirst = await findGuilty(first, (leftOut) => isSound([...leftOut, ...second]));
  const inSecond = await findGuilty(second, (leftOut) => isSound([...leftOut, ...inFirst]));
  return [...inFirst, ...inSecond];
}
