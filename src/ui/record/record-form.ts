// What is filled in on the Record page, and the recording it asks for.

import { shownAmount } from "../../app/edition/display";
import type { Session } from "../../app/edition/session";
import { readAmount, type TypedAmountRules } from "../../app/edition/typed-amount";
import type { Asked, WaitingGroup } from "../../app/record/record";
import { columnOf, rowOf } from "../../core/document/access";
import type { Row, Workbook } from "../../core/document/workbook";
import type { FiringWish } from "../../core/record/firing-wish";
import { stepsTaking } from "../../core/record/record-edits";
import { AMOUNTS, isAmount, isFiringStep } from "../../core/sheets/step-kinds";
import { type ExtraStep, repeatOf } from "../../core/steps/extra-steps";
import { doneColumnOf, isStepFor, lastStepHad, stepTitle, usualAmount } from "../../core/steps/piece-steps";

/** The things that can be recorded, in the order in which they stand on the page. */
export const ACTS = [
  ["done", "Done up to a step"],
  // What comes late on the route is recorded most often.
  ...AMOUNTS.map(({ column, title }) => [column, title] as const).reverse(),
  ["firing", "Into a firing"],
  ["lost", "Lost here"],
  ["not lost", "Not lost after all"],
  ["passed", "Passed"],
  ["tier", "Tier"],
  ["note", "Note"],
  ["extra", "Refire or add a step"],
] as const;
export type Act = (typeof ACTS)[number][0];

export interface BenchForm {
  readonly act: Act;
  readonly step: string;
  readonly amount: string;
  /** Whether the amount is that of all chosen pieces together. */
  readonly isTogether: boolean;
  /** Whether it was measured by the bench timer, which is put away once it is recorded. */
  readonly isTimed: boolean;
  readonly firings: Readonly<Record<string, FiringWish>>;
  readonly reason: string;
  readonly grade: "good" | "second" | "";
  /** A price of their own, as prices are typed; blank for that of their tier. */
  readonly price: string;
  readonly tier: "standard" | "special";
  readonly note: string;
  /** Steps to be had once more. */
  readonly again: readonly string[];
  readonly amounts: Readonly<Record<string, string>>;
}

export const BLANK_FORM: BenchForm = {
  act: "done",
  step: "",
  amount: "",
  isTogether: false,
  isTimed: false,
  firings: {},
  reason: "",
  grade: "good",
  price: "",
  tier: "special",
  note: "",
  again: [],
  amounts: {},
};

/** Steps at which an act can be done. */
export function stepsForAct(book: Workbook, act: Act): readonly Row[] {
  const { rows } = book.sheets.route;
  if (isAmount(act)) return stepsTaking(book, act);
  if (act === "firing") return rows.filter(isFiringStep);
  return act === "done" || act === "lost" ? rows : [];
}

/** The step that most of the chosen pieces wait for, among those that fit; what was lost was lost at the step had last. */
export function likelyStep(
  book: Workbook,
  act: Act,
  chosen: readonly string[],
  groups: readonly WaitingGroup[],
): string {
  const fits = stepsForAct(book, act);
  const wanted = new Set(chosen);
  const votes = new Map<string, number>();
  const vote = (step: string, count: number) => votes.set(step, (votes.get(step) ?? 0) + count);
  if (act === "lost")
    for (const id of chosen) {
      const piece = rowOf(book, "pieces", id);
      const step = piece && book.sheets.route.rows[lastStepHad(book, piece)];
      if (step) vote(step.id, 1);
    }
  else for (const { step, pieces } of groups) if (step) vote(step, pieces.filter((id) => wanted.has(id)).length);
  const best = [...votes].filter(([id, count]) => count > 0 && fits.some((row) => row.id === id));
  return best.sort((a, b) => b[1] - a[1])[0]?.[0] ?? fits[0]?.id ?? "";
}

/** Firing steps that some of the pieces lack on their way to a step. */
export function firingsOnTheWay(book: Workbook, chosen: readonly string[], step: string): readonly Row[] {
  const { rows } = book.sheets.route;
  const until = rows.slice(0, rows.findIndex((row) => row.id === step) + 1);
  const pieces = chosen
    .flatMap((id) => rowOf(book, "pieces", id) ?? [])
    .filter(({ cells }) => cells.lost_at === undefined);
  return until.filter(
    (row) =>
      isFiringStep(row) &&
      pieces.some(
        (piece) => piece.cells[`${row.id}.firing`] === undefined && (row.id === step || isStepFor(row, piece)),
      ),
  );
}

/** The field in which the amount of a step is typed. */
export function amountField(book: Workbook, step: string): TypedAmountRules {
  const row = rowOf(book, "route", step);
  const column = columnOf(book, "pieces", (row && doneColumnOf(row)) ?? "");
  return { unit: column?.unit ?? "" };
}

function usualOf(book: Workbook, step: string): number | undefined {
  const row = rowOf(book, "route", step);
  const usual = row && usualAmount(row);
  return typeof usual === "number" ? usual : undefined;
}

/** The usual amount of a step with its unit, as it stands in the field before anything is typed. */
export function usualText(session: Session, step: string): string {
  const book = session.book.value;
  const usual = usualOf(book, step);
  return usual !== undefined ? shownAmount(session, usual, amountField(book, step).unit, 1, 0) : "";
}

function typedAmount(session: Session, step: string, typed: string): number {
  const book = session.book.value;
  if (typed.trim() === "") return usualOf(book, step) ?? Number.NaN;
  return readAmount(session, amountField(book, step), typed).value;
}

/** Whether a firing is what is recorded, so that one is needed: a new one stands there until another is chosen. */
export function needsFiring(book: Workbook, form: BenchForm, step: string): boolean {
  const isAsked = form.act === "firing" || form.act === "done";
  const row = rowOf(book, "route", step);
  return isAsked && row !== undefined && isFiringStep(row) && form.firings[step] === undefined;
}

/** The recording that a form asks for; undefined while something is not chosen yet. */
export function askedOf(session: Session, form: BenchForm, step: string): Asked | undefined {
  const { act } = form;
  if (isAmount(act)) {
    const isTogether = form.isTogether && act === "minutes" && form.amount.trim() !== "";
    return { kind: act, step, amount: typedAmount(session, step, form.amount), ...(isTogether ? { isTogether } : {}) };
  }
  switch (act) {
    case "done":
      return { kind: act, step, firings: form.firings };
    case "firing": {
      const firing = form.firings[step];
      return firing && { kind: act, step, firing };
    }
    case "lost":
      return { kind: act, step, reason: form.reason };
    case "not lost":
      return { kind: act };
    case "passed":
      return passedAsked(session, form);
    case "tier":
      return { kind: act, tier: form.tier };
    case "note":
      return form.note.trim() === "" ? undefined : { kind: act, note: form.note };
    case "extra":
      return extraAsked(session, form);
  }
}

/** The field for a price of a piece's own. */
export const OWN_PRICE = { unit: "¤", least: 0 } as const;

/** The price of their own that was typed; NaN where it can't be read. */
export function ownPriceOf(session: Session, form: BenchForm): number | undefined {
  return form.price.trim() === "" ? undefined : readAmount(session, OWN_PRICE, form.price).value;
}

function passedAsked(session: Session, form: BenchForm): Asked {
  if (form.grade === "") return { kind: "passed", grade: undefined };
  const price = ownPriceOf(session, form);
  return { kind: "passed", grade: form.grade, ...(price === undefined ? {} : { price }) };
}

function extraAsked(session: Session, form: BenchForm): Asked | undefined {
  const book = session.book.value;
  const steps = book.sheets.route.rows
    .filter((row) => form.again.includes(row.id))
    .flatMap((row): ExtraStep[] => {
      const step = repeatOf(book, row.id);
      const typed = form.amounts[row.id] ?? "";
      const firing = form.firings[row.id];
      if (!step) return [];
      const isFiring = isFiringStep(row);
      const amount = typed === "" || isFiring ? {} : { amount: typedAmount(session, row.id, typed) };
      return [{ ...step, ...amount, ...(firing && isFiring ? { firing } : {}) }];
    });
  if (steps.length === 0) return undefined;
  const title = `Once more: ${form.again.map((id) => stepTitle(book, id)).join(", ")}`.slice(0, 120);
  return { kind: "extra", title, steps };
}
