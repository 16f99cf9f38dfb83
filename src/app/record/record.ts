// Recording in an open edition: who waits for what, what a recording would do, and doing it as one step of the history.

import { counted } from "../../core/counted";
import { rowOf } from "../../core/document/access";
import { applyChange } from "../../core/document/change";
import { editMeta } from "../../core/document/edits";
import type { Workbook } from "../../core/document/workbook";
import { ok, type Problem, problem, type Result } from "../../core/problem";
import { planRecord, type Recording, recordChange } from "../../core/record/record-edits";
import type { PieceNote, RecordPlan } from "../../core/record/record-plan";
import { type TakenBack, takeBack } from "../../core/record/run-log";
import type { SaleAsked } from "../../core/record/sale-edits";
import type { WriteDownAsked } from "../../core/record/write-down-edits";
import { isFiringStep } from "../../core/sheets/step-kinds";
import { type ExtraSteps, planExtraSteps } from "../../core/steps/extra-steps";
import { commit } from "../commands/commands";
import type { Session } from "../edition/session";
import { nextStep } from "../edition/view";
import { dayText } from "../edition/written-days";
import { type FiringLoad, firingLoad, problemsOfLoad } from "../loads/loads";
import { planAskedWriteDown } from "../settle/write-downs";
import { loadNote } from "./load-note";
import { planAskedSale } from "./sales";

/** Pieces that wait for the same thing: a step, or nothing more but to be passed. */
export interface WaitingGroup {
  /** Id of the step; undefined for those that have had everything. */
  readonly step: string | undefined;
  readonly title: string;
  /** The group as it is called: “Waiting for Glaze”. */
  readonly name: string;
  readonly pieces: readonly string[];
  /** Whether nothing that is fired is still to come: looked over, packed and passed, they are finished. */
  readonly isLast: boolean;
}

const READY = { step: undefined, title: "Ready to be passed", name: "Ready to be passed", isLast: true };

/** Pieces in progress by what they wait for, in the order of the route; those ready to be passed come last. */
export function waitingGroups(session: Session): readonly WaitingGroup[] {
  const book = session.book.value;
  const byStep = new Map<string | undefined, string[]>();
  for (const row of book.sheets.pieces.rows) {
    const read = (_: unknown, column: string) => session.value({ sheet: "pieces", row: row.id, column });
    if (row.cells.lost_at !== undefined || row.cells.grade !== undefined) continue;
    const step = nextStep(book, row, read);
    const held = byStep.get(step);
    if (held) held.push(row.id);
    else byStep.set(step, [row.id]);
  }
  const { rows } = book.sheets.route;
  const last = rows.at(-1);
  const steps = rows.map((row) => ({
    step: row.id,
    title: String(row.cells.title),
    name: `Waiting for ${row.cells.title}`,
    isLast: row === last && !isFiringStep(row),
  }));
  return [...steps, READY].flatMap((group) => {
    const pieces = byStep.get(group.step);
    return pieces ? [{ ...group, pieces }] : [];
  });
}

/** What is to be recorded: one of the bench's recordings, steps besides, what became of finished pieces, or a write-down. */
export type Asked = Recording | ExtraSteps | SaleAsked | WriteDownAsked;

const isExtra = (asked: Recording | ExtraSteps): asked is ExtraSteps =>
  asked.kind === "extra" || asked.kind === "rescue";

/** What it would do, and whether the pieces go into the firings they would be in: by count, shelf area, height and levels. */
export function planAsked(session: Session, pieces: readonly string[], asked: Asked): Result<RecordPlan> {
  const book = session.book.value;
  if (asked.kind === "sale") return planAskedSale(session, pieces, asked);
  if (asked.kind === "write-down") return planAskedWriteDown(session, pieces, asked);
  const plan = isExtra(asked) ? planExtraSteps(book, pieces, asked) : planRecord(book, pieces, asked);
  if (!plan.ok || plan.value.operations.length === 0) return plan;
  const { operations, warnings } = plan.value;
  const firings = new Set(
    operations.flatMap((one) => (one.kind === "cell" && one.column.endsWith(".firing") ? [one.is] : [])),
  );
  if (firings.size === 0) return plan;
  const after = applyChange(book, { label: "", operations });
  const loads = [...firings].flatMap((name) =>
    typeof name === "string" ? (firingLoad(session, after, name) ?? []) : [],
  );
  return ok({
    ...plan.value,
    says: [...plan.value.says, ...loads.flatMap((load) => loadNote(session, after, load) ?? [])],
    warnings: [...warnings, ...loads.flatMap((load) => roomNotes(session, load))],
  });
}

/** What is said of a firing whose load does not go into its kiln. */
function roomNotes(session: Session, load: FiringLoad): readonly PieceNote[] {
  const found = problemsOfLoad(session, load);
  const firing = load.row.cells.id;
  const notes = new Map<string, string[]>();
  for (const { piece, problem } of found.refused) {
    const says = `${firing}: ${saysOf(problem)}; the ${found.kiln} takes ${problem.allowed}`;
    notes.set(says, [...(notes.get(says) ?? []), piece]);
  }
  for (const problem of found.together)
    notes.set(`${firing} would hold ${saysOf(problem)}; the ${found.kiln} takes ${problem.allowed}`, []);
  return [...notes].map(([says, pieces]) => ({ says, pieces }));
}

const saysOf = ({ found }: Problem) => found.replace(/^“|”$/g, "");

/** Records it: the cells and the line in the run log in one step. False, and said, where it can't be or does nothing. */
export function recordPieces(session: Session, pieces: readonly string[], asked: Asked, note = ""): boolean {
  const plan = planAsked(session, pieces, asked);
  if (!plan.ok) return commit(session, plan);
  if (plan.value.operations.length > 0)
    return commit(session, ok(recordChange(session.book.value, plan.value, session.now(), note, session.today())));
  const why = plan.value.leftOut.map(({ says, pieces: left }) => `${left.length}: ${says}`).join("; ");
  session.refuse([
    problem({
      code: "record.nobody",
      where: "Record",
      found: why,
      allowed: "pieces to which it can be done",
      fix: "Choose other pieces.",
    }),
  ]);
  return false;
}

/** What taking an entry of the run log back would do. */
export function planTakeBack(session: Session, id: string): Result<TakenBack> {
  return takeBack(session.book.value, id, session.now());
}

/** Takes an entry of the run log back, as one step of the history; what was changed since is left and named. */
export function takeEntryBack(session: Session, id: string): boolean {
  const taken = planTakeBack(session, id);
  if (!taken.ok) {
    session.refuse(taken.problems);
    return false;
  }
  const { change, restored, left } = taken.value;
  const cells = counted(restored, "cell is as it was", "cells are as they were");
  if (!commit(session, ok(change), `${change.label}. ${cells} before.`)) return false;
  if (left.length > 0)
    session.notify("refused", `${left.length} left as they are, because of what came after.`, left.slice(0, 50));
  return true;
}

/** Reasons for a loss that the maker chooses from: their own list, otherwise those given so far. */
export function lossReasons(book: Workbook): readonly string[] {
  const given = book.sheets.pieces.rows.flatMap(({ cells }) =>
    typeof cells.reason === "string" ? [cells.reason] : [],
  );
  return [...new Set([...(book.meta.reasons ?? []), ...(book.meta.reasons ? [] : given)])];
}

/** Adds a reason to the maker's own list. */
export function addReason(session: Session, typed: string): boolean {
  const reason = typed.trim();
  const book = session.book.value;
  const reasons = lossReasons(book);
  if (reason === "" || reason.length > 300 || reasons.length >= 100) {
    session.refuse([
      problem({
        code: "reason.text",
        where: "Reasons",
        found: reason,
        allowed: "up to 100 reasons of 1 to 300 characters",
      }),
    ]);
    return false;
  }
  if (reasons.some((one) => one.toLowerCase() === reason.toLowerCase())) return true;
  return commit(session, ok(editMeta(book, { reasons: [...reasons, reason] }, `Reason: ${reason}`)));
}

/** Takes a reason off the maker's own list; pieces keep what was written on them. */
export function removeReason(session: Session, reason: string): void {
  const book = session.book.value;
  const reasons = lossReasons(book).filter((one) => one !== reason);
  commit(session, ok(editMeta(book, { reasons }, `Reason removed: ${reason}`)));
}

/** The firings that can take pieces, newest first: name, kiln and day. */
export function firingChoices(session: Session): readonly { readonly name: string; readonly title: string }[] {
  return session.book.value.sheets.firings.rows
    .map(({ cells }) => ({
      name: String(cells.id),
      title: [cells.id, cells.kiln, dayText(cells.date, session.formats.locale)]
        .filter((part) => part !== undefined && part !== "")
        .join(" · "),
    }))
    .reverse();
}

/** The kiln a step is fired in, otherwise the first one there is. */
export function kilnOfStep(book: Workbook, step: string): string {
  return String(rowOf(book, "route", step)?.cells.kiln ?? book.sheets.kilns.rows[0]?.cells.id ?? "");
}
