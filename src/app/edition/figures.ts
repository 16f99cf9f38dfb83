// The key figures that are always in sight, and the river: the edition as a stream through its steps.
import { rowLabel } from "../../core/document/access";
import type { SheetKey } from "../../core/document/workbook";
import { heldPlan } from "../../core/record/kept-plan";
import { scaleOfUnit } from "../../core/units/shown";
import { isCellError, type Value } from "../../engine/values";
import { showNumber } from "./format";
import { withCurrency } from "./money-text";
import type { Session } from "./session";
import { dayText } from "./written-days";

export interface Figure {
  readonly id: string;
  readonly title: string;
  readonly text: string;
  /** What the plan says of the same. */
  readonly plan?: string;
  /** Which plan that is. */
  readonly planWords?: string;
  /** An amount of money below nothing. */
  readonly isMinus: boolean;
  /** Where it is derived. */
  readonly sheet: SheetKey;
  readonly row: string;
}

/** Where an edition stands: nothing begun, under way, or every piece passed or lost. */
export type Phase = "before" | "during" | "after";

/** The phase of an edition; “during” while that is not known yet. */
export function phaseOf(session: Session): Phase {
  const bare = session.result("not_started");
  if (bare === session.book.value.sheets.pieces.rows.length) return "before";
  return bare === 0 && session.result("in_progress") === 0 ? "after" : "during";
}

type Format = "money" | "whole" | "percent" | number;
type Line = readonly [row: string, title: string, unit: string, format: Format, sheet: SheetKey, plan?: string];

const PLANNED: readonly Line[] = [
  ["plan_standard", "A piece is to cost", "¤", "money", "edition"],
  ["plan_cost", "Planned cost", "¤", "money", "edition"],
  ["plan_pays", "Plan leaves", "¤", "money", "edition"],
];
/** Where there are special pieces too. */
const STANDARD: Line = ["plan_standard", "A standard piece is to cost", "¤", "money", "edition"];
const REAL: readonly Line[] = [
  ["per_good", "Cost of a good piece", "¤", "money", "results", "plan_per_good"],
  ["own_lost", "Losses so far", "¤", "money", "results", "plan_loss"],
  ["lustre", "Lustre used", "g", 2, "results"],
  ["kwh", "Kiln energy", "kWh", 0, "results", "plan_kwh"],
  ["put_in", "Put in so far", "¤", "money", "results", "plan_cost"],
  ["pays", "Once all is sold", "¤", "money", "results", "plan_pays"],
];
/** Once pieces are sold, what they bring in is asked about more than starts and energy. */
const SOLD: readonly Line[] = [
  ["sold", "Sold", "pieces", "whole", "results"],
  ...REAL.slice(0, 3),
  ["earned", "Made so far", "¤", "money", "results"],
  ...REAL.slice(4),
];

/** The figures of an edition in its phase, each with the line it comes from; a run is held against its plan. */
export function figuresOf(session: Session): readonly Figure[] {
  const line = (row: string) =>
    show(session, session.result(row, "edition"), row === "confidence" ? "percent" : "whole");
  const phase = phaseOf(session);
  const starts: Line = [
    "starts",
    `Start, to deliver ${line("wanted")} at ${line("confidence")}`,
    "pieces",
    "whole",
    "edition",
  ];
  const good: Line = ["good", "Good", "pieces", "whole", "results", "wanted"];
  const isAnyFinished = session.result("good") !== 0 || session.result("seconds") !== 0;
  const hasLustre = session.book.value.sheets.materials.rows.some((row) => row.cells.sort === "lustre");
  const isTiered = Number(session.result("special_share", "edition") ?? 0) > 0;
  const lines =
    phase === "before"
      ? [starts, ...PLANNED.map((one) => (isTiered && one[0] === "plan_standard" ? STANDARD : one))]
      : session.result("sold")
        ? SOLD
        : [phase === "after" ? good : starts, ...REAL];
  return lines
    .filter(([row]) => row !== "lustre" || hasLustre)
    .map(([row, title, unit, format, sheet, plan]): Figure => {
      const found = session.result(row, sheet === "edition" ? "edition" : "results");
      // Nothing is left over from pieces of which none is finished; it is no loss either.
      const value = row === "pays" && typeof found === "number" && !isAnyFinished ? "" : found;
      const planned = plan === undefined ? undefined : plannedNumber(session, plan);
      const isMinus = unit === "¤" && typeof value === "number" && value < 0;
      return {
        ...{ id: row, title, sheet, row, isMinus, text: figureText(session, value, unit, format) },
        ...(typeof planned === "number"
          ? { plan: figureText(session, planned, "", format), planWords: planWords(session) }
          : {}),
      };
    });
}

/** A number of the plan that a run is held against: the kept one, or in a run that kept none what the sheets plan now. */
export function plannedNumber(session: Session, line: string): Value | undefined {
  const kept = heldPlan(session.book.value);
  return kept ? kept.lines[line] : session.result(line, "edition");
}

/** Which plan a run is held against. */
function planWords(session: Session): string {
  const kept = heldPlan(session.book.value);
  return kept
    ? `the plan kept on ${dayText(kept.at, session.formats.locale)}`
    : "what the sheets plan today; no plan was kept";
}

function figureText(session: Session, value: Value | undefined, unit: string, format: Format): string {
  const scale = scaleOfUnit(unit, session.book.value.meta);
  const shown = scale && typeof value === "number" ? scale.toShown(value) : value;
  const places = scale && typeof format === "number" ? Math.max(0, format + scale.moreDigits) : format;
  return withUnit(session, show(session, shown, places), scale?.unit ?? unit, value);
}

function show(session: Session, value: Value | undefined, format: Format): string {
  if (value === undefined) return "…";
  if (isCellError(value)) return value.title;
  if (typeof value !== "number") return "–";
  const { locale } = session.formats;
  if (format === "money") return showNumber(value, session.digits, session.digits, locale);
  if (format === "percent") return `${showNumber(value * 100, 0, 1, locale)}\u202f%`;
  const digits = format === "whole" ? 0 : format;
  return showNumber(value, digits, digits, locale);
}

function withUnit(session: Session, text: string, unit: string, value: Value | undefined): string {
  if (typeof value !== "number") return text;
  if (unit === "") return text;
  if (unit === "pieces" && value === 1) return `${text}\u00a0piece`;
  return unit === "¤" ? withCurrency(session.formats, text) : `${text}\u00a0${unit}`;
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
