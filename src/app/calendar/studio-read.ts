// The work ahead of every edition kept in this browser. Others are read as they are stored, one after the other, with the
// page free in between; what can't be read, or can't be put into a calendar, is named.
import { type CalendarEdition, calendarProblems } from "../../ceramics/calendar/one-calendar";
import { isShelf } from "../../core/document/shelf-kind";
import type { Workbook } from "../../core/document/workbook";
import { ok, type Result } from "../../core/problem";
import type { EngineClient } from "../../engine/client";
import type { Patch } from "../../engine/values";
import { Session } from "../edition/session";
import { readSnapshot } from "../edition/stored-values";
import type { Studio } from "../keeping/studio";
import { beginsOn, readWork, type WorkRead } from "./calendar";

/** An edition in the one calendar, and what its work was taken from. */
export interface EditionRead extends Omit<WorkRead, "work"> {
  readonly edition: CalendarEdition;
  /** The day it was started, ISO 8601. */
  readonly began: string;
}

/** An edition that takes no time in the calendar, and why. */
export interface LeftOut {
  readonly id: string;
  readonly title: string;
  readonly why: string;
  /** Whether something is wrong with it, so that the calendar is short of its work. */
  readonly isWrong: boolean;
}

/** The other editions of a studio. */
export interface OthersRead {
  readonly editions: readonly EditionRead[];
  readonly leftOut: readonly LeftOut[];
}

/** Editions that are worked on besides the open one, without the archive. */
export const othersRunning = ({ editions, editionId }: Studio): number =>
  editions.value.filter(({ id, mark }) => mark === undefined && id !== editionId.value).length;

/** How far the reading is. */
export type ReadNews = (done: number, of: number) => void;

/** Reads all kept editions but the open one; undefined where it was stopped. */
export async function readOthers(
  studio: Studio,
  session: Session,
  news: ReadNews,
  stop: AbortSignal,
): Promise<OthersRead | undefined> {
  await studio.refreshList();
  const listed = studio.editions.value.filter(({ id, mark }) => mark === undefined && id !== studio.editionId.value);
  const found: (EditionRead | LeftOut)[] = [];
  for (const [at, { id, title, problem: damage }] of listed.entries()) {
    news(at, listed.length);
    // A large edition takes some hundredths of a second to read.
    await studio.platform.breathe();
    if (stop.aborted) return undefined;
    const one = damage ? leftOut(id, title, damage.message) : await readOther(studio, session, id, title);
    if (one) found.push(one);
  }
  return {
    editions: found.filter((one) => "edition" in one),
    leftOut: found.filter((one): one is LeftOut => !("edition" in one)),
  };
}

/** An edition left out because something is wrong with it. */
const leftOut = (id: string, title: string, why: string): LeftOut => ({ id, title, why, isWrong: true });

async function readOther(
  studio: Studio,
  session: Session,
  id: string,
  title: string,
): Promise<EditionRead | LeftOut | undefined> {
  const read = await studio.home.editions.read(id);
  if (!read.ok) return leftOut(id, title, read.problems[0]?.message ?? "It can’t be read.");
  const { book, values } = read.value;
  if (isShelf(book)) return undefined;
  if (book.meta.invented && !session.book.value.meta.invented)
    return { id, title, why: "It is invented, and takes none of the studio’s time.", isWrong: false };
  const computed = readSnapshot(values) ?? (await calculated(studio, book));
  if (!computed) return leftOut(id, title, "It could not be calculated. Open it to see why.");
  await studio.platform.breathe();
  const still = stillSession(studio, book, computed);
  const work = readEdition(still, id);
  if (!work) return leftOut(id, title, "It could not be calculated. Open it to see why.");
  if (!work.ok) return leftOut(id, title, work.problems.map(({ message }) => message).join(" "));
  if (work.value.edition.work.pieces.length === 0)
    return { id, title, why: "Nothing is left to be done.", isWrong: false };
  return work.value;
}

/** Values of an edition that was stored without them, by an engine of their own. */
async function calculated(studio: Studio, book: Workbook): Promise<Patch | undefined> {
  const engine = studio.platform.startEngine();
  try {
    return await engine.open(book);
  } catch {
    return undefined;
  } finally {
    engine.close();
  }
}

const never = () => new Promise<never>(() => undefined);
/** An engine that is never asked: the values are there. */
const SILENT: EngineClient = {
  ...{ open: never, apply: never, calculate: never, model: never, source: never },
  close: () => undefined,
};

/** A session that is only read: a document with its values. */
function stillSession({ platform }: Studio, book: Workbook, values: Patch): Session {
  const still = {
    startEngine: () => SILENT,
    keep: () => undefined,
    locale: platform.locale,
    now: () => platform.now(),
  };
  return new Session(book, still, values);
}

/** The work ahead of an edition for the one calendar; undefined while its sheets are still being computed. */
export function readEdition(session: Session, id: string): Result<EditionRead> | undefined {
  const read = readWork(session, "planned losses");
  if (!read?.ok) return read;
  const { work, ...rest } = read.value;
  const { title, calendar, started } = session.book.value.meta;
  const due = calendar?.due;
  const edition = { id, title, work, from: beginsOn(session), ...(due === undefined ? {} : { due }) };
  const problems = calendarProblems(edition);
  return problems.length > 0 ? { ok: false, problems } : ok({ ...rest, edition, began: started });
}

/** Editions in the order in which they are done: by the maker's own order, and those not in it by due date. */
export function inOrderOf(editions: readonly EditionRead[], order: readonly string[]): readonly EditionRead[] {
  const indices = new Map(order.map((id, at) => [id, at]));
  const key = ({ edition: { due, title, id }, began }: EditionRead) => [due ?? "~", began, title, id];
  return [...editions].sort((a, b) => {
    const [one, other] = [a, b].map(({ edition: { id } }) => indices.get(id) ?? order.length);
    return (one ?? 0) - (other ?? 0) || compareAll(key(a), key(b));
  });
}

function compareAll(one: readonly string[], other: readonly string[]): number {
  const at = one.findIndex((text, index) => text !== other[index]);
  const [a, b] = [one[at] ?? "", other[at] ?? ""];
  return a < b ? -1 : Number(a > b);
}
