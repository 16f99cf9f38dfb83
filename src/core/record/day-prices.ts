// Which purchase says what a gram cost on the day of a step: the last one up to that day. It is written into the cell
// `priced` of the step with what is recorded, so that a later price moves nothing that was done before.
import { columnOf, rowOf } from "../document/access";
import { applyChange, type Operation, sameRaw } from "../document/change";
import type { Row, Workbook } from "../document/workbook";
import { enteredColumn, rulesOf } from "../sheets/step-kinds";

/** A step that uses a material and takes the price of its day; undefined for all others. */
export interface PricedStep {
  readonly step: Row;
  readonly material: string;
  /** Columns of the Pieces sheet: what is entered, and the purchase that it is priced by. */
  readonly entered: string;
  readonly priced: string;
}

/** The steps of the route that take the price of their day. */
export function pricedSteps(book: Workbook): readonly PricedStep[] {
  return book.sheets.route.rows.flatMap((step) => {
    const rules = rulesOf(step);
    const priced = `${step.id}.priced`;
    const { material } = step.cells;
    if (!rules || typeof material !== "string" || !columnOf(book, "pieces", priced)) return [];
    return [{ step, material, entered: `${step.id}.${enteredColumn(rules)}`, priced }];
  });
}

/** The name of the purchase whose price a material has on a day, ISO 8601; undefined where there is none by then. */
export function purchaseOn(book: Workbook, material: string, day: string): string | undefined {
  let found: Row | undefined;
  for (const row of book.sheets.purchases.rows) {
    const { material: of, sort, date, paid, grams } = row.cells;
    if (of !== material || sort !== "bought" || paid === undefined || !(Number(grams) > 0)) continue;
    if (typeof date !== "string" || date > day || date < String(found?.cells.date ?? "")) continue;
    found = row;
  }
  return found && String(found.cells.id);
}

/** The cells that say at which price the steps of a recording were done, if it was done on `day`. */
export function pricesOf(book: Workbook, operations: readonly Operation[], day: string): readonly Operation[] {
  if (book.sheets.purchases.rows.length === 0) return [];
  const after = applyChange(book, { label: "", operations });
  const byColumn = new Map(pricedSteps(after).map((one) => [one.entered, one]));
  const known = new Map<string, string | undefined>();
  return operations.flatMap((one): Operation[] => {
    if (one.kind !== "cell" || one.sheet !== "pieces") return [];
    const at = byColumn.get(one.column);
    const piece = at && rowOf(after, "pieces", one.row);
    if (!at || !piece) return [];
    if (!known.has(at.material)) known.set(at.material, purchaseOn(after, at.material, day));
    const was = piece.cells[at.priced];
    const is = one.is === undefined ? undefined : known.get(at.material);
    return sameRaw(was, is) ? [] : [{ kind: "cell", sheet: "pieces", row: one.row, column: at.priced, was, is }];
  });
}
