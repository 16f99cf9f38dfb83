// The cost of every piece, in plain loops. The workbook's formulas are held against this, so it is written to be read:
// no formulas, no caches, one rule after the other. Money is the edition's currency, unrounded.
//   1 a step costs material + moulds + labour + overhead, or a share of a firing
//   2 a firing is shared over the pieces really in it; one that was not fired costs nothing
//   3 a piece lost at a step carries cost through that step and nothing after
//   4 losses that plan and chance explain are shared over the pieces that passed the step, the excess goes to the period
//   5 own + lost + in progress is everything put in
import { counted } from "../core/counted";
import { fail, ok, problem, type Result } from "../core/problem";
import { STEP_KIND_RULES } from "../core/sheets/step-kinds";
import { comparePieceNumbers } from "./allocate";
import type {
  EditionCosts,
  EditionTotals,
  FiringCost,
  PieceCost,
  PieceOutcome,
  PutIn,
  StepTotals,
} from "./edition-costs";
import { type BearingPiece, type EditionLoss, type SharedLoss, shareNormalLoss, splitLosses } from "./losses";
import { carryOverhead, wearOfMoulds } from "./overhead";
import {
  type BarePiece,
  barePiece,
  firingCosts,
  firingsById,
  firingsTaken,
  type RunRates,
  runOf,
  workDone,
} from "./piece-cost";
import { editionProblems, type PlainEdition, type PlainPiece, type PlainStep } from "./plain-edition";

/** Costs every piece, firing and step of an edition, and the edition; pieces and steps come back in the order given. */
export function buildPieceCosts(edition: PlainEdition): Result<EditionCosts> {
  const problems = editionProblems(edition);
  if (problems.length > 0) return fail(...problems);
  // Worked through by piece number and step order, so that the order of the input cannot change the last bit of a sum.
  const pieces = [...edition.pieces].sort((a, b) => comparePieceNumbers(a.id, b.id));
  const steps = [...edition.steps].sort((a, b) => a.order - b.order);
  const runs = pieces.map((piece) => runOf(piece, steps));
  const taken = firingsTaken(edition, steps, runs);
  const work = workDone(steps, runs);
  const loading = edition.overhead.isOnLoading ? taken.reduce((sum, { hours }) => sum + hours, 0) : 0;
  const overhead = carryOverhead(edition.overhead, work.hours + loading);
  if (!overhead.ok) return overhead;
  const wear = wearOfMoulds(edition.moulds, work.casts);
  if (!wear.ok) return wear;
  const rates: RunRates = {
    wagePerHour: edition.wagePerHour,
    overheadPerHour: overhead.value.perHour,
    wearPerCast: wear.value.perCast,
  };
  const firings = firingCosts(edition, taken, rates);
  const weightless = firings.find((firing) => firing.pieces > 0 && firing.sharedOver <= 0);
  if (weightless) return fail(weightlessLoad(weightless));
  const shares = firingsById(edition, firings);
  const bare = runs.map((run) => barePiece(edition, rates, steps, shares, run));
  const counted = countSteps(steps, pieces, bare);
  const losses = splitLosses(
    counted.map(({ entered, lost, lostCost, reclaimed, scrap }, at) => ({
      ...{ entered, lost, costOfLost: lostCost, recovered: reclaimed + scrap },
      plannedRate: steps[at]?.plannedLoss ?? 0,
    })),
    edition.lossRuns,
  );
  if (!losses.ok) return losses;
  const totals = counted.map((step, at): StepTotals => {
    const of = losses.value.steps[at];
    const { abnormalPieces = 0, normalCost: normal = 0, abnormalCost: abnormal = 0 } = of ?? {};
    return { ...step, abnormalPieces, normal, abnormal };
  });
  const fetchesOf = new Map(pieces.map(({ id, fetches }) => [id, fetches]));
  const shared = shareNormalLoss(
    totals.map(({ normal }, at) => ({
      order: steps[at]?.order ?? 0,
      isForSpecial: steps[at]?.isForSpecial === true,
      normalCost: normal,
    })),
    bare.flatMap((piece) => bearing(piece, fetchesOf.get(piece.id))),
    edition.secondNetRealisable,
  );
  if (!shared.ok) return shared;
  const shareOf = new Map(shared.value.shares.map(({ piece, share }) => [piece, share]));
  const costed = bare.map((piece) => withShare(piece, shareOf.get(piece.id) ?? 0));
  return ok({
    pieces: inOrderOf(edition.pieces, costed),
    firings: inOrderOf(edition.firings, firings),
    steps: inOrderOf(edition.steps, totals),
    totals: {
      ...editionTotals(steps, costed, firings, totals, losses.value, shared.value),
      overheadHours: work.hours + loading,
      idleOverhead: overhead.value.idle,
      mouldsLeft: wear.value.left,
      mouldsCharged: wear.value.charged,
    },
  });
}

/** A piece that bears losses: one that has had a step and was not lost. A finished one has passed every step. */
function bearing(
  { id, outcome, tier, reached = 0, own }: BarePiece,
  fetches: number | undefined,
): readonly BearingPiece[] {
  if (outcome === "lost" || outcome === "not started") return [];
  const passed = outcome === "in progress" ? reached : Number.POSITIVE_INFINITY;
  return [{ piece: id, grade: outcome, isSpecial: tier === "special", reached: passed, own, fetches }];
}

function inOrderOf<T extends { readonly id: string }>(
  given: readonly { readonly id: string }[],
  made: readonly T[],
): readonly T[] {
  const byId = new Map(made.map((one) => [one.id, one]));
  return given.flatMap(({ id }) => byId.get(id) ?? []);
}

function weightlessLoad(firing: FiringCost) {
  return problem({
    code: "firing.weightless",
    where: `Firing ${firing.id}`,
    found: `${counted(firing.pieces, "piece")} without weight or area`,
    allowed: "pieces with the weight or shelf area that it is shared by",
    fix: "Enter weights or shelf areas, or share it by count.",
  });
}

/** What each step took and lost, before its losses are judged. */
function countSteps(
  steps: readonly PlainStep[],
  pieces: readonly PlainPiece[],
  bare: readonly BarePiece[],
): readonly Omit<StepTotals, "abnormalPieces" | "normal" | "abnormal">[] {
  return steps.map((step) => {
    const had = bare.flatMap((piece) => piece.steps[step.id] ?? []);
    const lost = bare.filter((_, index) => pieces[index]?.lostAt === step.id);
    return {
      id: step.id,
      had: had.length,
      entered: had.length + lost.filter((piece) => !piece.steps[step.id]).length,
      lost: lost.length,
      gramsUsed: had.reduce((sum, done) => sum + done.gramsUsed, 0),
      fineGrams: had.reduce((sum, done) => sum + done.fineGrams, 0),
      material: had.reduce((sum, done) => sum + done.material, 0),
      cost: had.reduce((sum, done) => sum + done.cost, 0),
      lostCost: lost.reduce((sum, piece) => sum + piece.own, 0),
      reclaimed: lost.reduce((sum, piece) => sum + piece.reclaimed, 0),
      scrap: lost.reduce((sum, piece) => sum + piece.scrap, 0),
    };
  });
}

function withShare(piece: BarePiece, lossShare: number): PieceCost {
  const bears = piece.outcome !== "lost" && piece.outcome !== "not started";
  return { ...piece, lossShare, full: bears ? piece.own + lossShare : undefined };
}

function editionTotals(
  stepsInOrder: readonly PlainStep[],
  pieces: readonly PieceCost[],
  firings: readonly FiringCost[],
  steps: readonly StepTotals[],
  losses: EditionLoss,
  shared: SharedLoss,
): Omit<EditionTotals, "overheadHours" | "idleOverhead" | "mouldsLeft" | "mouldsCharged"> {
  const of = (outcome: PieceOutcome) => pieces.filter((piece) => piece.outcome === outcome);
  const own = (outcome: PieceOutcome) => of(outcome).reduce((sum, piece) => sum + piece.own, 0);
  const full = (outcome: PieceOutcome) => of(outcome).reduce((sum, piece) => sum + (piece.full ?? 0), 0);
  const putIn = everythingPutIn(stepsInOrder, pieces, firings);
  return {
    count: {
      "not started": of("not started").length,
      "in progress": of("in progress").length,
      good: of("good").length,
      second: of("second").length,
      lost: of("lost").length,
    },
    own: {
      "not started": 0,
      "in progress": own("in progress"),
      good: own("good"),
      second: own("second"),
      lost: own("lost"),
    },
    full: { "in progress": full("in progress"), good: full("good"), second: full("second") },
    putIn,
    putInTotal: Object.values(putIn).reduce((sum: number, amount: number) => sum + amount, 0),
    reclaimed: steps.reduce((sum, step) => sum + step.reclaimed, 0),
    scrap: steps.reduce((sum, step) => sum + step.scrap, 0),
    plannedLosses: losses.plannedPieces,
    lossChance: losses.chance,
    normal: steps.reduce((sum, step) => sum + step.normal, 0),
    abnormal: steps.reduce((sum, step) => sum + step.abnormal, 0),
    unsharedNormal: shared.unshared,
    emptyFirings: firings.reduce((sum, firing) => sum + (firing.pieces === 0 ? firing.cost : 0), 0),
  };
}

// From the steps and the firings as they were bought, not from what the pieces bear: so the two can be compared.
function everythingPutIn(
  stepsInOrder: readonly PlainStep[],
  pieces: readonly PieceCost[],
  firings: readonly FiringCost[],
): PutIn {
  const sums = {
    material: 0,
    metal: 0,
    mouldWear: 0,
    labour: 0,
    loadingLabour: 0,
    overhead: 0,
    loadingOverhead: 0,
    energy: 0,
    kilnWear: 0,
  };
  for (const step of stepsInOrder)
    for (const piece of pieces) {
      const done = piece.steps[step.id];
      if (!done) continue;
      if (STEP_KIND_RULES[step.kind].material?.isPrecious) sums.metal += done.material;
      else sums.material += done.material;
      sums.mouldWear += done.mouldWear;
      sums.labour += done.labour;
      sums.overhead += done.overhead;
    }
  for (const firing of firings) {
    if (firing.pieces === 0) continue;
    sums.energy += firing.energy;
    sums.kilnWear += firing.wear;
    sums.loadingLabour += firing.labour;
    sums.loadingOverhead += firing.overhead;
  }
  return sums;
}
