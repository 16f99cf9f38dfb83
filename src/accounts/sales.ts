// What became of finished pieces: sold, consigned, given away, kept or broken. Revenue is recognised when a piece is sold, not
// when it is finished or handed to a gallery: a consigned piece stays the maker's stock (IFRS 15 §B77; ASC 606-10-55-79).
// Every sale is rounded by itself, once, so that sums over any part of the sales add up to the sum over all of them.

import { roundDecimal, toDecimal } from "../core/money";
import { fail, ok, type Problem, type Result } from "../core/problem";
import type { Became } from "../core/sheets/pieces-sheet";
import { need, needFromZero, needPartBelowOne } from "./checks";
import type { Ledger } from "./ledger";
import { netPrice, type SaleTerms, termProblems } from "./price";

/** What a channel takes of a sale. */
export interface ChannelTerms extends SaleTerms {
  /** Commission as a fraction of the price without tax. */
  readonly commission: number;
  /** Packing and postage that the maker bears. */
  readonly packing: number;
}

/** What became of one finished piece. */
export interface PlainSale {
  readonly piece: string;
  readonly became: Became;
  /** What the buyer paid, tax included; of what was not sold it counts for nothing. */
  readonly price: number;
  readonly terms: ChannelTerms;
  /** ISO 8601 day. */
  readonly day?: string;
  readonly channel?: string;
  /** Number of the invoice, receipt or delivery note. */
  readonly document?: string;
  /** Of a piece that was consigned before: since when and where. */
  readonly consigned?: Pick<PlainSale, "price" | "terms" | "channel"> & { readonly day: string };
}

/** What a sale comes to, unrounded: `price` = `net` + `tax`. */
export interface SaleAmounts {
  readonly net: number;
  readonly tax: number;
  /** Fee of the price, fixed fee, and commission of the price without tax. */
  readonly fees: number;
  readonly packing: number;
}

/** What a price with tax comes to under the terms of a channel. */
export function saleAmounts(price: number, terms: ChannelTerms): SaleAmounts {
  const net = netPrice(price, terms.taxRate);
  const fees = price * terms.feeRate + terms.feeFixed + net * terms.commission;
  return { net, tax: price - net, fees, packing: terms.packing };
}

/** The same in whole minor units, with the cost of the piece as the ledger has it; amounts of a sale are 0 where it was not sold. */
export interface SaleMinor extends Pick<PlainSale, "piece" | "became" | "day" | "channel" | "document"> {
  readonly isSecond: boolean;
  readonly costMinor: number;
  readonly priceMinor: number;
  /** `priceMinor` = `netMinor` + `taxMinor`. */
  readonly netMinor: number;
  readonly taxMinor: number;
  readonly feesMinor: number;
  readonly packingMinor: number;
}

/** Amounts of a sale that are summed. */
type Summed = "costMinor" | "priceMinor" | "netMinor" | "taxMinor" | "feesMinor" | "packingMinor";

/** Rounds each sale once; refused where a piece is not among the finished ones. */
export function roundSales(ledger: Ledger, sales: readonly PlainSale[]): Result<readonly SaleMinor[]> {
  const good = new Map(ledger.good.map(({ piece, minor }) => [piece, minor]));
  const seconds = new Map(ledger.seconds.map(({ piece, minor }) => [piece, minor]));
  const problems = sales.flatMap((sale) => saleProblems(sale, good.has(sale.piece) || seconds.has(sale.piece)));
  if (problems.length > 0) return fail(...problems);
  const minor = (amount: number) => Number(roundDecimal(toDecimal(amount, ledger.digits + 1), ledger.digits));
  return ok(
    sales.map(({ price, terms, consigned: _, ...sale }): SaleMinor => {
      const isSold = sale.became === "sold";
      const { net, fees, packing } = saleAmounts(price, terms);
      const [priceMinor, netMinor] = isSold ? [minor(price), minor(net)] : [0, 0];
      return {
        ...sale,
        isSecond: seconds.has(sale.piece),
        costMinor: good.get(sale.piece) ?? seconds.get(sale.piece) ?? 0,
        ...{ priceMinor, netMinor, taxMinor: priceMinor - netMinor },
        ...{ feesMinor: isSold ? minor(fees) : 0, packingMinor: isSold ? minor(packing) : 0 },
      };
    }),
  );
}

/** The sum of an amount over those that became one of some things. */
export function sumOfSales(sales: readonly SaleMinor[], of: Summed, ...became: readonly Became[]): number {
  return sales.reduce((sum, sale) => (became.includes(sale.became) ? sum + sale[of] : sum), 0);
}

function saleProblems(sale: PlainSale, isFinished: boolean): readonly Problem[] {
  const where = (what: string) => `Piece ${sale.piece}, ${what}`;
  return [
    ...need(isFinished, `Piece ${sale.piece}`, `${sale.became}, and not finished`, "a piece passed as good or second", {
      code: "sale.unfinished",
      fix: "Pass it on Record, or take back on Sales what was said of it.",
    }),
    ...needFromZero(where("price paid"), sale.price),
    ...needFromZero(where("packing"), sale.terms.packing),
    ...needPartBelowOne(where("commission"), sale.terms.commission),
    ...termProblems(sale.terms),
  ];
}
