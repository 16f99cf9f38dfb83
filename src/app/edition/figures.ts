// The key figures that are always in sight, and the river: the edition as a stream through its steps.
import { rowLabel } from "../../core/document/access";
import type { SheetKey } from "../../core/document/workbook";
import { scaleOfUnit } from "../../core/units/shown";
import { isCellError, type Value } from "../../engine/values";
import { currencySymbol, showNumber } from "./format";
import type { Session } from "./session";

export interface Figure {
  readonly id: string;
  readonly title: string;
  readonly text: string;
  /** Where it is derived. */
  readonly sheet: SheetKey;
  readonly row: string;
}

/** The figures of an edition, each with the line it comes from. */
export function figuresOf(session: Session): readonly Figure[] {
  const wanted = show(session, session.result("wanted", "edition"), "whole");
  const confidence = show(session, session.result("confidence", "edition"), "percent");
  const results: [string, string, string, "money" | "whole" | "percent" | number, SheetKey][] = [
    ["starts", `Start, to deliver ${wanted} at ${confidence}`, "pieces", "whole", "edition"],
    ["per_good", "Cost of a good piece", "¤", "money", "results"],
    ["own_lost", "Losses so far", "¤", "money", "results"],
    ["lustre", "Lustre used", "g", 2, "results"],
    ["kwh", "Kiln energy", "kWh", 0, "results"],
    ["put_in", "Put in so far", "¤", "money", "results"],
    ["pays", "Edition pays", "¤", "money", "results"],
  ];
  return results.map(([row, title, unit, format, sheet]) => {
    const value = session.result(row, sheet === "edition" ? "edition" : "results");
    const scale = scaleOfUnit(unit, session.book.value.meta);
    const shown = scale && typeof value === "number" ? scale.toShown(value) : value;
    const places = scale && typeof format === "number" ? Math.max(0, format + scale.moreDigits) : format;
    const text = withUnit(session, show(session, shown, places), scale?.unit ?? unit, value);
    return { id: row, title, sheet, row, text };
  });
}

function show(session: Session, value: Value | undefined, format: "money" | "whole" | "percent" | number): string {
  if (value === undefined) return "…";
  if (isCellError(value)) return value.trouble;
  if (typeof value !== "number") return "–";
  const { locale } = session.formats;
  if (format === "money") return showNumber(value, session.digits, session.digits, locale);
  if (format === "percent") return `${showNumber(value * 100, 0, 1, locale)}\u202f%`;
  const digits = format === "whole" ? 0 : format;
  return showNumber(value, digits, digits, locale);
}

function withUnit(session: Session, text: string, unit: string, value: Value | undefined): string {
  if (typeof value !== "number") return text;
  return unit === "¤" ? `${currencySymbol(session.formats)}\u00a0${text}` : `${text}\u00a0${unit}`;
}

/** One stretch of the river. */
export interface Stretch {
  readonly step: string;
  readonly title: string;
  readonly had: number;
  readonly lost: number;
  readonly lostCost: string;
  readonly waiting: number;
}

/** The river: for every step how many pieces have had it, how many wait for it and what was lost there. */
export function riverOf(session: Session, waitingFor: (step: string) => number): readonly Stretch[] {
  return session.book.value.sheets.route.rows.map((row) => {
    const read = (column: string) => session.value({ sheet: "route", row: row.id, column });
    const number = (column: string) => {
      const value = read(column);
      return typeof value === "number" ? value : 0;
    };
    return {
      step: row.id,
      title: rowLabel("route", row),
      had: number("done"),
      lost: number("lost"),
      lostCost: withUnit(session, show(session, read("lost_cost"), 0), "¤", read("lost_cost")),
      waiting: waitingFor(row.id),
    };
  });
}
