// The causes that lead from a planned margin to the real one, in the order in which they are shown, and what one of them is.

/** Where a cause is shown. */
export type CauseGroup = "material" | "work" | "firing" | "losses" | "sales" | "period" | "still to come";

/** Every cause with its group; the order is that of the page, of the picture and of rounding. */
export const CAUSES = {
  materialPrice: "material",
  grams: "material",
  mouldWear: "material",
  minutes: "work",
  wage: "work",
  overheadHours: "work",
  overheadRate: "work",
  tariff: "firing",
  kwh: "firing",
  filling: "firing",
  kilnWear: "firing",
  loading: "firing",
  firedEmpty: "firing",
  lossesInPlan: "losses",
  lossesBeyond: "losses",
  refires: "losses",
  steps: "losses",
  back: "losses",
  number: "sales",
  mix: "sales",
  spare: "sales",
  price: "sales",
  fees: "sales",
  tax: "sales",
  packing: "sales",
  idle: "period",
  moulds: "period",
  fixed: "period",
  byHand: "period",
  inProgress: "still to come",
  inStock: "still to come",
} as const satisfies Readonly<Record<string, CauseGroup>>;

export type Cause = keyof typeof CAUSES;
export const CAUSE_NAMES = Object.keys(CAUSES) as Cause[];

/** One cause at one step, of one tier, or of the whole edition. */
export interface Variance {
  readonly cause: Cause;
  /** Step id, or what is sold: a tier, “standard second”, “special second”; undefined for the whole edition. */
  readonly of?: string;
  /** What was planned for as much as was really done, and what it really was; in the cause's own measure. */
  readonly planned?: number;
  readonly real?: number;
  /** Pieces that both are of, where it is shown for a piece. */
  readonly pieces?: number;
  /** Above 0 favourable, below 0 adverse. */
  readonly amount: number;
}
