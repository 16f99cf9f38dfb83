// What is lost on the way: how much of it was to be expected, what it cost, and who bears it.
// Normal loss is borne by the pieces; abnormal loss by the period (IAS 2 §16(a); ASC 330-10-30-7).
import { fail, ok, type Result } from "../core/problem";
import { comparePieceNumbers } from "./allocate";
import { need, needDifferent, needFromZero, needNumber, needPartBelowOne, needWhole } from "./checks";

/** Pieces that entered a step and what became of them; money in the edition's currency. */
export interface StepLossInput {
  readonly entered: number;
  readonly lost: number;
  /** Planned loss rate of the step, 0 to below 1. */
  readonly plannedRate: number;
  /** What the lost pieces had cost up to and with this step. */
  readonly costOfLost: number;
  /** What they gave back: clay reclaimed, or scrap sold. */
  readonly recovered: number;
}

export interface StepLoss {
  /** Planned rate × entered, in pieces; seldom whole. */
  readonly plannedPieces: number;
  readonly normalPieces: number;
  readonly abnormalPieces: number;
  /** Cost of the normal part less its part of what was recovered: shared over the pieces. */
  readonly normalCost: number;
  /** Cost of the excess less its part of what was recovered: borne by the period. */
  readonly abnormalCost: number;
  /** Pieces by which the losses stayed below plan; pieces cost what they cost, so no money goes with them. */
  readonly fewerThanPlanned: number;
}

/** Parts the losses of one step into normal and abnormal, by the planned rate of the pieces that entered it. */
export function splitStepLoss(input: StepLossInput): Result<StepLoss> {
  const { entered, lost, plannedRate, costOfLost, recovered } = input;
  const problems = [
    ...needWhole("Pieces entered", entered),
    ...needWhole("Pieces lost", lost),
    ...need(lost <= entered, "Pieces lost", lost, `at most the ${entered} that entered`),
    ...needPartBelowOne("Planned loss", plannedRate),
    ...needFromZero("Cost of the lost pieces", costOfLost),
    ...need(lost > 0 || costOfLost === 0, "Cost of the lost pieces", costOfLost, "nothing where no piece was lost"),
    ...needFromZero("Recovered from the lost pieces", recovered),
    ...need(lost > 0 || recovered === 0, "Recovered from the lost pieces", recovered, "nothing where none was lost"),
  ];
  if (problems.length > 0) return fail(...problems);
  const plannedPieces = plannedRate * entered;
  const normalPart = lost === 0 ? 0 : Math.min(1, plannedPieces / lost);
  const net = costOfLost - recovered;
  const normalCost = lost === 0 ? 0 : net * normalPart;
  return ok({
    plannedPieces,
    normalPieces: lost * normalPart,
    abnormalPieces: lost * (1 - normalPart),
    normalCost,
    abnormalCost: lost === 0 ? 0 : net - normalCost,
    fewerThanPlanned: Math.max(0, plannedPieces - lost),
  });
}

/** A piece that may bear a share of the normal losses. */
export interface BearingPiece {
  readonly piece: string;
  readonly grade: "good" | "second";
  /** Own cost at full precision. */
  readonly own: number;
  /** What it fetches at a price of its own, less the cost to sell it. */
  readonly fetches?: number | undefined;
}

export interface SharedLoss {
  readonly shares: readonly { readonly piece: string; readonly share: number }[];
  /** What no piece can bear, because there are only seconds or no pieces at all: a cost of the period. */
  readonly unshared: number;
}

/**
 * Shares the normal losses over pieces. Each takes the same, but a second no more than lifts its own cost to what it
 * will fetch less the cost to sell it (IAS 2 §9); what the seconds cannot bear falls on the good pieces.
 */
export function shareNormalLoss(
  pieces: readonly BearingPiece[],
  pool: number,
  secondNetRealisable: number,
): Result<SharedLoss> {
  const problems = [
    ...needNumber("Normal loss to share", pool),
    ...needNumber("What a second fetches", secondNetRealisable),
    ...needDifferent(
      "Piece numbers",
      pieces.map(({ piece }) => piece),
    ),
    ...pieces.flatMap(({ piece, own }) => needNumber(`Own cost of ${piece}`, own)),
  ];
  if (problems.length > 0) return fail(...problems);
  const each = pieces.length === 0 ? 0 : pool / pieces.length;
  const capped = ({ own, fetches = secondNetRealisable }: BearingPiece) => Math.min(each, Math.max(0, fetches - own));
  // Summed in piece-number order, so that the order of the list cannot change the last bit.
  const seconds = pieces.filter(({ grade }) => grade === "second");
  seconds.sort((a, b) => comparePieceNumbers(a.piece, b.piece));
  const onSeconds = seconds.reduce((sum, piece) => sum + capped(piece), 0);
  const goodCount = pieces.length - seconds.length;
  const goodShare = goodCount === 0 ? 0 : (pool - onSeconds) / goodCount;
  return ok({
    shares: pieces.map((one) => ({ piece: one.piece, share: one.grade === "second" ? capped(one) : goodShare })),
    unshared: goodCount === 0 ? pool - onSeconds : 0,
  });
}
