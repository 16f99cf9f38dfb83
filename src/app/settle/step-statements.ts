// The edition as a chain of steps, tier by tier: what was carried into each step, what it added, what was lost at it and
// what went on. Amounts are the ledger's own, to the last coin.
import type { EditionCosts, PieceCost } from "../../accounts/edition-costs";
import type { Ledger } from "../../accounts/ledger";
import type { PlainEdition, PlainStep } from "../../accounts/plain-edition";
import { stepFlows, type TierFlow } from "../../accounts/step-flow";
import { rowOf } from "../../core/document/access";
import type { Workbook } from "../../core/document/workbook";
import { fail, ok, type Result } from "../../core/problem";
import { isStepFor } from "../../core/steps/piece-steps";

/** The flow of every tier that has pieces. */
export function stepStatements(
  book: Workbook,
  edition: PlainEdition,
  costs: EditionCosts,
  ledger: Ledger,
): Result<readonly TierFlow[]> {
  const steps = [...edition.steps].sort((a, b) => a.order - b.order);
  const waitsFor = new Map(costs.pieces.map((piece, at) => [piece.id, nextStep(steps, book, at, piece)]));
  const { flows, problems } = stepFlows(edition, costs, ledger, waitsFor);
  return problems.length > 0 ? fail(...problems) : ok(flows);
}

/** The step that a piece in progress is to have next. */
function nextStep(steps: readonly PlainStep[], book: Workbook, at: number, piece: PieceCost): string | undefined {
  const row = book.sheets.pieces.rows[at] ?? { id: piece.id, cells: {} };
  const last = steps.findLastIndex((step) => piece.steps[step.id] !== undefined);
  return steps.slice(last + 1).find(({ id }) => isStepFor(rowOf(book, "route", id) ?? { id, cells: {} }, row))?.id;
}
