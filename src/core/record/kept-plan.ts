// The plan a run is held against: the sheets' planned numbers as they stood when the first piece had something entered, with
// all that they hung on. Later edits of the Route or of prices move the sheets, and not what was planned.

import { type Change, isEmptyChange, type ListOperation } from "../document/change";
import { freshEntryId } from "../document/list-edits";
import { isShelf } from "../document/shelf-kind";
import type { ListEntry, Row, SheetKey, Workbook } from "../document/workbook";
import { enteredColumn, isStepKind, rulesOf } from "../sheets/step-kinds";

export type KeptPlan = ListEntry<"plans">;
export type PlannedStep = KeptPlan["steps"][number];

/** Reads the value of a cell as the sheet shows it; anything but a number is none. */
type ReadValue = (sheet: SheetKey, row: string, column: string) => unknown;

/** Planned columns of the Route that are kept, inputs and what followed from them. */
const KEPT_COLUMNS = [
  ...[
    "order",
    "needed",
    "loss",
    "minutes",
    "per_gram",
    "grams_each",
    "hours_each",
    "material_each",
    "room",
    "load_kwh",
  ],
  ...["plan_entries", "plan_lost", "plan_loads", "plan_grams", "plan_hours", "plan_kwh", "plan_cost", "plan_each"],
  ...["carried", "loss_costs", "plan_loss_cost"],
] as const;

/** The plan that holds: the last one kept; undefined in an edition that has kept none. */
export const heldPlan = (book: Workbook): KeptPlan | undefined => book.lists.plans.at(-1);

/** The columns of Pieces whose entries say that a piece has had a step. */
const enteredKeys = (book: Workbook): ReadonlySet<string> =>
  new Set(
    book.sheets.route.rows.flatMap((step) => {
      const rules = rulesOf(step);
      return rules ? [`${step.id}.${enteredColumn(rules)}`] : [];
    }),
  );

/** Whether anything was entered of any piece at any step. */
export function hasBegun(book: Workbook): boolean {
  const keys = enteredKeys(book);
  return book.sheets.pieces.rows.some((row) => hasEntry(row, keys));
}

const hasEntry = ({ cells }: Row, keys: ReadonlySet<string>) =>
  cells.lost_at !== undefined || Object.keys(cells).some((key) => keys.has(key));

/** Whether a change enters the first thing of any piece at any step, in an edition that has kept no plan. */
export function beginsRun(book: Workbook, change: Change): boolean {
  if (book.lists.plans.length > 0 || isShelf(book) || isEmptyChange(change)) return false;
  const keys = enteredKeys(book);
  const enters = change.operations.some(
    (one) =>
      (one.kind === "cell" && one.sheet === "pieces" && one.is !== undefined && isEntry(one.column, keys)) ||
      (one.kind === "add rows" && one.sheet === "pieces" && one.rows.some((row) => hasEntry(row, keys))),
  );
  return enters && !hasBegun(book);
}

const isEntry = (column: string, keys: ReadonlySet<string>) => column === "lost_at" || keys.has(column);

/** The plan as the sheets have it; undefined as long as what it leaves is no number. */
export function planOnSheets(book: Workbook, read: ReadValue, at: string, why: KeptPlan["why"]): KeptPlan | undefined {
  const number = (sheet: SheetKey, row: string, column: string): [string, number][] => {
    const value = read(sheet, row, column);
    return typeof value === "number" && Number.isFinite(value) ? [[column, value]] : [];
  };
  const lines = book.sheets.edition.rows.flatMap(({ id }): [string, number][] =>
    number("edition", id, "value").map(([, value]) => [id, value]),
  );
  if (!lines.some(([id]) => id === "plan_pays")) return undefined;
  const kilns = new Map(book.sheets.kilns.rows.map((row) => [row.cells.id, row.id]));
  const steps = book.sheets.route.rows.flatMap((row): PlannedStep[] => {
    const { kind, title, who, material, kiln, programme } = row.cells;
    if (!isStepKind(kind)) return [];
    const numbers = Object.fromEntries(KEPT_COLUMNS.flatMap((column) => number("route", row.id, column)));
    const named = Object.fromEntries(
      Object.entries({ who, material, kiln, programme }).filter(([, text]) => typeof text === "string" && text !== ""),
    );
    const ofKiln = kiln === undefined ? undefined : kilns.get(kiln);
    const wear = ofKiln === undefined ? undefined : number("kilns", ofKiln, "wear")[0]?.[1];
    const all = wear === undefined ? numbers : { ...numbers, kiln_wear: wear };
    return [{ step: row.id, title: String(title ?? row.id), kind, ...named, numbers: all }];
  });
  return {
    id: freshEntryId(book, "plans"),
    ...{ at, why, loadingCarries: read("edition", "overhead_loading", "value") === "yes" },
    ...{ lines: Object.fromEntries(lines), steps },
  };
}

/** Keeps a plan: the first stays, and the one that held until now gives way. */
export function keepPlan(book: Workbook, plan: KeptPlan): ListOperation {
  const { plans } = book.lists;
  const at = Math.min(plans.length, 1);
  return { kind: "list", list: "plans", at, was: plans[at], is: plan };
}
