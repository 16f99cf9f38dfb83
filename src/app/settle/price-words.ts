// A price in words, both ways: as it is typed, the other beside it.
import { pricePoint } from "../../accounts/price";
import type { CellName } from "../../core/document/access";
import { SOLD_TIERS, type SoldTier } from "../../core/sheets/price-terms";
import { moneyText } from "../edition/money-text";
import type { Session } from "../edition/session";
import { readerOf } from "./cell-reader";
import { channelTerms, pricesAre, typedPrice } from "./price-terms";

/** How prices are typed: “with tax”, “without tax”. */
export const pricesTyped = (session: Session): string => pricesAre(readerOf(session));

/** What a price of a tier is the other way, sold without a channel: “€ 100.00 without tax”; nothing where it can't be read. */
export function otherWay(session: Session, tier: SoldTier, price: number): string {
  if (!Number.isFinite(price)) return "";
  const read = readerOf(session);
  const { gross, net } = typedPrice(read, price, channelTerms(undefined, tier, read));
  return pricesAre(read) === "with tax"
    ? `${moneyText(session, net)} without tax`
    : `${moneyText(session, gross)} with tax`;
}

/** The price point at or above a price of a tier; undefined for any other cell, and where it is that price itself. */
export function pointAbove(session: Session, { sheet, row }: CellName, price: number): number | undefined {
  if (sheet !== "edition" || !SOLD_TIERS.some((tier) => row === `price_${tier}`)) return undefined;
  const step = session.result("price_step", "edition");
  const points = String(session.result("price_points", "edition") ?? "none");
  const point = pricePoint(price, points, typeof step === "number" ? step : 1);
  return point.ok && point.value !== price ? point.value : undefined;
}
