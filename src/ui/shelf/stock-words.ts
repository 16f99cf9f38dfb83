// Grams, money and days of the stock as they are written.
import { shownUnit, textInUnit } from "../../app/edition/display";
import { moneyText } from "../../app/edition/money-text";
import type { Session } from "../../app/edition/session";
import { counted } from "../../core/counted";

/** Grams with their unit, in the units that are shown: as fine as a pinch of metal needs. */
export function gramsText(session: Session, grams: number): string {
  const rounded = Number(grams.toFixed(Math.abs(grams) < 100 ? 2 : 0));
  const spec = { kind: "computed", type: "number", decimals: Number.isInteger(rounded) ? 0 : 2 } as const;
  return `${textInUnit(session, spec, "g", rounded)}\u202f${shownUnit(session, "g")}`;
}

/** Whole minor units of the currency as an amount. */
export const minorMoney = (session: Session, minor: number) => moneyText(session, minor / 10 ** session.digits);

/** What a gram, or a kilogram of what is cheap, costs. */
export function priceText(session: Session, perGram: number): string {
  return perGram < 0.1 ? `${moneyText(session, perGram * 1000)} a kg` : `${moneyText(session, perGram)} a gram`;
}

/** So many packs. */
export const packsText = (packs: number) => counted(packs, "pack");
