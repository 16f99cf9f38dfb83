// The view that an open edition gives: its values as they are now, written the way its maker reads them.
import { isCellError, type Value } from "../../../engine/values";
import { shownUnit, textInUnit } from "../../edition/display";
import { showNumber } from "../../edition/format";
import type { Session } from "../../edition/session";
import { emptyMemory, type NumberFormat, type View } from "./view";

/** An open edition as explaining reads it, at this moment. */
export function explainViewOf(session: Session): View {
  return {
    book: session.book.value,
    value: (cell) => session.value(cell),
    text: (value, format) => written(session, value, format),
    memory: emptyMemory(),
  };
}

function written(session: Session, value: Value | undefined, format: NumberFormat | undefined): string {
  if (value === undefined) return "…";
  if (value === null || value === "") return "blank";
  if (isCellError(value)) return value.title;
  if (typeof value === "boolean") return value ? "yes" : "no";
  if (!format) return typeof value === "number" ? plainNumber(value, session.formats.locale) : value;
  const text = textInUnit(session, format.spec, format.unit, value);
  const isBare = typeof value !== "number" || format.spec.format === "percent";
  const unit = isBare ? "" : shownUnit(session, format.unit);
  return unit === "" ? text : `${text} ${unit}`;
}

/** A number of which nothing is known: whole, or with five digits that matter. */
function plainNumber(value: number, locale: string): string {
  if (Number.isInteger(value)) return showNumber(value, 0, 0, locale);
  const places = Math.min(12, Math.max(0, 4 - Math.floor(Math.log10(Math.abs(value)))));
  return showNumber(value, 0, places, locale);
}
