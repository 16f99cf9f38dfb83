// The steps still ahead as the calendar takes them: minutes of work, days of rest, and for a firing the kiln, its room and
// the hours it is taken.

import type { CalendarPiece, CalendarStep } from "../../ceramics/calendar/route-tasks";
import type { FormatAmount, LoadKiln, WaitingPiece } from "../../ceramics/loads/kiln-room";
import { pieceProblem, roomFor, typicalPiece } from "../../ceramics/loads/load";
import { counted } from "../../core/counted";
import { rowLabel } from "../../core/document/access";
import type { Row } from "../../core/document/workbook";
import { fail, ok, problem, type Result } from "../../core/problem";
import { isFiringStep, rulesOf } from "../../core/sheets/step-kinds";
import { showNumber } from "../edition/format";
import type { Session } from "../edition/session";
import { amountFormatter, loadKilns, sizeOf } from "../loads/loads";
import { type FiringSheets, GUESSED_COOLING_HOURS, hoursOfFiring, type KilnHours } from "../record/firing-sums";
import { hottest } from "./calendar-pieces";

const number = (value: unknown) => (typeof value === "number" ? value : undefined);
const text = (value: unknown) => (typeof value === "string" ? value : "");

/** Reads one step for the pieces that still have it ahead; what was taken for granted is added to the notes. */
export function calendarStep(
  session: Session,
  sheets: FiringSheets,
  row: Row,
  pieces: readonly CalendarPiece[],
  notes: string[],
): Result<CalendarStep> {
  const value = (column: string) => number(session.value({ sheet: "route", row: row.id, column }));
  const rules = rulesOf(row);
  const title = rowLabel("route", row);
  const ahead = pieces.filter((piece) => piece.ahead.includes(row.id));
  const base = { id: row.id, title, minutesEach: 0, restDays: value("rest") ?? 0 };
  if (ahead.length === 0) return ok(base);
  if (rules?.entered !== "firing") {
    const minutes = value("minutes");
    if (isDrying(row) && value("rest") === undefined)
      notes.push(`${title} has no days of rest on the Route sheet: pieces are assumed to go on without drying.`);
    if (minutes === undefined) notes.push(`${title} has no time on the Route sheet and takes none here.`);
    const times = typeof rules?.time === "object" ? (value(rules.entered.usual) ?? 1) : 1;
    return ok({ ...base, minutesEach: (minutes ?? 0) * times });
  }
  const sizes = sizesAhead(session, ahead);
  const piece = typicalPiece([...sizes.values()]);
  const kiln = kilnFor(loadKilns(session), row, { all: [...sizes.values()], typical: piece }, amountFormatter(session));
  if (!kiln.ok) return kiln;
  const isRaw = session.book.value.sheets.route.rows.find(isFiringStep)?.id === row.id;
  const asked = { kiln: kiln.value.id, programme: text(row.cells.programme), kgEach: piece.kg, isRaw };
  const room = roomFor(piece, kiln.value);
  const taken = hoursOfFiring(sheets, asked, Math.min(room, ahead.length));
  notes.push(hoursNote(session, title, kiln.value.id, taken));
  const firing = {
    ...{ kiln: kiln.value.id, room, hours: taken.hours, loadingMinutes: sheets.loadingMinutes },
    ...{ programme: asked.programme, ...hottest(sheets, asked.programme) },
  };
  if (areAlike([...sizes.values()])) return ok({ ...base, firing });
  return ok({ ...base, firing: { ...firing, sizes: { kiln: kiln.value, of: sizes } } });
}

/** Whether pieces take up the same room, so that their count says how many loads they are. */
function areAlike([first, ...others]: readonly WaitingPiece[]): boolean {
  return others.every(({ footCm2, heightCm }) => footCm2 === first?.footCm2 && heightCm === first.heightCm);
}

/** Whether pieces dry at a step, by what it is called. */
const isDrying = ({ cells }: Row) => /\bdr(y|ies|ying)\b/i.test(`${cells.title ?? ""} ${cells.method ?? ""}`);

/** The room that each piece takes up; pieces not made yet are as planned. */
function sizesAhead(session: Session, ahead: readonly CalendarPiece[]): ReadonlyMap<string, WaitingPiece> {
  const rows = new Map(session.book.value.sheets.pieces.rows.map((row) => [rowLabel("pieces", row), row]));
  const planned = (id: string) => number(session.result(id, "edition")) ?? 0;
  const like = { footCm2: planned("piece_foot"), heightCm: planned("piece_height"), kg: planned("piece_kg") };
  return new Map(
    ahead.map(({ id }) => {
      const row = rows.get(id);
      return [id, { ...(row ? sizeOf(session, row) : like), id, firing: "" }];
    }),
  );
}

interface SizesAhead {
  readonly all: readonly WaitingPiece[];
  /** Stands for all of them. */
  readonly typical: WaitingPiece;
}

/** The kiln of a firing step: the one on the Route, otherwise the one that takes most; refused where it takes no piece. */
function kilnFor(
  kilns: readonly LoadKiln[],
  row: Row,
  { all, typical: piece }: SizesAhead,
  say: FormatAmount,
): Result<LoadKiln> {
  const named = text(row.cells.kiln);
  const takes = (kiln: LoadKiln) => kiln.capacity >= 1 && all.every((one) => pieceProblem(one, kiln) === undefined);
  const able = kilns.filter(takes);
  const best = able.reduce<LoadKiln | undefined>(
    (most, kiln) => (most && roomFor(piece, most) >= roomFor(piece, kiln) ? most : kiln),
    undefined,
  );
  const chosen = named === "" ? best : kilns.find(({ id }) => id === named);
  if (chosen && able.includes(chosen)) return ok(chosen);
  const why = chosen && all.map((one) => pieceProblem(one, chosen, say)).find((found) => found !== undefined);
  return fail(
    problem({
      code: "calendar.kiln",
      where: named === "" ? rowLabel("route", row) : `${rowLabel("route", row)} in ${named}`,
      found: why?.found.replace(/[“”]/g, "") ?? "no kiln for it",
      allowed: why?.allowed ?? "a kiln of the Kilns sheet that takes the pieces",
      fix:
        able.length > 0
          ? `Choose ${able.map(({ id }) => id).join(" or ")} for it on the Route sheet.`
          : "No kiln takes them: look at the heights and shelves on the Kilns sheet.",
    }),
  );
}

function hoursNote(session: Session, title: string, kiln: string, { hours, how }: KilnHours): string {
  const lead = `${title} takes ${kiln} ${counted(hours, "hour", "hours", showNumber(hours, 0, 1, session.formats.locale))}`;
  if (how === "typed") return `${lead}, as on the Kilns sheet.`;
  if (how === "by its build") return `${lead} to heat and cool, calculated from its build, the programme and the load.`;
  return `${lead}: its usual hours and a guess of ${GUESSED_COOLING_HOURS} to cool. Enter what it takes on the Kilns sheet.`;
}
