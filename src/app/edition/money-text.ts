// Money as the edition writes it.
import { currencySymbol, showNumber } from "./format";
import type { Session } from "./session";

/** An amount with its currency sign, in the currency's digits. */
export function moneyText(session: Session, amount: number, digits = session.digits): string {
  const { locale } = session.formats;
  const sign = amount < 0 ? "\u2212" : "";
  return `${sign}${currencySymbol(session.formats)}\u00a0${showNumber(Math.abs(amount), digits, digits, locale)}`;
}
