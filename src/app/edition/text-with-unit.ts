import { withCurrency } from "./money-text";
import type { Session } from "./session";

/** A value as it is shown with its unit: 20 000 g, and money with the currency's sign before it, as in € 28.00 or € 0.0014/g. */
export function textWithUnit(session: Session, text: string, unit: string): string {
  const { formats } = session;
  if (text === "" || unit === "") return text;
  const isMoney = unit === formats.currency || unit.startsWith(`${formats.currency}/`);
  return isMoney ? `${withCurrency(formats, text)}${unit.slice(formats.currency.length)}` : `${text}\u00a0${unit}`;
}
