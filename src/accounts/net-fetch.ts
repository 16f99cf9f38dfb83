// What a sale really brings: the price the buyer pays, less tax, fees, packing and postage.
import { leftAfterFees, type SaleTerms } from "./price";

/** What a price with tax brings after tax, fees and packing; a piece that is not sold brings nothing and costs nothing to sell. */
export function netFetch(price: number, terms: SaleTerms, packing: number): number {
  return price === 0 ? 0 : leftAfterFees(price, terms) - packing;
}
