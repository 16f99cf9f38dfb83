// Amounts typed into fields beside the sheets, by the rules of the sheets: in the unit that is shown, or with another one.

import { scaleOfUnit } from "../../core/units/shown";
import { readTypedNumber } from "../../core/units/typed-number";
import { shownUnit } from "./display";
import { editableNumber } from "./format";
import type { Session } from "./session";

/** What a field is for. */
export interface TypedAmountRules {
  /** The unit its numbers are kept in; none for a count. */
  readonly unit: string;
  readonly isPercent?: boolean;
  /** The smallest it takes. */
  readonly least?: number;
  /** What is kept now, so that typing what is shown changes nothing. */
  readonly held?: number | undefined;
}

/** What was typed: the number to keep, NaN where there is none, and what is to be said of it. */
export interface TypedAmount {
  readonly value: number;
  readonly message?: string;
}

/** Reads what was typed into a field. */
export function readAmount(session: Session, field: TypedAmountRules, typed: string): TypedAmount {
  const { unit, isPercent = false, least, held } = field;
  const { meta } = session.book.value;
  const read = readTypedNumber(typed.trim(), session.marks, { unit, isPercent, held, meta });
  switch (read.kind) {
    case "number":
      if (least !== undefined && read.value < least)
        return { value: Number.NaN, message: `“${typed}” is too little: it takes ${least} or more.` };
      return { value: read.value, ...(read.message === undefined ? {} : { message: read.message }) };
    case "ambiguous":
      return {
        value: Number.NaN,
        message: `“${typed}” can mean two things: leave the thousands mark out, so that it can mean only one.`,
      };
    case "wrong unit":
      return { value: Number.NaN, message: `“${typed}” can't be read in ${shownUnit(session, unit)}. ${read.fix}` };
    case "no number":
      return {
        value: Number.NaN,
        message: typed.trim() === "" ? "" : [`“${typed}” is no number.`, read.fix ?? ""].join(" ").trim(),
      };
  }
}

/** A kept amount as it would be typed. */
export function amountText(session: Session, { unit, isPercent = false }: TypedAmountRules, kept: number): string {
  const scale = isPercent ? undefined : scaleOfUnit(unit, session.book.value.meta);
  const spec = { kind: "input", type: "number", format: isPercent ? "percent" : "plain" } as const;
  return editableNumber(scale?.toShown(kept) ?? kept, spec, session.formats.locale);
}

/** What a field is called, with its unit. */
export function amountTitle(session: Session, title: string, { unit, isPercent = false }: TypedAmountRules): string {
  const shown = isPercent ? "%" : shownUnit(session, unit);
  return shown === "" ? title : `${title}, ${shown}`;
}
