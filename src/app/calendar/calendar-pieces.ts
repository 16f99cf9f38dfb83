// The pieces still on their way as the calendar takes them: what is ahead of each, the firing it is planned for, and how
// long it still rests; and those the plan has yet to start.

import { dayNumber, isoDay } from "../../ceramics/calendar/days";
import type { CalendarPiece, PlannedFiring } from "../../ceramics/calendar/route-tasks";
import { counted } from "../../core/counted";
import { rowLabel } from "../../core/document/access";
import type { Row, Workbook } from "../../core/document/workbook";
import { doneColumnOf } from "../../core/steps/piece-steps";
import { programmeFrom } from "../../engine/kiln-records";
import { showNumber } from "../edition/format";
import type { Session } from "../edition/session";
import { isUnderWay, lastHad, stepsAhead } from "../edition/view";
import { isAhead } from "../loads/loads";
import { type FiringSheets, hoursOfFiring } from "../record/firing-sums";

const number = (value: unknown) => (typeof value === "number" ? value : undefined);
const text = (value: unknown) => (typeof value === "string" ? value : "");

/** Firings that are still to come, under the names that pieces go by. */
export function plannedFirings(session: Session, sheets: FiringSheets): readonly PlannedFiring[] {
  const book = session.book.value;
  return book.sheets.firings.rows
    .filter((row) => isAhead(session, row))
    .map((row): PlannedFiring => {
      const pieces = number(session.value({ sheet: "firings", row: row.id, column: "all" })) ?? 0;
      const kg = number(session.value({ sheet: "firings", row: row.id, column: "ware_kg" })) ?? 0;
      const kiln = text(row.cells.kiln);
      const asked = { kiln, programme: text(row.cells.programme), kgEach: pieces > 0 ? kg / pieces : 0 };
      const { hours } = hoursOfFiring(sheets, { ...asked, isRaw: row.cells.ware === "raw" }, pieces);
      const name = rowLabel("firings", row);
      const day = text(row.cells.date);
      const loadingMinutes = number(session.value({ sheet: "firings", row: row.id, column: "loading" }));
      const shared = text(row.cells.shared).trim();
      const room = number(session.value({ sheet: "firings", row: row.id, column: "full" })) ?? 0;
      return {
        id: name,
        kiln,
        hours,
        loadingMinutes: loadingMinutes ?? sheets.loadingMinutes,
        restDays: restAfter(session, name),
        ...(day === "" ? {} : { day }),
        ...(room > 0
          ? { load: { programme: asked.programme, room, filled: pieces, ...hottest(sheets, asked.programme) } }
          : {}),
        ...(shared === "" ? {} : { shared }),
      };
    });
}

/** The hottest a programme gets, °C, where it is described. */
export function hottest({ programmes }: FiringSheets, programme: string): { readonly peak?: number } {
  const found = programmeFrom(programmes, programme);
  return found.ok ? { peak: Math.max(...found.value.segments.map(({ targetC }) => targetC)) } : {};
}

/** Days that pieces rest after a firing: as the step says for which they are in it. */
function restAfter(session: Session, firing: string): number {
  const book = session.book.value;
  const steps = book.sheets.route.rows.filter((step) =>
    book.sheets.pieces.rows.some((row) => row.cells[`${step.id}.firing`] === firing),
  );
  const rests = steps.map(({ id }) => number(session.value({ sheet: "route", row: id, column: "rest" })) ?? 0);
  return Math.max(0, ...rests);
}

/** The pieces in progress and what is ahead of each. */
export function piecesOnSheet(
  session: Session,
  planned: readonly PlannedFiring[],
  notes: string[],
): readonly CalendarPiece[] {
  const book = session.book.value;
  const names = new Set(planned.map(({ id }) => id));
  const dated = lastRecorded(book);
  return book.sheets.pieces.rows.flatMap((row): CalendarPiece[] => {
    const read = (piece: Row, column: string) => session.value({ sheet: "pieces", row: piece.id, column });
    if (!isUnderWay(row, read)) return [];
    const had = lastHad(book, row, read);
    const last = book.sheets.route.rows[had];
    const firing = last && text(row.cells[`${last.id}.firing`]);
    const ahead = stepsAhead(book, row, read).map(({ id }) => id);
    const id = rowLabel("pieces", row);
    const behind = had + 1;
    if (firing && names.has(firing)) return [{ id, ahead, planned: firing, behind }];
    if (ahead.length === 0) return [];
    const rests = last ? restsUntil(session, last, dated.get(`${row.id} ${last.id}`), notes) : undefined;
    return [{ id, ahead, behind, ...(rests === undefined ? {} : { restsUntil: rests }) }];
  });
}

/** The day on which each piece was last recorded at each step, by the run log. */
function lastRecorded(book: Workbook): ReadonlyMap<string, string> {
  const done = new Map(
    book.sheets.route.rows.flatMap((step): [string, string][] => {
      const column = doneColumnOf(step);
      return column === undefined ? [] : [[column, step.id]];
    }),
  );
  const days = new Map<string, string>();
  for (const { at, writes, takenBack } of book.lists.log)
    for (const { sheet, row, column, is } of takenBack === undefined ? writes : []) {
      const step = done.get(column);
      if (sheet === "pieces" && step !== undefined && is !== undefined) days.set(`${row} ${step}`, at.slice(0, 10));
    }
  return days;
}

function restsUntil(session: Session, step: Row, recorded: string | undefined, notes: string[]): string | undefined {
  const rest = number(session.value({ sheet: "route", row: step.id, column: "rest" })) ?? 0;
  if (rest <= 0) return undefined;
  if (recorded === undefined)
    notes.push(
      `Pieces that last had ${rowLabel("route", step)} are assumed to begin their ${counted(rest, "day", "days", showNumber(rest, 0, 2, session.formats.locale))} of rest today: the run log does not say when it was done.`,
    );
  const from = dayNumber(recorded ?? session.today()) ?? 0;
  const until = isoDay(Math.ceil(from + rest));
  return until > session.today() ? until : undefined;
}

/** Pieces the plan starts that are not on the sheet yet; as many of them special as are still wanted. */
export function piecesToStart(session: Session, count: number): readonly CalendarPiece[] {
  const book = session.book.value;
  const input = (id: string) => number(session.result(id, "edition")) ?? 0;
  const wanted = Math.max(1, input("wanted"));
  const all = book.sheets.pieces.rows.length + count;
  const there = book.sheets.pieces.rows.filter((row) => row.cells.tier === "special").length;
  const special = Math.min(count, Math.max(0, Math.round((all * input("special_wanted")) / wanted) - there));
  const steps = book.sheets.route.rows.filter((row) => row.cells.who !== "as needed");
  const ids = (isSpecial: boolean) =>
    steps.filter((row) => isSpecial || row.cells.who !== "special").map(({ id }) => id);
  return Array.from({ length: count }, (_, at) => ({ id: `to start ${at + 1}`, ahead: ids(at < special) }));
}
