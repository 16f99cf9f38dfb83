// A measure of an edition as it is written.
import { showNumber } from "../../app/edition/format";
import type { EditionMeasure } from "../../app/shelf/edition-measures";
import { currencyDigits } from "../../core/currency";

/** The number, blank where it is not known; money in the digits of its currency. */
export function editionMeasureText(
  value: number | undefined,
  measure: EditionMeasure,
  currency: string,
  locale: string,
): string {
  if (value === undefined) return "";
  const digits = currencyDigits(currency);
  const decimals = measure.isMoney && digits.ok ? digits.value : measure.decimals;
  return showNumber(value, decimals, decimals, locale);
}

/** The unit behind it, with the code of the currency. */
export const measureUnit = ({ unit }: EditionMeasure, currency: string): string => unit.replace("¤", currency);
