// What goes into the pack for the accountant. Money is whole minor units unless it is said otherwise.

import type { Inventory } from "../accounts/inventory";
import type { AccountKey } from "../accounts/journal";
import type { StockMovement, TrialLine } from "../accounts/period";
import type { SaleMinor } from "../accounts/sales";
import type { ProcessReport } from "../accounts/stages";
import type { StatementRow } from "../accounts/statement";

/** An account as the maker has it: code and tax code are blank where none was given. */
export interface AccountTerms {
  readonly name: string;
  readonly code: string;
  readonly tax: string;
}

/** A line of the journal of the pack. */
export interface PackLine {
  readonly day: string;
  readonly reference: string;
  readonly account: AccountKey;
  /** A debit above 0. */
  readonly minor: number;
  readonly memo: string;
  readonly document: string;
}

export interface PackLedger {
  readonly lines: readonly PackLine[];
  readonly trial: readonly TrialLine[];
  readonly stock: readonly StockMovement[];
  readonly accounts: Readonly<Record<AccountKey, AccountTerms>>;
}

/** A part of a posting; texts are blank where they do not apply, and steps have their titles. */
export interface TrailLine {
  readonly reference: string;
  readonly posted: string;
  readonly day: string;
  readonly piece: string;
  readonly step: string;
  readonly firing: string;
  readonly element: string;
  readonly document: string;
  readonly debit: AccountKey;
  readonly credit: AccountKey;
  readonly minor: number;
}

/** A firing of the period; money is of what this edition bears, not rounded. */
export interface FiredLine {
  readonly firing: string;
  readonly day: string;
  readonly kiln: string;
  readonly kwh: number;
  readonly tariff: number;
  readonly pieces: number;
  readonly basis: string;
  /** Part that this edition bears, 0 to 1. */
  readonly share: number;
  readonly energy: number;
  readonly wear: number;
  readonly loadingHours: number;
  readonly loading: number;
  readonly overhead: number;
}

/** Work of the period at a step, or at the kiln. */
export interface HoursLine {
  readonly step: string;
  readonly pieces: number;
  readonly hours: number;
  readonly labour: number;
  readonly overhead: number;
}

/** A piece lost in the period: `cost` = `reclaimed` + `scrap` + `normal` + `abnormal`. */
export interface LostLine {
  readonly piece: string;
  readonly step: string;
  readonly day: string;
  readonly why: string;
  readonly cost: number;
  readonly reclaimed: number;
  readonly scrap: number;
  readonly normal: number;
  readonly abnormal: number;
}

export interface PackTrail {
  readonly parts: readonly TrailLine[];
  readonly fired: readonly FiredLine[];
  readonly hours: readonly HoursLine[];
  readonly lost: readonly LostLine[];
}

/** The losses at one step. */
export interface PackLoss {
  readonly step: string;
  readonly entered: number;
  readonly lost: number;
  /** Shares of those that entered, 0 to 1. */
  readonly plannedRate: number;
  readonly seenRate: number;
  readonly costMinor: number;
  readonly reclaimedMinor: number;
  readonly scrapMinor: number;
  readonly normalMinor: number;
  readonly abnormalMinor: number;
}

/** Everything that goes into the tables. */
export interface PackContent {
  /** Name of the edition. */
  readonly edition: string;
  readonly currency: string;
  readonly digits: number;
  readonly ledger: PackLedger;
  readonly trail: PackTrail;
  readonly inventory: Inventory;
  /** Up to the last day, and within the period. */
  readonly statement: readonly (StatementRow & { readonly periodMinor: number; readonly periodGrams?: number })[];
  readonly losses: readonly PackLoss[];
  readonly sales: readonly SaleMinor[];
  /** Process costing of the period, shown beside the books. */
  readonly processes: readonly ProcessReport[];
  /** The rules in words, line by line. */
  readonly rules: readonly string[];
}
