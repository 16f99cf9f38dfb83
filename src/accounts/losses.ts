// What is lost on the way: how much of it was to be expected, what it cost, and who bears it.
// Normal loss is borne by the pieces; abnormal loss by the period (IAS 2 §16(a); ASC 330-10-30-7).
import { fail, ok, type Problem, type Result } from "../core/problem";
import { comparePieceNumbers } from "./allocate";
import { need, needDifferent, needFromZero, needNumber, needPartBelowOne, needWhole } from "./checks";
import { chanceOfAsMany, isBeyondChance } from "./loss-chance";

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

interface StepLoss {
  /** Planned rate × entered, in pieces; seldom whole. */
  readonly plannedPieces: number;
  readonly normalPieces: number;
  readonly abnormalPieces: number;
  /** Cost of the normal part less its part of what was recovered: shared over the pieces. */
  readonly normalCost: number;
  /** Cost of the excess less its part of what was recovered: borne by the period. */
  readonly abnormalCost: number;
}

export interface EditionLoss {
  readonly plannedPieces: number;
  readonly lostPieces: number;
  /** Chance of losing as many or more at the planned rates, 0 to 1. */
  readonly chance: number;
  readonly abnormalPieces: number;
  /** In the order given. */
  readonly steps: readonly StepLoss[];
}

/**
 * Parts the losses of an edition into normal and abnormal. They are judged over the edition: steps below plan set off steps
 * above. As long as chance alone gives as many in at least 1 run of `runs`, everything lost is normal; beyond that, what
 * exceeds the plan is abnormal. Without `runs` (0), everything beyond the plan is. Abnormal pieces fall on the steps above
 * plan, in proportion to how far each is above, and cost what the pieces lost there cost on average.
 */
export function splitLosses(inputs: readonly StepLossInput[], runs = 0): Result<EditionLoss> {
  const problems = [...needFromZero("1 run of", runs), ...inputs.flatMap(inputProblems)];
  if (problems.length > 0) return fail(...problems);
  const planned = inputs.map(({ entered, plannedRate }) => entered * plannedRate);
  const beyond = inputs.map(({ lost }, at) => Math.max(0, lost - (planned[at] ?? 0)));
  const plannedPieces = sum(planned);
  const lostPieces = sum(inputs.map(({ lost }) => lost));
  const chance = chanceOfAsMany(inputs, lostPieces);
  const abnormalPieces = isBeyondChance(chance, runs) ? Math.max(0, lostPieces - plannedPieces) : 0;
  const allBeyond = sum(beyond);
  const part = allBeyond === 0 ? 0 : abnormalPieces / allBeyond;
  return ok({
    ...{ plannedPieces, lostPieces, chance, abnormalPieces },
    steps: inputs.map(({ lost, costOfLost, recovered }, at) => {
      const abnormal = (beyond[at] ?? 0) * part;
      const net = costOfLost - recovered;
      const abnormalCost = lost === 0 ? 0 : (net * abnormal) / lost;
      return {
        plannedPieces: planned[at] ?? 0,
        normalPieces: lost - abnormal,
        abnormalPieces: abnormal,
        normalCost: net - abnormalCost,
        abnormalCost,
      };
    }),
  });
}

const sum = (numbers: readonly number[]) => numbers.reduce((total, one) => total + one, 0);

function inputProblems({ entered, lost, plannedRate, costOfLost, recovered }: StepLossInput): readonly Problem[] {
  return [
    ...needWhole("Pieces entered", entered),
    ...needWhole("Pieces lost", lost),
    ...need(lost <= entered, "Pieces lost", lost, `at most the ${entered} that entered`),
    ...needPartBelowOne("Planned loss", plannedRate),
    ...needFromZero("Cost of the lost pieces", costOfLost),
    ...need(lost > 0 || costOfLost === 0, "Cost of the lost pieces", costOfLost, "nothing where no piece was lost"),
    ...needFromZero("Recovered from the lost pieces", recovered),
    ...need(lost > 0 || recovered === 0, "Recovered from the lost pieces", recovered, "nothing where none was lost"),
  ];
}

/** The normal loss of one step, and whose step it is. */
export interface LossToShare {
  /** Order in the route. */
  readonly order: number;
  /** Only special pieces bear what is lost at a step for special pieces. */
  readonly isForSpecial: boolean;
  readonly normalCost: number;
}

/** A piece that was not lost and may bear a share of the normal losses. */
export interface BearingPiece {
  readonly piece: string;
  readonly grade: "good" | "second" | "in progress";
  readonly isSpecial: boolean;
  /** Order of the last step it has passed; a finished piece has passed them all. */
  readonly reached: number;
  /** Own cost at full precision. */
  readonly own: number;
  /** What it fetches at a price of its own, less the cost to sell it. */
  readonly fetches?: number | undefined;
}

export interface SharedLoss {
  readonly shares: readonly { readonly piece: string; readonly share: number }[];
  /** What no piece can bear: lost at steps that none has passed, or left by seconds with nobody beside them. */
  readonly unshared: number;
}

/** What a piece is to bear of losses common to all pieces, and of those at steps for special pieces. */
interface Due {
  readonly common: number;
  readonly special: number;
}

/**
 * Shares the normal losses over pieces. What was lost at a step is borne in equal parts by the pieces that have passed it,
 * at a step for special pieces by those alone. A second bears no more than lifts its own cost to what it will fetch less
 * the cost to sell it (IAS 2 §9); what it can't bear falls on the other bearers of the same losses, in proportion.
 */
export function shareNormalLoss(
  steps: readonly LossToShare[],
  pieces: readonly BearingPiece[],
  secondNetRealisable: number,
): Result<SharedLoss> {
  const problems = [
    ...steps.flatMap(({ normalCost }) => needNumber("Normal loss to share", normalCost)),
    ...needNumber("What a second fetches", secondNetRealisable),
    ...needDifferent(
      "Piece numbers",
      pieces.map(({ piece }) => piece),
    ),
    ...pieces.flatMap(({ piece, own }) => needNumber(`Own cost of ${piece}`, own)),
  ];
  if (problems.length > 0) return fail(...problems);
  const { dues, unshared } = duesOf(steps, pieces);
  /** What a second takes of what is due of it. */
  const taken = (at: number): number => {
    const [piece, due] = [pieces[at], dues[at]];
    if (!piece || !due) return 0;
    return Math.min(due.common + due.special, Math.max(0, (piece.fetches ?? secondNetRealisable) - piece.own));
  };
  const short = (at: number): Due => {
    const due = dues[at];
    if (pieces[at]?.grade !== "second" || !due) return { common: 0, special: 0 };
    const all = due.common + due.special;
    const left = all - taken(at);
    return left === 0
      ? { common: 0, special: 0 }
      : { common: (left * due.common) / all, special: (left * due.special) / all };
  };
  // Summed in piece-number order, so that the order of the list cannot change the last bit.
  const inOrder = [...pieces.keys()].sort((a, b) =>
    comparePieceNumbers(pieces[a]?.piece ?? "", pieces[b]?.piece ?? ""),
  );
  const spread = (part: keyof Due) => {
    const left = sum(inOrder.map((at) => short(at)[part]));
    const onOthers = sum(inOrder.map((at) => (pieces[at]?.grade === "second" ? 0 : (dues[at]?.[part] ?? 0))));
    return onOthers === 0 ? { factor: 1, unshared: left } : { factor: 1 + left / onOthers, unshared: 0 };
  };
  const [common, special] = [spread("common"), spread("special")];
  return ok({
    shares: pieces.map(({ piece, grade }, at) => {
      const due = dues[at] ?? { common: 0, special: 0 };
      const share = due.common * common.factor + due.special * special.factor;
      return { piece, share: grade === "second" ? taken(at) : share };
    }),
    unshared: unshared + common.unshared + special.unshared,
  });
}

/** What each piece is to bear, in the order given, and what nobody has passed the step for. */
function duesOf(steps: readonly LossToShare[], pieces: readonly BearingPiece[]) {
  const dues = pieces.map(() => ({ common: 0, special: 0 }));
  let unshared = 0;
  for (const { order, isForSpecial, normalCost } of steps) {
    const bears = (piece: BearingPiece) => piece.reached >= order && (piece.isSpecial || !isForSpecial);
    const bearers = pieces.filter(bears).length;
    if (bearers === 0) unshared += normalCost;
    else
      pieces.forEach((piece, at) => {
        const due = dues[at];
        if (due && bears(piece)) due[isForSpecial ? "special" : "common"] += normalCost / bearers;
      });
  }
  return { dues, unshared };
}
