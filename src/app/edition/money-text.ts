// Money as the edition writes it.
import { currencySymbol, type Formats, showNumber } from "./format";
import type { Session } from "./session";
import { withDaysWritten } from "./written-days";

/** An amount with its currency sign, in the currency's digits. */
export function moneyText(session: Session, amount: number, digits = session.digits): string {
  return withCurrency(session.formats, showNumber(amount, digits, digits, session.formats.locale));
}

/** A number as it is shown, with the currency's sign before it and its own sign before that. */
export function withCurrency(formats: Formats, shown: string): string {
  const [sign, amount] = shown.startsWith("\u2212") ? ["\u2212", shown.slice(1)] : ["", shown];
  return `${sign}${currencySymbol(formats)}\u00a0${amount}`;
}

/** A sentence in which days stand as they are kept, and amounts with the code of the currency, with each written as all are. */
export function asWritten(session: Session, text: string): string {
  const amounts = new RegExp(`(?<![\\d.])(\\d+(?:\\.\\d+)?) ${session.formats.currency}\\b`, "g");
  return withDaysWritten(text, session.formats.locale).replace(amounts, (_, amount: string) =>
    moneyText(session, Number(amount)),
  );
}
