// The edition as a chain of processes, for an accountant who costs by process: what came into each step, what the step added,
// how many equivalent units of its work were done, and what left it, was lost at it or still waits for it.
import type { EditionCosts, PieceCost } from "../accounts/edition-costs";
import type { PlainEdition, PlainStep } from "../accounts/plain-edition";
import { type ProcessValuation, valueProcess } from "../accounts/process-costing";
import { rowLabel, rowOf } from "../core/access";
import { isStepFor } from "../core/piece-steps";
import { ok, type Result } from "../core/problem";
import type { Row, Workbook } from "../core/workbook";
import type { ReadCell } from "./plain-from-sheets";

/** One step as a process. Money in the edition's currency, unrounded. */
export interface StepStatement {
  readonly step: string;
  readonly title: string;
  readonly cameIn: number;
  readonly cameInCost: number;
  readonly addedCost: number;
  readonly through: number;
  readonly lost: number;
  /** Pieces in progress that wait for the step: nothing of its own work is in them. */
  readonly waiting: number;
  /** How far those are on their way through the route, by planned cost, 0 to 1. */
  readonly waitingDone: number;
  /** Whole pieces that the work of this step would have made. */
  readonly equivalentUnits: number;
  readonly value: ProcessValuation;
}

/** The statement of every step of the route, in order. */
export function stepStatements(
  book: Workbook,
  edition: PlainEdition,
  costs: EditionCosts,
  read: ReadCell,
): Result<readonly StepStatement[]> {
  const steps = [...edition.steps].sort((a, b) => a.order - b.order);
  const next = new Map(costs.pieces.map((piece, at) => [piece.id, nextStep(steps, book, at, piece)]));
  const statements: StepStatement[] = [];
  for (const step of steps) {
    const statement = statementOf(step, steps, book, edition, costs, next, read);
    if (!statement.ok) return statement;
    if (statement.value.cameIn > 0) statements.push(statement.value);
  }
  return ok(statements);
}

/** The step that a piece in progress is to have next. */
function nextStep(steps: readonly PlainStep[], book: Workbook, at: number, piece: PieceCost): string | undefined {
  if (piece.outcome !== "in progress") return undefined;
  const row = book.sheets.pieces.rows[at] ?? { id: piece.id, cells: {} };
  const last = steps.findLastIndex((step) => piece.steps[step.id] !== undefined);
  return steps.slice(last + 1).find((step) => isStepFor(routeLine(book, step.id), row))?.id;
}

/** A step's line on the Route sheet; a blank one where there is none. */
function routeLine(book: Workbook, id: string): Row {
  return rowOf(book, "route", id) ?? { id, cells: {} };
}

function statementOf(
  step: PlainStep,
  steps: readonly PlainStep[],
  book: Workbook,
  edition: PlainEdition,
  costs: EditionCosts,
  next: ReadonlyMap<string, string | undefined>,
  read: ReadCell,
): Result<StepStatement> {
  const isLostHere = (at: number) => edition.pieces[at]?.lostAt === step.id;
  const came = costs.pieces.filter(
    (piece, at) => piece.steps[step.id] !== undefined || isLostHere(at) || next.get(piece.id) === step.id,
  );
  const lost = costs.pieces.filter((_, at) => isLostHere(at));
  const waiting = came.filter((piece) => next.get(piece.id) === step.id);
  const earlier = steps.filter((one) => one.order < step.order);
  const costBefore = (piece: PieceCost) => earlier.reduce((sum, one) => sum + (piece.steps[one.id]?.cost ?? 0), 0);
  const cameInCost = came.reduce((sum, piece) => sum + costBefore(piece), 0);
  const addedCost = came.reduce((sum, piece) => sum + (piece.steps[step.id]?.cost ?? 0), 0);
  const through = came.length - lost.length - waiting.length;
  const abnormalPieces = costs.steps.find(({ id }) => id === step.id)?.abnormalPieces ?? 0;
  const workedLost = lost.filter((piece) => piece.steps[step.id] !== undefined).length;
  const value = valueProcess({
    method: "weighted average",
    units: { opening: 0, started: came.length, completed: through, closing: waiting.length, spoiled: lost.length },
    elements: [
      { name: "Came in", openingCost: 0, addedCost: cameInCost, openingDone: 0, closingDone: 1, spoiledDone: 1 },
      {
        ...{ name: "Added here", openingCost: 0, addedCost, openingDone: 0, closingDone: 0 },
        spoiledDone: lost.length === 0 ? 0 : workedLost / lost.length,
      },
    ],
    inspection: {
      // What of the losses is normal was judged over the edition; the process asks for it as a part of the good ones.
      normalRateOfGood: through === 0 ? 0 : Math.min(1, (lost.length - abnormalPieces) / through),
      goodInspected: through,
      closingBearing: 0,
    },
  });
  if (!value.ok) return value;
  return ok({
    ...{
      step: step.id,
      title: rowLabel("route", routeLine(book, step.id)),
      cameIn: came.length,
      cameInCost,
      addedCost,
      through,
    },
    ...{ lost: lost.length, waiting: waiting.length, waitingDone: doneBefore(step, steps, book, read) },
    equivalentUnits: value.value.rates[1]?.equivalentUnits ?? 0,
    value: value.value,
  });
}

/** Planned cost carried before a step ÷ planned cost carried at the end of the route. */
function doneBefore(step: PlainStep, steps: readonly PlainStep[], book: Workbook, read: ReadCell): number {
  const carried = (id: string) => {
    const value = read("route", id, "carried");
    return typeof value === "number" ? value : undefined;
  };
  const isSpecial = routeLine(book, step.id).cells.who === "special";
  const before = steps.filter((one) => one.order < step.order).flatMap((one) => carried(one.id) ?? []);
  const all = steps.flatMap((one) => carried(one.id) ?? []);
  const end = isSpecial ? Math.max(0, ...all) : (all.at(-1) ?? 0);
  const now = before.length === 0 ? 0 : (before.at(-1) ?? 0);
  return end > 0 ? Math.min(1, now / end) : 0;
}
