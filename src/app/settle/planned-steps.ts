// The steps as the plan costs them, as plain records: what a piece in progress still takes is calculated from these.
import type { CostedStep } from "../../accounts/to-finish";
import type { Row, Workbook } from "../../core/document/workbook";
import { isFiringStep, rulesOf } from "../../core/sheets/step-kinds";
import type { ReadCell } from "./cell-reader";

/** Every step of the route in its order, with the plan's cost of one piece that has it. */
export function plannedStepsOf(book: Workbook, read: ReadCell): readonly CostedStep[] {
  const line = (id: string) => numberOr(read("edition", id, "value"), 0);
  const [wage, overhead, reclaim, scrap] = ["wage", "overhead_normal", "reclaim", "scrap_value"].map(line);
  const rows = [...book.sheets.route.rows].sort((a, b) => orderOf(a) - orderOf(b));
  const hasFiring = rows.some(isFiringStep);
  let [clay, isFired] = [0, false];
  return rows.map((row): CostedStep => {
    const number = (column: string) => numberOr(read("route", row.id, column), 0);
    const isFiring = isFiringStep(row);
    isFired ||= isFiring;
    if (rulesOf(row)?.isMaking) clay += number("grams_each") * number("per_gram");
    const hours = number("hours_each");
    const each = read("route", row.id, "plan_each");
    const isPriced = typeof each === "number" && typeof read("route", row.id, "plan_loads") === "number";
    return {
      ...{ id: row.id, order: orderOf(row), isForSpecial: row.cells.who === "special" },
      ...{ share: row.cells.who === "as needed" ? number("needed") : 1, loss: number("loss") },
      ...{ material: number("material_each"), labour: hours * (wage ?? 0), overhead: hours * (overhead ?? 0) },
      ...{ firing: isFiring ? (isPriced ? each : undefined) : 0, minutes: hours * 60 },
      givesBack: isFired ? (scrap ?? 0) : hasFiring ? (reclaim ?? 0) * clay : 0,
    };
  });
}

const orderOf = ({ cells }: Row) => numberOr(cells.order, 0);
const numberOr = (value: unknown, other: number) => (typeof value === "number" ? value : other);
