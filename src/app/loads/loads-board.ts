// The page of loads put together: what waits, the draft as it stands, and what each load comes to.
import { dayNumber, isoDay, weekdayOf } from "../../ceramics/calendar/days";
import type { LoadKiln } from "../../ceramics/loads/kiln-room";
import { fitsKiln } from "../../ceramics/loads/load";
import type { RefusedPiece } from "../../ceramics/loads/propose";
import { problem } from "../../core/problem";
import { USUAL_CALENDAR } from "../calendar/calendar";
import type { Session } from "../edition/session";
import { hoursOfFiring } from "../record/firing-sums";
import { type LoadCosts, type LoadsRead, loadCosts, programmeOf, propose, readLoads, type Waiting } from "./loads";
import {
  type Draft,
  draftFrom,
  keepWaiting,
  type LoadView,
  leftWaiting,
  movePieces,
  type Target,
  viewLoad,
} from "./loads-draft";
import { makeFirings, newFiringNames } from "./loads-make";
import { loadsState } from "./loads-state";

/** Everything the page shows. */
export interface LoadsBoard {
  readonly read: LoadsRead;
  readonly costs: LoadCosts;
  readonly draft: Draft;
  readonly isArranged: boolean;
  readonly views: readonly LoadView[];
  readonly left: readonly Waiting[];
  readonly refused: readonly RefusedPiece[];
  /** Firings that may take more. */
  readonly filling: ReadonlySet<string>;
}

/** A first open day is looked for no further than this. */
const LONGEST_BREAK_DAYS = 60;

/** Puts the page together; nothing while the sheets are still being computed. */
export function loadsBoard(session: Session): LoadsBoard | undefined {
  const state = loadsState(session);
  const read = readLoads(session, state.again.value);
  if (!read) return undefined;
  const costs = loadCosts(session, read);
  const chosen = state.firingsChosen.value;
  const filling = new Set(read.unread.filter((one) => chosen.get(one.row) ?? one.isAhead).map(({ row }) => row));
  const kilns = new Set(read.kilns.map(({ id }) => id).filter((id) => !state.kilnsLeftOut.value.has(id)));
  const proposal = propose(read, costs, { kilns, firings: filling });
  const arranged = state.draft.value;
  const draft = arranged
    ? keepWaiting(arranged, read.waiting)
    : draftFrom(proposal, read.unread, {
        names: (programmes) => newFiringNames(session.book.value, programmes),
        day: (kiln, firing, nth) => dayFor(session, read, kiln, firing, nth),
      });
  return {
    read,
    costs,
    draft,
    isArranged: arranged !== undefined,
    views: draft.loads.map((load) => viewLoad(load, read, costs)),
    left: leftWaiting(draft, read.waiting),
    refused: proposal.refused,
    filling,
  };
}

/** The day for the so-manyeth load of a kiln: today, then each time as many days later as the kiln is taken; never a day off. */
function dayFor(session: Session, read: LoadsRead, kiln: string, firing: string, nth: number): string {
  const pieces = read.waiting.filter((piece) => piece.firing === firing);
  const kgEach = pieces.reduce((sum, { kg }) => sum + kg, 0) / Math.max(1, pieces.length);
  const asked = { kiln, programme: programmeOf(firing), kgEach, isRaw: false };
  const { hours } = hoursOfFiring(read.sheets, asked, pieces.length);
  const first = (dayNumber(session.today()) ?? 0) + nth * Math.max(1, Math.ceil(hours / 24));
  const studio = session.book.value.meta.calendar ?? USUAL_CALENDAR;
  const isOpen = (day: number) => (studio.hours[weekdayOf(day)] ?? 0) > 0 && !studio.closed.includes(isoDay(day));
  let day = first;
  while (!isOpen(day) && day < first + LONGEST_BREAK_DAYS) day += 1;
  return isoDay(day);
}

/** Keeps an arrangement; without one the loads are as proposed again. */
export function arrange(session: Session, draft: Draft | undefined): void {
  loadsState(session).draft.value = draft;
}

/** Moves pieces between loads; refused where their programmes differ. */
export function moveTo(session: Session, board: LoadsBoard, rows: ReadonlySet<string>, to: Target): boolean {
  const pieces = board.read.waiting.filter(({ row }) => rows.has(row));
  if (pieces.length === 0) return false;
  const moved = movePieces(board.draft, pieces, to, freshLoad(session, board, pieces));
  if (moved.ok) arrange(session, moved.value);
  else session.refuse(moved.problems);
  return moved.ok;
}

/** A name not taken yet, and the cheapest kiln that takes the pieces; any that can fire them where none takes all. */
function freshLoad(session: Session, { read, costs, draft }: LoadsBoard, pieces: readonly Waiting[]) {
  const firing = pieces[0]?.firing ?? "";
  const costAt = (kiln: LoadKiln) => costs.costOf(kiln.id, firing)?.empty ?? Number.POSITIVE_INFINITY;
  const able = read.kilns.filter((kiln) => Number.isFinite(costAt(kiln)));
  const roomy = able.filter((kiln) => fitsKiln(pieces, kiln)).sort((a, b) => costAt(a) - costAt(b));
  const programme = programmeOf(firing) ?? "";
  // As many as there are loads and one more: one of them is free.
  const names = newFiringNames(
    session.book.value,
    [...draft.loads, undefined].map(() => programme),
  );
  const used = new Set(draft.loads.map(({ name }) => name.toLowerCase()));
  const name = names.findLast((one) => !used.has(one.toLowerCase())) ?? "";
  return { name, kiln: (roomy[0] ?? able[0])?.id ?? "", date: session.today() };
}

/** Makes the firings of the loads as one step; refused while a load does not go in. */
export function makeTheseFirings(session: Session, board: LoadsBoard): boolean {
  const bad = board.views.filter(({ pieces, problems }) => pieces.length > 0 && problems.length > 0);
  if (bad.length > 0) {
    session.refuse(
      bad.map(({ load, problems }) =>
        problem({
          code: "load.full",
          where: `Load ${load.name}`,
          found: problems[0] ?? "",
          allowed: "loads that go in",
          fix: "Move pieces out of it, or give it another kiln.",
        }),
      ),
    );
    return false;
  }
  const made = makeFirings(session.book.value, board.draft.loads, board.read.waiting, session.now());
  if (!made.ok) {
    session.refuse(made.problems);
    return false;
  }
  if (!session.commit(made.value)) return false;
  const state = loadsState(session);
  state.draft.value = undefined;
  state.again.value = [];
  session.notifyDone(`${made.value.label}.`);
  return true;
}
