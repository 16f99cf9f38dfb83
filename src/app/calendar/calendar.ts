// The work still ahead of an edition as the calendar takes it, and when the studio works. What had to be guessed is said.
import { type ExpectedCount, expectedOf, type PlannedRate } from "../../ceramics/calendar/expected";
import type { CalendarInput } from "../../ceramics/calendar/ready";
import type { WorkAhead } from "../../ceramics/calendar/route-tasks";
import type { Meta } from "../../core/document/workbook";
import { fail, ok, type Result } from "../../core/problem";
import type { Session } from "../edition/session";
import { firingRecords } from "../record/firing-sums";
import { piecesOnSheet, piecesToStart, plannedFirings } from "./calendar-pieces";
import { calendarStep } from "./calendar-steps";

export type StudioCalendar = NonNullable<Meta["calendar"]>;

/** When a studio works until it says otherwise. */
export const USUAL_CALENDAR: StudioCalendar = { hours: [8, 8, 8, 8, 8, 0, 0], closed: [], people: 1 };

/** The work ahead, and what had to be taken for granted. */
export interface WorkRead {
  readonly work: WorkAhead;
  readonly notes: readonly string[];
  /** Pieces still on their way, and pieces the plan still starts. */
  readonly started: number;
  readonly toStart: number;
  /** Whole pieces that the plan expects to lose, and to have a step that only some need. */
  readonly lost: readonly ExpectedCount[];
  readonly again: readonly ExpectedCount[];
}

/** What the calendar is made from, and what had to be taken for granted. */
export interface CalendarRead extends Omit<WorkRead, "work"> {
  readonly input: CalendarInput;
}

/**
 * Reads the work ahead; nothing while the sheets are still being computed. With "planned losses" they happen
 * and the steps as needed are needed; with "no losses" every piece comes through.
 */
export function readWork(session: Session, losses: "planned losses" | "no losses"): Result<WorkRead> | undefined {
  const starts = session.result("starts", "edition");
  if (starts === undefined) return undefined;
  const book = session.book.value;
  const notes: string[] = [];
  const sheets = firingRecords(session);
  const planned = plannedFirings(session, sheets);
  const onSheet = piecesOnSheet(session, planned, notes);
  const toStart = typeof starts === "number" ? Math.max(0, starts - book.sheets.pieces.rows.length) : 0;
  const all = [...onSheet, ...piecesToStart(session, toStart)];
  const { pieces, lost, again } =
    losses === "planned losses" ? expectedOf(plannedRates(session), all) : { pieces: all, lost: [], again: [] };
  const steps = book.sheets.route.rows.map((row) => calendarStep(session, sheets, row, pieces, notes));
  const problems = steps.flatMap((step) => (step.ok ? [] : step.problems));
  if (problems.length > 0) return fail(...problems);
  const work = { steps: steps.flatMap((step) => (step.ok ? [step.value] : [])), pieces, planned };
  return ok({ work, notes: [...new Set(notes)], started: onSheet.length, toStart, lost, again });
}

/** Planned losses and shares of steps as needed, as the plan counts them: a blank is none. */
function plannedRates(session: Session): readonly PlannedRate[] {
  return session.book.value.sheets.route.rows.map((row) => {
    const share = (column: string) => {
      const value = session.value({ sheet: "route", row: row.id, column });
      return typeof value === "number" ? Math.min(1, Math.max(0, value)) : 0;
    };
    const needed = row.cells.who === "as needed" ? { needed: share("needed") } : {};
    return { id: row.id, loss: share("loss"), ...needed };
  });
}

/** The day from which an edition goes on: today, or the later day its maker set. */
export function beginsOn(session: Session): string {
  const today = session.today();
  const { from } = session.book.value.meta.calendar ?? USUAL_CALENDAR;
  return from !== undefined && from > today ? from : today;
}

/** Reads the work ahead of an edition by itself, in its own hours; nothing while the sheets are still being computed. */
export function readCalendar(session: Session): Result<CalendarRead> | undefined {
  const read = readWork(session, "no losses");
  if (!read?.ok) return read;
  const { work, ...rest } = read.value;
  const { hours, closed, people, due } = session.book.value.meta.calendar ?? USUAL_CALENDAR;
  const input: CalendarInput = {
    ...work,
    ...{ studio: { hours, closed, people }, kilns: {}, from: beginsOn(session) },
    ...(due === undefined ? {} : { due }),
  };
  return ok({ ...rest, input });
}
