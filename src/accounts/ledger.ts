// What was put in and what became of it, rounded once. Journal, inventory list and cost statement all read these same
// minor units, so they agree with each other and add up to the last cent.
import { roundDecimal, roundMoney, sumDecimals, toDecimal } from "../core/money";
import { fail, ok, type Problem, type Result } from "../core/problem";
import { type PieceAmount, type PieceMinor, roundOverPieces, roundTogether } from "./allocate";
import { need, needDifferent, needFromZero, needNumber } from "./checks";
import type { EditionCosts, PieceOutcome, PutIn } from "./edition-costs";

/** Firings with no piece in them: a cost of the period that no piece bears. */
interface EmptyFirings {
  readonly energy: number;
  readonly kilnWear: number;
  readonly loadingLabour: number;
  readonly loadingOverhead: number;
}

/** What the period bears besides losses and firings, or carries on: in none of the pieces. */
interface Besides {
  /** Overhead that no hour carries. */
  readonly idleOverhead: number;
  /** What is left in the moulds, and the part of it that is charged. */
  readonly mouldsLeft: number;
  readonly mouldsCharged: number;
}

/** An edition as it stands, at full precision. */
export interface Settlement {
  readonly putIn: PutIn;
  /** Full costs: own cost + share of the normal losses. */
  readonly good: readonly PieceAmount[];
  readonly seconds: readonly PieceAmount[];
  readonly inProgress: readonly PieceAmount[];
  readonly abnormal: number;
  /** Normal loss that no piece can bear. */
  readonly unsharedNormal: number;
  readonly reclaimed: number;
  /** What lost pieces fetched as scrap; nothing if left out. */
  readonly scrap?: number;
  /** Normal loss within the full costs above: shown, not booked. */
  readonly normalInPieces: number;
  readonly emptyFirings: EmptyFirings;
  readonly besides: Besides;
}

/** The same in whole minor units; `putInTotal` = good + seconds + in progress + abnormal + unshared + reclaimed + scrap. */
export interface Ledger {
  readonly digits: number;
  readonly putIn: Readonly<Record<keyof PutIn, number>>;
  readonly putInTotal: number;
  readonly good: readonly PieceMinor[];
  readonly seconds: readonly PieceMinor[];
  readonly inProgress: readonly PieceMinor[];
  readonly goodTotal: number;
  readonly secondsTotal: number;
  readonly inProgressTotal: number;
  readonly abnormal: number;
  readonly unsharedNormal: number;
  readonly reclaimed: number;
  readonly scrap: number;
  readonly normalInPieces: number;
  readonly emptyFirings: EmptyFirings;
  readonly besides: Besides;
}

/** The settlement of an edition's costs. */
export function settlementOf(costs: EditionCosts): Settlement {
  const of = (outcome: PieceOutcome): readonly PieceAmount[] =>
    costs.pieces
      .filter((piece) => piece.outcome === outcome)
      .map((piece) => ({ piece: piece.id, amount: piece.full ?? 0 }));
  const empty = costs.firings.filter((firing) => firing.pieces === 0);
  return {
    putIn: costs.totals.putIn,
    good: of("good"),
    seconds: of("second"),
    inProgress: of("in progress"),
    abnormal: costs.totals.abnormal,
    unsharedNormal: costs.totals.unsharedNormal,
    reclaimed: costs.totals.reclaimed,
    scrap: costs.totals.scrap,
    normalInPieces: costs.totals.normal - costs.totals.unsharedNormal,
    emptyFirings: {
      energy: empty.reduce((sum, firing) => sum + firing.energy, 0),
      kilnWear: empty.reduce((sum, firing) => sum + firing.wear, 0),
      loadingLabour: empty.reduce((sum, firing) => sum + firing.labour, 0),
      loadingOverhead: empty.reduce((sum, firing) => sum + firing.overhead, 0),
    },
    besides: {
      idleOverhead: costs.totals.idleOverhead,
      mouldsLeft: costs.totals.mouldsLeft,
      mouldsCharged: costs.totals.mouldsCharged,
    },
  };
}

/** Rounds a settlement to the currency's digits so that both sides sum to the same total and every piece to its group. */
export function roundLedger(settlement: Settlement, digits: number): Result<Ledger> {
  const problems = settlementProblems(settlement, digits);
  if (problems.length > 0) return fail(...problems);
  const exact = (amount: number) => toDecimal(amount, digits + 1);
  const minor = (amount: number) => Number(roundDecimal(exact(amount), digits));
  const put = elementsOf(settlement.putIn).map(exact);
  const putInTotal = Number(roundDecimal(sumDecimals(put), digits));
  const ins = roundTogether(put, digits, putInTotal);
  if (!ins.ok) return ins;
  const outs = roundOuts(settlement, digits, putInTotal);
  if (!outs.ok) return outs;
  const { energy, kilnWear, loadingLabour, loadingOverhead } = settlement.emptyFirings;
  const { idleOverhead, mouldsLeft, mouldsCharged } = settlement.besides;
  return ok({
    digits,
    putIn: toPutIn(ins.value),
    putInTotal,
    ...outs.value,
    normalInPieces: minor(settlement.normalInPieces),
    emptyFirings: {
      ...{ energy: minor(energy), kilnWear: minor(kilnWear) },
      ...{ loadingLabour: minor(loadingLabour), loadingOverhead: minor(loadingOverhead) },
    },
    besides: {
      idleOverhead: minor(idleOverhead),
      ...{ mouldsLeft: minor(mouldsLeft), mouldsCharged: minor(mouldsCharged) },
    },
  });
}

type Outs = Omit<Ledger, "digits" | "putIn" | "putInTotal" | "normalInPieces" | "emptyFirings" | "besides">;

/** First the groups and losses against the total, then the pieces of each group against their group. */
function roundOuts(settlement: Settlement, digits: number, putInTotal: number): Result<Outs> {
  const exact = (amount: number) => toDecimal(amount, digits + 1);
  const sumOf = (group: readonly PieceAmount[]) => sumDecimals(group.map(({ amount }) => exact(amount)));
  const { good, seconds, inProgress, abnormal, unsharedNormal, reclaimed, scrap = 0 } = settlement;
  const parts = [
    sumOf(good),
    sumOf(seconds),
    sumOf(inProgress),
    exact(abnormal),
    exact(unsharedNormal),
    exact(reclaimed),
    exact(scrap),
  ];
  const rounded = roundTogether(parts, digits, putInTotal);
  if (!rounded.ok) return rounded;
  const [goodTotal = 0, secondsTotal = 0, inProgressTotal = 0, ...losses] = rounded.value;
  const goodPieces = roundOverPieces(good, digits, goodTotal);
  if (!goodPieces.ok) return goodPieces;
  const secondPieces = roundOverPieces(seconds, digits, secondsTotal);
  if (!secondPieces.ok) return secondPieces;
  const progressPieces = roundOverPieces(inProgress, digits, inProgressTotal);
  if (!progressPieces.ok) return progressPieces;
  const [abnormalMinor = 0, unsharedMinor = 0, reclaimedMinor = 0, scrapMinor = 0] = losses;
  return ok({
    good: goodPieces.value,
    seconds: secondPieces.value,
    inProgress: progressPieces.value,
    goodTotal,
    secondsTotal,
    inProgressTotal,
    abnormal: abnormalMinor,
    unsharedNormal: unsharedMinor,
    reclaimed: reclaimedMinor,
    scrap: scrapMinor,
  });
}

function elementsOf(putIn: PutIn): readonly number[] {
  const { material, metal, mouldWear, labour, loadingLabour, overhead, loadingOverhead, energy, kilnWear } = putIn;
  return [material, metal, mouldWear, labour, loadingLabour, overhead, loadingOverhead, energy, kilnWear];
}

function toPutIn(minor: readonly number[]): Ledger["putIn"] {
  const [
    material = 0,
    metal = 0,
    mouldWear = 0,
    labour = 0,
    loadingLabour = 0,
    overhead = 0,
    loadingOverhead = 0,
    energy = 0,
    kilnWear = 0,
  ] = minor;
  return { material, metal, mouldWear, labour, loadingLabour, overhead, loadingOverhead, energy, kilnWear };
}

function settlementProblems(settlement: Settlement, digits: number): readonly Problem[] {
  const pieces = [...settlement.good, ...settlement.seconds, ...settlement.inProgress];
  const problems = [
    ...need(
      Number.isInteger(digits) && digits >= 0 && digits <= 4,
      "Currency digits",
      digits,
      "a whole number from 0 to 4",
    ),
    ...Object.entries(settlement.putIn).flatMap(([name, amount]) => needFromZero(`Put in, ${name}`, amount)),
    ...Object.entries(settlement.emptyFirings).flatMap(([name, amount]) =>
      needFromZero(`Firings with nothing in them, ${name}`, amount),
    ),
    ...Object.entries(settlement.besides).flatMap(([name, amount]) => needNumber(`Besides, ${name}`, amount)),
    ...needNumber("Abnormal loss", settlement.abnormal),
    ...needNumber("Normal loss in pieces", settlement.normalInPieces),
    ...needNumber("Loss no piece bears", settlement.unsharedNormal),
    ...needFromZero("Reclaimed", settlement.reclaimed),
    ...needFromZero("Scrap", settlement.scrap ?? 0),
    ...pieces.flatMap(({ piece, amount }) => needNumber(`Cost of ${piece}`, amount)),
    ...needDifferent(
      "Pieces",
      pieces.map(({ piece }) => piece),
    ),
  ];
  return problems.length > 0 ? problems : gapProblems(settlement);
}

// Both sides come from sums of doubles; what is beyond their noise is a mistake that rounding must not hide.
function gapProblems({
  putIn,
  good,
  seconds,
  inProgress,
  abnormal,
  unsharedNormal,
  reclaimed,
  scrap = 0,
}: Settlement): readonly Problem[] {
  const spent = elementsOf(putIn).reduce((sum, amount) => sum + amount, 0);
  const borne = [...good, ...seconds, ...inProgress].reduce((sum, { amount }) => sum + amount, 0);
  const missing = spent - borne - abnormal - unsharedNormal - reclaimed - scrap;
  return need(
    Math.abs(missing) <= 1e-9 * spent,
    "The edition",
    `${roundMoney(spent, 4)} put in, ${roundMoney(missing, 6)} of it in no piece and no loss`,
    "pieces and losses that add up to everything put in",
    { code: "ledger.gap", fix: "Look for a cost that was written over by hand." },
  );
}
