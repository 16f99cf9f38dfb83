// What the cost build-up of an edition gives. Money is the edition's currency, unrounded.

/** A piece that has had no step is not started: it costs nothing, bears nothing and is in no stock. */
export type PieceOutcome = "not started" | "in progress" | "good" | "second" | "lost";
/** Outcomes of pieces that carry a cost. */
type Staying = Exclude<PieceOutcome, "lost" | "not started">;

/** One step of one piece. */
export interface StepOfPiece {
  readonly gramsOnPiece: number;
  readonly gramsUsed: number;
  readonly fineGrams: number;
  readonly minutes: number;
  readonly material: number;
  readonly mouldWear: number;
  readonly labour: number;
  readonly overhead: number;
  readonly firingShare: number;
  readonly cost: number;
}

export interface PieceCost {
  readonly id: string;
  readonly outcome: PieceOutcome;
  readonly tier: string | undefined;
  /** Order of the last step that it has had; undefined for a piece that has had none. */
  readonly reached: number | undefined;
  /** The steps that the piece has had, by id. */
  readonly steps: Readonly<Record<string, StepOfPiece>>;
  readonly own: number;
  /** Slip that comes back from it. */
  readonly reclaimed: number;
  /** What it fetched as scrap. */
  readonly scrap: number;
  readonly lossShare: number;
  /** Own cost + share of losses; undefined for a piece that was lost or never started. */
  readonly full: number | undefined;
}

/** A firing as far as this edition bears it: all of it, unless something else was in it. */
export interface FiringCost {
  readonly id: string;
  readonly energy: number;
  readonly wear: number;
  readonly labour: number;
  /** Overhead of its loading, where loading carries any. */
  readonly overhead: number;
  readonly cost: number;
  /** Hours of loading it that are this edition's. */
  readonly hours: number;
  /** Energy of it that is this edition's, in kWh. */
  readonly kwh: number;
  /** What this edition bears of it, from nothing to all: 0 to 1. */
  readonly part: number;
  /** Whether it has been fired at all; one that has not costs nothing. */
  readonly isFired: boolean;
  /** Pieces really in the load. */
  readonly pieces: number;
  /** Pieces, kilograms or cm² of this edition, which share what it bears. */
  readonly sharedOver: number;
}

export interface StepTotals {
  readonly id: string;
  /** Pieces that have had the step. */
  readonly had: number;
  /** Pieces that have had it, or were lost while it was done. */
  readonly entered: number;
  readonly lost: number;
  readonly gramsUsed: number;
  readonly fineGrams: number;
  readonly material: number;
  readonly cost: number;
  /** What the pieces lost at this step had cost until then. */
  readonly lostCost: number;
  readonly reclaimed: number;
  readonly scrap: number;
  /** Pieces of those lost that are abnormal; seldom whole. */
  readonly abnormalPieces: number;
  readonly normal: number;
  readonly abnormal: number;
}

/** Everything put in, by what it was spent on. */
export interface PutIn {
  readonly material: number;
  readonly metal: number;
  readonly mouldWear: number;
  readonly labour: number;
  readonly loadingLabour: number;
  readonly overhead: number;
  readonly loadingOverhead: number;
  readonly energy: number;
  readonly kilnWear: number;
}

export interface EditionTotals {
  readonly count: Readonly<Record<PieceOutcome, number>>;
  readonly own: Readonly<Record<PieceOutcome, number>>;
  /** Full cost of the pieces that were not lost. */
  readonly full: Readonly<Record<Staying, number>>;
  readonly putIn: PutIn;
  readonly putInTotal: number;
  readonly reclaimed: number;
  readonly scrap: number;
  /** Pieces planned to be lost of those that entered each step, and the chance of losing as many as were, or more. */
  readonly plannedLosses: number;
  readonly lossChance: number;
  readonly normal: number;
  readonly abnormal: number;
  /** Normal loss that no piece can bear. */
  readonly unsharedNormal: number;
  /** Firings with nothing in them: in nothing else here. */
  readonly emptyFirings: number;
  /** Hours that carry overhead, and what they leave uncarried: a cost of the period, in nothing else here. */
  readonly overheadHours: number;
  readonly idleOverhead: number;
  /** What is left in the moulds, and the part of which charged to the period: in nothing else here. */
  readonly mouldsLeft: number;
  readonly mouldsCharged: number;
}

export interface EditionCosts {
  readonly pieces: readonly PieceCost[];
  readonly firings: readonly FiringCost[];
  readonly steps: readonly StepTotals[];
  readonly totals: EditionTotals;
}
