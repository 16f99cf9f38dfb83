// The work still ahead of an edition as the calendar takes it, and when the studio works. What had to be guessed is said.
import type { CalendarInput } from "../../ceramics/calendar/ready";
import type { Meta } from "../../core/document/workbook";
import { fail, ok, type Result } from "../../core/problem";
import type { Session } from "../edition/session";
import { firingRecords } from "../record/firing-sums";
import { piecesOnSheet, piecesToStart, plannedFirings } from "./calendar-pieces";
import { calendarStep } from "./calendar-steps";

export type StudioCalendar = NonNullable<Meta["calendar"]>;

/** When a studio works until it says otherwise. */
export const USUAL_CALENDAR: StudioCalendar = { hours: [8, 8, 8, 8, 8, 0, 0], closed: [], people: 1 };

/** What the calendar is made from, and what had to be taken for granted. */
export interface CalendarRead {
  readonly input: CalendarInput;
  readonly notes: readonly string[];
  /** Pieces still on their way, and pieces the plan still starts. */
  readonly started: number;
  readonly toStart: number;
}

/** Reads the work ahead; nothing while the sheets are still being computed. */
export function readCalendar(session: Session): Result<CalendarRead> | undefined {
  const starts = session.result("starts", "edition");
  if (starts === undefined) return undefined;
  const book = session.book.value;
  const today = session.today();
  const { hours, closed, people, due, from } = book.meta.calendar ?? USUAL_CALENDAR;
  const notes: string[] = [];
  const sheets = firingRecords(session);
  const planned = plannedFirings(session, sheets);
  const onSheet = piecesOnSheet(session, planned, notes);
  const toStart = typeof starts === "number" ? Math.max(0, starts - book.sheets.pieces.rows.length) : 0;
  const pieces = [...onSheet, ...piecesToStart(session, toStart)];
  const steps = book.sheets.route.rows.map((row) => calendarStep(session, sheets, row, pieces, notes));
  const problems = steps.flatMap((step) => (step.ok ? [] : step.problems));
  if (problems.length > 0) return fail(...problems);
  const input: CalendarInput = {
    steps: steps.flatMap((step) => (step.ok ? [step.value] : [])),
    pieces,
    planned,
    studio: { hours, closed, people },
    kilns: {},
    from: from !== undefined && from > today ? from : today,
    ...(due === undefined ? {} : { due }),
  };
  return ok({ input, notes: [...new Set(notes)], started: onSheet.length, toStart });
}
