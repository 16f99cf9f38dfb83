// The losses step by step in minor units, for the papers: every row adds across and every column down to the ledger.
import { roundToTotal } from "./allocate";
import type { EditionCosts, StepTotals } from "./edition-costs";
import type { Ledger } from "./ledger";

/** What was lost at a step: `cost` = `reclaimed` + `scrap` + `normal` + `abnormal`. */
export interface StepLosses {
  readonly step: StepTotals;
  readonly cost: number;
  readonly reclaimed: number;
  readonly scrap: number;
  readonly normal: number;
  readonly abnormal: number;
}

/** Every step that pieces entered, in the order of the route. */
export function lossTable(costs: EditionCosts, ledger: Ledger): readonly StepLosses[] {
  const steps = costs.steps.filter(({ entered }) => entered > 0);
  const column = (of: (step: StepTotals) => number, total: number) => roundToTotal(steps.map(of), ledger.digits, total);
  const reclaimed = column((step) => step.reclaimed, ledger.reclaimed);
  const scrap = column((step) => step.scrap, ledger.scrap);
  const normal = column((step) => step.normal, ledger.normalInPieces + ledger.unsharedNormal);
  const abnormal = column((step) => step.abnormal, ledger.abnormal);
  return steps.map((step, at) => {
    const parts = {
      ...{ reclaimed: reclaimed[at] ?? 0, scrap: scrap[at] ?? 0 },
      ...{ normal: normal[at] ?? 0, abnormal: abnormal[at] ?? 0 },
    };
    return { step, ...parts, cost: parts.reclaimed + parts.scrap + parts.normal + parts.abnormal };
  });
}
