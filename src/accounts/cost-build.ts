// The cost of every piece, in plain loops. The workbook's formulas are held against this, so it is written to be read:
// no formulas, no caches, one rule after the other. Money is the edition's currency, unrounded.
//   1 a step costs material + moulds + labour + overhead, or a share of a firing
//   2 a firing is shared over the pieces really in it; one that was not fired costs nothing
//   3 a piece lost at a step carries cost through that step and nothing after
//   4 losses up to plan are shared over the pieces, the excess goes to the period
//   5 own + lost + in progress is everything put in
import { fail, ok, problem, type Result } from "../core/problem";
import { comparePieceNumbers } from "./allocate";
import type { EditionCosts, EditionTotals, FiringCost, Outcome, PieceCost, PutIn, StepTotals } from "./edition-costs";
import { shareNormalLoss, splitStepLoss } from "./losses";
import { carryOverhead, wearOfMoulds } from "./overhead";
import { type BarePiece, barePiece, firingCosts, firingsTaken, type RunRates, workDone } from "./piece-cost";
import { editionProblems, type PlainEdition, type PlainPiece, type PlainStep } from "./plain-edition";

/** Costs every piece, firing and step of an edition, and the edition; pieces and steps come back in the order given. */
export function buildPieceCosts(edition: PlainEdition): Result<EditionCosts> {
  const problems = editionProblems(edition);
  if (problems.length > 0) return fail(...problems);
  // Worked through by piece number and step order, so that the order of the input cannot change the last bit of a sum.
  const pieces = [...edition.pieces].sort((a, b) => comparePieceNumbers(a.id, b.id));
  const steps = [...edition.steps].sort((a, b) => a.order - b.order);
  const taken = firingsTaken(edition, steps, pieces);
  const work = workDone(steps, pieces);
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
  const bare = pieces.map((piece) => barePiece(edition, rates, steps, firings, piece));
  const totals = stepTotals(steps, pieces, bare);
  if (!totals.ok) return totals;
  const normal = totals.value.reduce((sum, step) => sum + step.normal, 0);
  const bearing = bare.filter(({ outcome }) =>
    edition.lossBearers === "not lost" ? outcome !== "lost" : outcome === "good" || outcome === "second",
  );
  const fetchesOf = new Map(pieces.map(({ id, fetches }) => [id, fetches]));
  const shared = shareNormalLoss(
    bearing.map(({ id, outcome, own }) => ({
      ...{ piece: id, own, fetches: fetchesOf.get(id) },
      grade: outcome === "second" ? "second" : "good",
    })),
    normal,
    edition.secondNetRealisable,
  );
  if (!shared.ok) return shared;
  const shareOf = new Map(shared.value.shares.map(({ piece, share }) => [piece, share]));
  const costed = bare.map((piece) => withShare(piece, shareOf.get(piece.id) ?? 0));
  return ok({
    pieces: inOrderOf(edition.pieces, costed),
    firings: inOrderOf(edition.firings, firings),
    steps: inOrderOf(edition.steps, totals.value),
    totals: {
      ...editionTotals(steps, costed, firings, totals.value, normal, shared.value.unshared),
      overheadHours: work.hours + loading,
      idleOverhead: overhead.value.idle,
      mouldsLeft: wear.value.left,
      mouldsCharged: wear.value.charged,
    },
  });
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
    found: `${firing.pieces} pieces that weigh or cover nothing`,
    allowed: "pieces with the weight or shelf area that it is shared by",
    fix: "Enter weights or shelf areas, or share it by count.",
  });
}

function stepTotals(
  steps: readonly PlainStep[],
  pieces: readonly PlainPiece[],
  bare: readonly BarePiece[],
): Result<readonly StepTotals[]> {
  const rows: StepTotals[] = [];
  for (const step of steps) {
    const had = bare.flatMap((piece) => piece.steps[step.id] ?? []);
    const lost = bare.filter((_, index) => pieces[index]?.lostAt === step.id);
    const entered = had.length + lost.filter((piece) => !piece.steps[step.id]).length;
    const lostCost = lost.reduce((sum, piece) => sum + piece.own, 0);
    const reclaimed = lost.reduce((sum, piece) => sum + piece.reclaimed, 0);
    const scrap = lost.reduce((sum, piece) => sum + piece.scrap, 0);
    const split = splitStepLoss({
      entered,
      lost: lost.length,
      plannedRate: step.plannedLoss ?? 0,
      costOfLost: lostCost,
      recovered: reclaimed + scrap,
    });
    if (!split.ok) return split;
    rows.push({
      id: step.id,
      had: had.length,
      entered,
      lost: lost.length,
      gramsUsed: had.reduce((sum, done) => sum + done.gramsUsed, 0),
      fineGrams: had.reduce((sum, done) => sum + done.fineGrams, 0),
      cost: had.reduce((sum, done) => sum + done.cost, 0),
      lostCost,
      reclaimed,
      scrap,
      normal: split.value.normalCost,
      abnormal: split.value.abnormalCost,
    });
  }
  return ok(rows);
}

function withShare(piece: BarePiece, lossShare: number): PieceCost {
  return { ...piece, lossShare, full: piece.outcome === "lost" ? undefined : piece.own + lossShare };
}

function editionTotals(
  stepsInOrder: readonly PlainStep[],
  pieces: readonly PieceCost[],
  firings: readonly FiringCost[],
  steps: readonly StepTotals[],
  normal: number,
  unsharedNormal: number,
): Omit<EditionTotals, "overheadHours" | "idleOverhead" | "mouldsLeft" | "mouldsCharged"> {
  const of = (outcome: Outcome) => pieces.filter((piece) => piece.outcome === outcome);
  const own = (outcome: Outcome) => of(outcome).reduce((sum, piece) => sum + piece.own, 0);
  const full = (outcome: Outcome) => of(outcome).reduce((sum, piece) => sum + (piece.full ?? 0), 0);
  const putIn = everythingPutIn(stepsInOrder, pieces, firings);
  return {
    count: {
      "in progress": of("in progress").length,
      good: of("good").length,
      second: of("second").length,
      lost: of("lost").length,
    },
    own: { "in progress": own("in progress"), good: own("good"), second: own("second"), lost: own("lost") },
    full: { "in progress": full("in progress"), good: full("good"), second: full("second") },
    putIn,
    putInTotal: Object.values(putIn).reduce((sum: number, amount: number) => sum + amount, 0),
    reclaimed: steps.reduce((sum, step) => sum + step.reclaimed, 0),
    scrap: steps.reduce((sum, step) => sum + step.scrap, 0),
    normal,
    abnormal: steps.reduce((sum, step) => sum + step.abnormal, 0),
    unsharedNormal,
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
      if (step.kind === "metal") sums.metal += done.material;
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
