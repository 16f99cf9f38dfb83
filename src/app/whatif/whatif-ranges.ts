// Between what an input may lie: as the maker says, as the counts of losses say, or a tenth either way.
import { wilson } from "../../ceramics/intervals";
import type { CellName } from "../../core/document/access";
import { sameCell } from "../../whatif/run/case-matrix";
import type { Session } from "../edition/session";
import type { AskCell } from "./whatif-cells";

export interface PlausibleRange {
  readonly low: number;
  readonly high: number;
  /** The maker's own, from the counts of this step, or a tenth either way. */
  readonly from: "given" | "counts" | "usual";
}

/** What stands in a cell today; NaN where that is no number. */
export function numberToday(session: Session, cell: CellName): number {
  const value = session.value(cell);
  return typeof value === "number" ? value : Number.NaN;
}

/** Between what an input plausibly lies. */
export function plausibleRange(session: Session, of: AskCell): PlausibleRange {
  const given = session.book.value.lists.ranges.find((range) => sameCell(range, of.cell));
  if (given) return { low: given.low, high: given.high, from: "given" };
  const counted =
    of.cell.sheet === "route" && of.cell.column === "loss" ? countedLoss(session, of.cell.row) : undefined;
  // To a hundredth of a percent: finer than any count can tell.
  const rounded = (share: number) => Math.round(share * 10_000) / 10_000;
  if (counted) return { ...within(of, rounded(counted.low), Math.min(rounded(counted.high), 0.999)), from: "counts" };
  const today = numberToday(session, of.cell);
  const tenth = Math.abs(today) * 0.1;
  const halfWidth = of.isWhole ? Math.max(1, Math.round(tenth)) : tenth;
  if (!(halfWidth > 0)) return { ...within(of, 0, of.spec.format === "percent" ? 0.05 : 1), from: "usual" };
  return { ...within(of, today - halfWidth, today + halfWidth), from: "usual" };
}

/** Wilson's 95 % interval behind the counts of a step, this edition's and earlier ones. */
function countedLoss(session: Session, step: string) {
  const entered = numberToday(session, { sheet: "route", row: step, column: "known_entered" });
  const lost = numberToday(session, { sheet: "route", row: step, column: "known_lost" });
  if (!(entered > 0)) return undefined;
  const interval = wilson(lost, entered, 0.95);
  return interval.ok ? interval.value : undefined;
}

/** A wide range to sweep: all that may be, around what is. */
export function sweepRange(session: Session, of: AskCell): { readonly low: number; readonly high: number } {
  const today = numberToday(session, of.cell);
  const plausible = plausibleRange(session, of);
  if (of.cell.column === "loss") return within(of, 0, roundUp(Math.max(0.2, 2 * (today || 0), plausible.high), 0.05));
  if (of.spec.format === "percent" && !(Math.abs(today) > 0)) return within(of, 0, 0.2);
  if (!(Math.abs(today) > 0)) return within(of, 0, Math.max(1, plausible.high));
  // A price is looked at down to where nothing is left of it.
  const least = of.cell.sheet === "edition" && of.cell.row.startsWith("price_") ? 0.2 : 0.5;
  const [low, high] = [Math.min(today * least, plausible.low), Math.max(today * 1.5, plausible.high)];
  const step = niceStep(Math.abs(high - low) / 20);
  return within(of, Math.floor(low / step) * step, roundUp(high, step));
}

function roundUp(value: number, step: number): number {
  return Number((Math.ceil(value / step - 1e-9) * step).toPrecision(12));
}

/** Keeps a range within what the cell takes. */
export function within({ spec, isWhole }: AskCell, low: number, high: number) {
  const least = spec.min ?? Number.NEGATIVE_INFINITY;
  // A loss of everything leaves no plan: a range stops short of what the cell does not take.
  const most = Math.min(
    spec.max ?? Number.POSITIVE_INFINITY,
    spec.below === undefined ? Number.POSITIVE_INFINITY : spec.below * 0.999,
  );
  const clip = (value: number) => Math.min(most, Math.max(least, value));
  const tidy = (value: number) => (isWhole ? Math.round(value) : Number(value.toPrecision(12)));
  return { low: tidy(clip(low)), high: tidy(clip(high)) };
}

/** 1, 2 or 5 times a power of ten, at most this much. */
export function niceStep(most: number): number {
  const power = 10 ** Math.floor(Math.log10(most));
  const factor = [5, 2, 1].find((one) => one * power <= most * (1 + 1e-9)) ?? 1;
  return Number((factor * power).toPrecision(6));
}

/** The step of a slider over a range: fine enough to follow a finger, coarse enough to give round numbers. */
export function sliderStep({ isWhole, scale }: AskCell, low: number, high: number): number {
  if (scale) return (high - low) / 200;
  const step = niceStep(Math.max(high - low, 1e-9) / 100);
  return isWhole ? Math.max(1, Math.round(step)) : step;
}
