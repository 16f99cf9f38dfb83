// Prices and their tax as the sheets have them: which rate a sale has, and what a typed price comes to with tax and without.
import { netFetch } from "../../accounts/net-fetch";
import { bothWays, type SaleTerms, type TaxedPrice, taxOfSale } from "../../accounts/price";
import type { ChannelTerms } from "../../accounts/sales";
import type { Row } from "../../core/document/workbook";
import type { PricesAre, SoldTier } from "../../core/sheets/price-terms";
import { asNumber, type ReadCell } from "./cell-reader";

const line = (read: ReadCell, id: string) => asNumber(read("edition", id, "value"));

/** The tier a piece is sold as. */
export function soldAs({ cells }: Row): SoldTier {
  return cells.grade === "second" ? "second" : cells.tier === "special" ? "special" : "standard";
}

/** How the prices of an edition are typed. */
export function pricesAre(read: ReadCell): PricesAre {
  return read("edition", "prices_are", "value") === "without tax" ? "without tax" : "with tax";
}

/** What a sale of a tier gives up, through a channel or without one; those of the Edition sheet for a channel that is new. */
export function channelTerms(channel: Row | undefined, tier: SoldTier, read: ReadCell): ChannelTerms {
  const own = (name: string) => (channel ? asNumber(read("channels", channel.id, name)) : undefined);
  const of = (name: string) => (channel ? own(name) : line(read, name)) ?? 0;
  return {
    taxRate: taxOfSale(own("tax_rate"), line(read, `tax_${tier}`), line(read, "tax_rate") ?? 0),
    ...{ feeRate: of("fee_rate"), feeFixed: of("fee_fixed") },
    ...{ commission: channel ? of("commission") : 0, packing: of("packing") },
  };
}

/** A price as it is typed, both ways, at the rate of tax of some terms. */
export function typedPrice(read: ReadCell, price: number, { taxRate }: Pick<SaleTerms, "taxRate">): TaxedPrice {
  return bothWays(price, pricesAre(read), taxRate);
}

/** What a price of a tier brings, as it is typed, after tax, fees and packing, without a channel. */
export function netOfPrice(read: ReadCell, tier: SoldTier, price: number): number {
  const terms = channelTerms(undefined, tier, read);
  return netFetch(typedPrice(read, price, terms).gross, terms, terms.packing);
}

/** What a piece is offered at, as prices are typed: its own price, otherwise that of its tier. */
export function offeredPrice(row: Row, read: ReadCell): number | undefined {
  return asNumber(read("pieces", row.id, "own_price")) ?? line(read, `price_${soldAs(row)}`);
}

/** What a buyer is to pay for a piece, with tax. */
export function offeredGross(row: Row, read: ReadCell, terms: ChannelTerms): number | undefined {
  const typed = offeredPrice(row, read);
  return typed === undefined ? undefined : typedPrice(read, typed, terms).gross;
}

/** What the buyer of a piece paid, with tax: what it was offered at where nothing else is entered. */
export function pricePaid(row: Row, read: ReadCell, terms: ChannelTerms): number | undefined {
  return asNumber(read("pieces", row.id, "paid")) ?? offeredGross(row, read, terms);
}
