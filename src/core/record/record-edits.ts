// Recording at the bench: one thing is done to many pieces at once, said beforehand in words, and written down in the
// run log by the same change. Nothing is refused in silence: who is left out is named with the reason, and what is out
// of order is warned of and may be done all the same.
import { listed } from "../counted";
import { columnOf, rowOf, specOf } from "../document/access";
import { applyChange, type Change, isEmptyChange } from "../document/change";
import { allowedFor, isAllowed } from "../document/entry";
import type { Row, Workbook } from "../document/workbook";
import { fail, ok, type Problem, problem, type Result } from "../problem";
import type { AmountColumn, AmountRules } from "../sheets/kinds/kind";
import { amountOf, isAmount, isFiringStep, rulesOf } from "../sheets/step-kinds";
import { doneColumnOf, hasHad, isStepFor, stepsLacking, stepTitle, usualAmount } from "../steps/piece-steps";
import { scaleOfUnit } from "../units/shown";
import { namePieces } from "./choose-pieces";
import { pricesOf } from "./day-prices";
import { daysOf } from "./days";
import { type FiringsWished, type FiringWish, grantFirings } from "./firing-wish";
import { type PassedRecording, planPassed } from "./passed-edits";
import { PlanDraft, type RecordPlan } from "./record-plan";
import { logged } from "./run-log";
import { goneAlready } from "./sale-edits";

/** What is recorded of the chosen pieces. */
export type Recording =
  | {
      readonly kind: "done";
      readonly step: string;
      /** Into which firing at each firing step; steps not named stay blank. */
      readonly firings: Readonly<Record<string, FiringWish>>;
    }
  | {
      readonly kind: AmountColumn;
      readonly step: string;
      readonly amount: number;
      /** Whether it is that of all pieces together, to be shared evenly by those that take part. */
      readonly isTogether?: boolean;
    }
  | { readonly kind: "firing"; readonly step: string; readonly firing: FiringWish }
  | { readonly kind: "lost"; readonly step: string; readonly reason: string }
  | { readonly kind: "not lost" }
  | PassedRecording
  | { readonly kind: "tier"; readonly tier: "standard" | "special" }
  | { readonly kind: "note"; readonly note: string };

/** What a recording would do, or the problems that stand in its way. */
export function planRecord(book: Workbook, ids: readonly string[], recording: Recording): Result<RecordPlan> {
  const pieces = ids.flatMap((id) => rowOf(book, "pieces", id) ?? []);
  if (isAmountGiven(recording)) return planAmount(book, pieces, recording);
  switch (recording.kind) {
    case "done":
      return planDone(book, pieces, recording);
    case "firing":
      return planFiring(book, pieces, recording);
    case "lost":
      return planLost(book, pieces, recording);
    case "not lost":
      return ok(planNotLost(book, pieces));
    case "passed":
      return planPassed(book, pieces, recording);
    case "tier":
      return ok(planTier(book, pieces, recording.tier));
    case "note":
      return planNote(book, pieces, recording.note);
  }
}

/** The change that records a plan on a day and at its prices, with its line in the run log; empty where no piece takes part. */
export function recordChange(book: Workbook, plan: RecordPlan, at: string, note = "", day = at.slice(0, 10)): Change {
  const { act, label, takes } = plan;
  if (plan.operations.length === 0) return { label, operations: [] };
  const operations = [
    ...plan.operations,
    ...pricesOf(book, plan.operations, day),
    ...daysOf(book, plan.operations, day),
  ];
  return logged(book, { act, label, pieces: takes, operations, at, note });
}

/** Records at once, for what is built by the same edits as a maker's own; nothing where no piece takes part. */
export function record(book: Workbook, ids: readonly string[], recording: Recording, at: string): Result<Workbook> {
  const plan = planRecord(book, ids, recording);
  if (!plan.ok) return plan;
  const change = recordChange(book, plan.value, at);
  return ok(isEmptyChange(change) ? book : applyChange(book, change));
}

/** Whether a piece was gone before a step; said where it was. */
function goneBefore(book: Workbook, piece: Row, step: string): string | undefined {
  const lostAt = piece.cells.lost_at;
  if (typeof lostAt !== "string") return undefined;
  const order = (id: string) => book.sheets.route.rows.findIndex((row) => row.id === id);
  return order(lostAt) < order(step) ? `lost at ${stepTitle(book, lostAt)}` : undefined;
}

function warnOfOrder(book: Workbook, draft: PlanDraft, piece: Row, step: string): void {
  const lacking = stepsLacking(book, piece, step).map((row) => stepTitle(book, row.id));
  if (lacking.length > 0) draft.warn(piece, `out of order: has not had ${listed(lacking)} yet`);
  if (piece.cells.grade !== undefined) draft.warn(piece, `passed as ${piece.cells.grade} already`);
}

/** One firing entered at two steps of a piece is a slip, unless both were done in it: it is asked about. */
function warnOfTwice(book: Workbook, draft: PlanDraft, piece: Row, entered: ReadonlyMap<string, string>): void {
  const steps = book.sheets.route.rows.filter(isFiringStep);
  const nameAt = (step: Row) => entered.get(step.id) ?? piece.cells[`${step.id}.firing`];
  for (const step of steps) {
    const name = entered.get(step.id);
    const others = steps.filter((other) => other !== step && name !== undefined && nameAt(other) === name);
    if (others.length === 0) continue;
    const titles = listed(others.map(({ cells }) => String(cells.title)));
    draft.warn(piece, `would be in ${name} twice, at ${step.cells.title} and at ${titles}: is that so?`);
    return;
  }
}

type Done = Extract<Recording, { kind: "done" }>;

function planDone(book: Workbook, pieces: readonly Row[], { step, firings }: Done): Result<RecordPlan> {
  const target = rowOf(book, "route", step);
  if (!target) return fail(noStep(step));
  const route = book.sheets.route.rows.slice(0, book.sheets.route.rows.indexOf(target) + 1);
  const wishes = route.flatMap((row) => {
    const wish = firings[row.id];
    return wish ? [[row.id, wish] as const] : [];
  });
  const granted = grantFirings(book, wishes);
  if (!granted.ok) return granted;
  const draft = new PlanDraft(book);
  for (const piece of pieces) {
    if (piece.cells.lost_at !== undefined)
      draft.leave(piece, `lost at ${stepTitle(book, String(piece.cells.lost_at))}`);
    else if (target.cells.who === "special" && !isStepFor(target, piece))
      draft.leave(piece, `${stepTitle(book, step)} is for special pieces`);
    else fillUpTo(book, draft, piece, target, granted.value.nameOf);
  }
  const label = (ids: readonly string[]) => `Done up to ${stepTitle(book, step)}: ${namePieces(book, ids)}`;
  return ok(draft.finish("done", label, usedFirings(draft, granted.value)));
}

/** Fills every step up to the target that is for the piece and blank; firings only where one was chosen. */
function fillUpTo(
  book: Workbook,
  draft: PlanDraft,
  piece: Row,
  target: Row,
  firingAt: ReadonlyMap<string, string>,
): void {
  const { rows } = book.sheets.route;
  const route = rows.slice(0, rows.indexOf(target) + 1);
  const missing = route.filter((row) => (row === target || isStepFor(row, piece)) && !hasHad(piece, row));
  if (missing.length === 0) {
    draft.leave(piece, "done already");
    return;
  }
  const before = draft.operations.length;
  const blank: string[] = [];
  for (const row of missing) {
    const column = doneColumnOf(row);
    const is = isFiringStep(row) ? firingAt.get(row.id) : usualAmount(row);
    if (column !== undefined && is !== undefined) draft.put(piece, column, is);
    else
      blank.push(`${row.cells.title}: ${isFiringStep(row) ? "no firing is chosen" : "the Route gives nothing usual"}`);
  }
  if (draft.operations.length === before) {
    draft.leave(piece, `nothing to fill in. ${blank.join("; ")}`);
    return;
  }
  const entered = new Map(
    missing.flatMap((row) => {
      const name = firingAt.get(row.id);
      return isFiringStep(row) && name !== undefined ? [[row.id, name] as const] : [];
    }),
  );
  warnOfTwice(book, draft, piece, entered);
  for (const what of blank) draft.warn(piece, `stays blank. ${what}`);
  if (piece.cells.grade !== undefined) draft.warn(piece, `passed as ${piece.cells.grade} already`);
}

/** New firings that a piece really goes into; an empty one is not made. */
function usedFirings(draft: PlanDraft, granted: FiringsWished) {
  const used = new Set(draft.operations.map((operation) => (operation.kind === "cell" ? operation.is : undefined)));
  return granted.operations.filter(
    (operation) => operation.kind === "add rows" && operation.rows.some((row) => used.has(row.cells.id)),
  );
}

/** The steps at which an amount of a sort can be entered. */
export function stepsTaking(book: Workbook, act: AmountColumn): readonly Row[] {
  return book.sheets.route.rows.filter((row) => takenAt(row)?.column === act);
}

/** The amount that is entered at a step of the route. */
function takenAt(step: Row): AmountRules | undefined {
  const rules = rulesOf(step);
  return rules && amountOf(rules);
}

type Amount = Extract<Recording, { kind: AmountColumn }>;
const isAmountGiven = (recording: Recording): recording is Amount => isAmount(recording.kind);

function planAmount(
  book: Workbook,
  pieces: readonly Row[],
  { kind, step, amount: given, isTogether }: Amount,
): Result<RecordPlan> {
  const key = `${step}.${kind}`;
  const column = columnOf(book, "pieces", key);
  const row = rowOf(book, "route", step);
  const taken = row && takenAt(row);
  if (!column || taken?.column !== kind) return fail(noStep(step));
  const scale = scaleOfUnit(column.unit, book.meta);
  const sharers = isTogether ? pieces.filter((piece) => whyNotAt(book, piece, step) === undefined).length : 1;
  // Four figures can be read, and are nearer than any stopwatch.
  const amount = sharers > 1 ? Number((given / sharers).toPrecision(4)) : given;
  if (!isAllowed(book, specOf(column, { id: "", cells: {} }), amount))
    return fail(
      problem({
        code: "record.amount",
        where: `${stepTitle(book, step)}, ${column.title}`,
        found: Number.isNaN(amount) ? "" : amount,
        allowed: allowedFor(book, column, scale),
      }),
    );
  const draft = new PlanDraft(book);
  eachAtStep(book, draft, pieces, step, (piece) => draft.put(piece, key, amount));
  const shown = scale ? Number(scale.toShown(amount).toPrecision(6)) : amount;
  const each = taken.inWords(String(shown), scale?.unit ?? column.unit);
  const what = sharers > 1 ? `${taken.inWords(String(given), column.unit)} shared, ${each} each` : each;
  return ok(draft.finish(kind, (ids) => `${stepTitle(book, step)}, ${what}: ${namePieces(book, ids)}`));
}

/** Why a piece can't have anything done to it at a step; undefined where it can. */
function whyNotAt(book: Workbook, piece: Row, step: string): string | undefined {
  const row = rowOf(book, "route", step);
  const isOthers = row?.cells.who === "special" && !isStepFor(row, piece);
  return goneBefore(book, piece, step) ?? (isOthers ? `${stepTitle(book, step)} is for special pieces` : undefined);
}

/** Does something at a step to each piece that can have it; the others are left out with the reason. */
function eachAtStep(
  book: Workbook,
  draft: PlanDraft,
  pieces: readonly Row[],
  step: string,
  put: (piece: Row) => boolean,
): void {
  for (const piece of pieces) {
    const why = whyNotAt(book, piece, step);
    if (why) draft.leave(piece, why);
    else if (put(piece)) warnOfOrder(book, draft, piece, step);
    else draft.leave(piece, "so already");
  }
}

type IntoFiring = Extract<Recording, { kind: "firing" }>;

function planFiring(book: Workbook, pieces: readonly Row[], { step, firing }: IntoFiring): Result<RecordPlan> {
  const at = rowOf(book, "route", step);
  if (!at || !isFiringStep(at)) return fail(noStep(step));
  const granted = grantFirings(book, [[step, firing]]);
  if (!granted.ok) return granted;
  const name = granted.value.nameOf.get(step) ?? "";
  const key = `${step}.firing`;
  const draft = new PlanDraft(book);
  eachAtStep(book, draft, pieces, step, (piece) => {
    const was = piece.cells[key];
    const isPut = draft.put(piece, key, name);
    if (isPut) warnOfTwice(book, draft, piece, new Map([[step, name]]));
    if (isPut && was !== undefined) draft.warn(piece, `leaves firing ${typeof was === "object" ? was.f : was}`);
    return isPut;
  });
  const how = firing.kind === "new" ? "New firing" : "Into firing";
  return ok(
    draft.finish("firing", (ids) => `${how} ${name}: ${namePieces(book, ids)}`, usedFirings(draft, granted.value)),
  );
}

type Lost = Extract<Recording, { kind: "lost" }>;

function planLost(book: Workbook, pieces: readonly Row[], { step, reason }: Lost): Result<RecordPlan> {
  if (!rowOf(book, "route", step)) return fail(noStep(step));
  const why = reason.trim();
  if (why.length > 300)
    return fail(problem({ code: "record.reason", where: "Why", found: why, allowed: "up to 300 characters" }));
  const draft = new PlanDraft(book);
  for (const piece of pieces) {
    const gone = goneAlready(piece);
    if (gone) {
      draft.leave(piece, gone);
      continue;
    }
    const was = piece.cells.lost_at;
    const isMoved = draft.put(piece, "lost_at", step);
    const isNamed = why !== "" && draft.put(piece, "reason", why);
    if (!isMoved && !isNamed) {
      draft.leave(piece, "lost there already");
      continue;
    }
    if (typeof was === "string" && isMoved) draft.warn(piece, `was lost at ${stepTitle(book, was)} until now`);
    if (piece.cells.grade !== undefined) {
      draft.warn(piece, `passed as ${piece.cells.grade} already; that is taken away`);
      draft.put(piece, "grade", undefined);
    }
    if (isMoved) warnOfLoss(book, draft, piece, step);
  }
  return ok(draft.finish("lost", (ids) => `Lost at ${stepTitle(book, step)}: ${namePieces(book, ids)}`));
}

function warnOfLoss(book: Workbook, draft: PlanDraft, piece: Row, step: string): void {
  const { rows } = book.sheets.route;
  const at = rows.findIndex((row) => row.id === step);
  const later = rows.slice(at + 1).filter((row) => hasHad(piece, row));
  const row = rows[at];
  if (later.length > 0)
    draft.warn(
      piece,
      `has had later steps, and no longer bears them: ${listed(later.map(({ cells }) => String(cells.title)))}`,
    );
  const lacking = stepsLacking(book, piece, step).map(({ cells }) => cells.title);
  if (lacking.length > 0) draft.warn(piece, `out of order: has not had ${listed(lacking.map(String))} yet`);
  if (row && isFiringStep(row) && !hasHad(piece, row))
    draft.warn(piece, `is in no firing at ${row.cells.title}, and bears none of it; put it in first if it was there`);
}

function planNotLost(book: Workbook, pieces: readonly Row[]): RecordPlan {
  const draft = new PlanDraft(book);
  for (const piece of pieces) {
    if (!draft.put(piece, "lost_at", undefined)) draft.leave(piece, "not lost");
    else draft.put(piece, "reason", undefined);
  }
  return draft.finish("not lost", (ids) => `Not lost: ${namePieces(book, ids)}`);
}

function planTier(book: Workbook, pieces: readonly Row[], tier: "standard" | "special"): RecordPlan {
  const draft = new PlanDraft(book);
  for (const piece of pieces) if (!draft.put(piece, "tier", tier)) draft.leave(piece, `${tier} already`);
  return draft.finish("tier", (ids) => `Tier ${tier}: ${namePieces(book, ids)}`);
}

function planNote(book: Workbook, pieces: readonly Row[], note: string): Result<RecordPlan> {
  const text = note.trim();
  if (text === "" || text.length > 500)
    return fail(problem({ code: "record.note", where: "Note", found: text, allowed: "1 to 500 characters" }));
  const draft = new PlanDraft(book);
  for (const piece of pieces) {
    const was = typeof piece.cells.note === "string" ? piece.cells.note : "";
    if (was === text || was.endsWith(`; ${text}`)) draft.leave(piece, "noted already");
    // What was noted before is kept.
    else draft.put(piece, "note", was === "" ? text : `${was}; ${text}`);
  }
  return ok(draft.finish("note", (ids) => `Note: ${namePieces(book, ids)}`));
}

function noStep(step: string): Problem {
  return problem({
    code: "record.step",
    where: "Recorded step",
    found: step,
    allowed: "a step of the route that takes this",
  });
}
