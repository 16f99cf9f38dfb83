// What a run is held against and what it came to, as plain records: standard costing of one edition. Money is the edition's
// currency, unrounded; grams, hours and kilowatt-hours as on the sheets.
import type { SoldTier } from "../core/sheets/price-terms";
import type { SaleTerms } from "./price";

/** Tiers that are planned for and made. */
export type MadeTier = "standard" | "special";

/** A planned load of a firing. */
interface PlannedLoad {
  /** Pieces in it as planned, above 0; seldom whole, as the last load of a run is not full. */
  readonly pieces: number;
  readonly kwh: number;
  /** Wear of kiln and furniture. */
  readonly wear: number;
  /** Hours of loading and unloading. */
  readonly hours: number;
}

/** What was planned of a step, a piece. A firing has a load, and no grams, hours or wear of its own. */
export interface PlannedWork {
  readonly id: string;
  readonly order: number;
  readonly who: "all" | "special" | "as needed";
  /** Share of the pieces coming to a step as needed that will need it; 1 at any other. */
  readonly share: number;
  /** Planned loss of the pieces that have the step, 0 to below 1. */
  readonly loss: number;
  readonly grams: number;
  readonly pricePerGram: number;
  readonly hours: number;
  /** Wear of a mould, where a piece is cast in one. */
  readonly mouldWear: number;
  readonly load?: PlannedLoad;
}

/** Price and terms at which a tier is planned to be sold. */
interface PlannedSale extends SaleTerms {
  readonly price: number;
  readonly packing: number;
}

export interface PlannedRun {
  readonly wagePerHour: number;
  readonly overheadPerHour: number;
  /** Overhead that an hour of loading carries; 0 where it carries none. */
  readonly loadingOverhead: number;
  readonly pricePerKwh: number;
  /** Pieces to start, by tier. */
  readonly starts: Readonly<Record<MadeTier, number>>;
  /** Pieces counted as sold, by tier; seconds are not planned for. */
  readonly sold: Readonly<Record<MadeTier, number>>;
  readonly sale: Readonly<Record<SoldTier, PlannedSale>>;
  readonly mouldsCharged: number;
  readonly fixedCosts: number;
  /** What the plan was said to leave; what follows from its parts if left out. */
  readonly leaves?: number;
  readonly steps: readonly PlannedWork[];
}

/** What the firings of a step took, as far as the pieces of this step bear them. */
export interface RealLoad {
  /** Loads, in parts where other steps or others share them. */
  readonly loads: number;
  readonly kwh: number;
  readonly energy: number;
  readonly wear: number;
  readonly hours: number;
  readonly labour: number;
  readonly overhead: number;
}

/** What a step really took over all pieces. */
export interface RealWork {
  readonly id: string;
  readonly grams: number;
  readonly material: number;
  readonly hours: number;
  readonly labour: number;
  readonly overhead: number;
  readonly mouldWear: number;
  readonly load?: RealLoad;
}

export interface RealPiece {
  readonly tier: MadeTier;
  readonly state: "not started" | "in progress" | "finished" | "lost";
  /** Ids of the steps it has had. */
  readonly had: readonly string[];
  readonly lostAt?: string;
}

/** A finished piece that was sold or is in stock, with what it brought or is offered at. */
export interface RealSale {
  readonly tier: MadeTier;
  readonly isSecond: boolean;
  /** Tax included. */
  readonly price: number;
  /** Without tax. */
  readonly net: number;
  /** Fees and commission. */
  readonly fees: number;
  readonly packing: number;
}

export interface RealRun {
  readonly steps: readonly RealWork[];
  readonly pieces: readonly RealPiece[];
  readonly sales: readonly RealSale[];
  /** Clay won back and scrap. */
  readonly back: number;
  /** Firings with nothing in them. */
  readonly emptyFirings: number;
  readonly idleOverhead: number;
  readonly mouldsCharged: number;
  readonly fixedCosts: number;
  /** What pieces in progress are carried at. */
  readonly inProgress: number;
  /** What the finished pieces in stock may bring, and what they are carried at. */
  readonly stock: { readonly brings: number; readonly carried: number };
}

/** Which real margin the plan is held against: what is made so far, or once all that is in stock is sold at its prices. */
export type MarginEnd = "so far" | "once sold";
