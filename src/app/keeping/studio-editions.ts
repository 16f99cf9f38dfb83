// What is done with kept editions as a whole: duplicated, renamed, archived, kept as a template, deleted and brought back.
import type { Change } from "../../core/document/change";
import { editMeta } from "../../core/document/edits";
import { META_MOST } from "../../core/document/limits";
import { nextEdition } from "../../core/document/next-edition";
import type { Workbook } from "../../core/document/workbook";
import { type Problem, problem, type Result } from "../../core/problem";
import { type EditionMark, type EditionStatus, type EditionSummary, NOT_YET_STORED } from "../../storage/edition-store";
import { KeptEdition } from "./kept-edition";
import type { Studio } from "./studio";

/** How long a deleted edition can be brought back. */
export const KEPT_DAYS = 30;
const DAY_MS = 24 * 60 * 60 * 1000;

/** The document of a kept edition: as it is open here, or as it is stored; undefined, with a message, where it can't be read. */
export async function bookOfEdition(studio: Studio, id: string): Promise<Workbook | undefined> {
  if (studio.open?.id === id) return studio.open.session.book.value;
  const read = await studio.home.editions.read(id);
  if (read.ok) return read.value.book;
  studio.report(read.problems);
  return undefined;
}

/** Ids of the kept editions that can be looked at beside the open one. */
export const othersKept = (studio: Studio): readonly string[] =>
  studio.editions.value
    .filter(({ id, problem, mark }) => !problem && id !== studio.editionId.value && (!mark || mark.as === "archived"))
    .map(({ id }) => id);

/** Reads kept editions one after the other; a large one takes a tenth of a second, and the page is free in between. */
export async function* readEach(studio: Studio, ids: readonly string[], onRead: (at: number) => void = () => {}) {
  for (const [at, id] of ids.entries()) {
    onRead(at);
    yield { id, read: await studio.home.editions.read(id) };
    await studio.platform.breathe();
  }
}

/** Keeps a copy of an edition beside it; false, with a message, where that fails. */
export async function duplicateEdition(studio: Studio, id: string): Promise<boolean> {
  const book = await bookOfEdition(studio, id);
  if (!book) return false;
  const taken = new Set(studio.editions.value.map(({ title }) => title));
  return keepNew(studio, { ...book, meta: { ...book.meta, title: freeTitle(`${book.meta.title} (copy)`, taken) } });
}

/** Keeps the way, the prices, the kilns and what was seen of an edition as a template of the maker's own. */
export async function keepAsTemplate(studio: Studio, id: string): Promise<boolean> {
  const book = await bookOfEdition(studio, id);
  if (!book) return false;
  const wanted = Number(book.sheets.edition.rows.find((row) => row.id === "wanted")?.cells.value ?? 1);
  const { title, invented } = book.meta;
  const answers = {
    title,
    wanted,
    firstPiece: "001",
    started: studio.platform.now().toISOString().slice(0, 10),
    from: id,
  };
  const next = nextEdition(book, answers, 0).book;
  return keepNew(studio, { ...next, meta: { ...next.meta, invented } }, "template");
}

async function keepNew(studio: Studio, book: Workbook, as?: EditionStatus): Promise<boolean> {
  const id = studio.platform.freshId();
  const { editions } = studio.home;
  const written = await editions.write(id, { book, updatedAt: studio.platform.now().toISOString() }, NOT_YET_STORED);
  const marked = written.ok && as !== undefined ? await editions.mark(id, markNow(studio, as)) : written;
  return reportAndRefresh(studio, marked);
}

const markNow = (studio: Studio, as: EditionStatus): EditionMark => ({
  as,
  since: studio.platform.now().toISOString(),
});

/** A title that no other edition has: with a number behind it where it must be. */
function freeTitle(wanted: string, taken: ReadonlySet<string>): string {
  let title = wanted.slice(0, META_MOST.title);
  for (let count = 2; taken.has(title); count += 1) title = `${wanted.slice(0, META_MOST.title - 6)} ${count}`;
  return title;
}

/** Gives a kept edition another title: the open one as a step that can be undone, others by the rules of two tabs. */
export async function renameEdition(studio: Studio, id: string, typed: string): Promise<boolean> {
  const title = typed.trim().slice(0, META_MOST.title);
  if (title === "") return false;
  const rename = (book: Workbook) => ({ change: editMeta(book, { title }, `Rename to ${title}`) });
  let isDone = false;
  if (studio.open?.id === id) {
    const { session } = studio.open;
    isDone = session.commit(rename(session.book.value).change);
    await studio.open.flush();
  } else isDone = (await commitToKept(studio, id, rename, openElsewhere)) !== undefined;
  await studio.refreshList();
  return isDone;
}

/**
 * Makes a change in a kept edition that is not open here, by the rules of two tabs; gives what it was made from, and
 * undefined, with a message, where it can't be opened or another tab has it.
 */
export async function commitToKept<Made extends { readonly change: Change }>(
  studio: Studio,
  id: string,
  make: (book: Workbook) => Made,
  elsewhere: (title: string) => Problem,
): Promise<Made | undefined> {
  const opened = await KeptEdition.open(id, studio.keepingPlatform, studio.makeSession);
  if (!opened.ok) {
    studio.report(opened.problems);
    return undefined;
  }
  const kept = opened.value;
  const book = kept.session.book.value;
  const isElsewhere = kept.lock.value === "following";
  const made = make(book);
  const isDone = !isElsewhere && kept.session.commit(made.change);
  await kept.close();
  if (isElsewhere) studio.report([elsewhere(book.meta.title)]);
  return isDone ? made : undefined;
}

const openElsewhere = (title: string): Problem =>
  problem({
    code: "edition.elsewhere",
    where: title,
    found: "open in another tab",
    allowed: "a new name only where it is open",
    fix: "Give it the name in that tab, or close it there first.",
  });

/** Puts a kept edition into the archive, among the templates or the deleted ones, or back among those that are worked on. */
export async function putEdition(studio: Studio, id: string, as: EditionStatus | undefined): Promise<boolean> {
  return reportAndRefresh(studio, await studio.home.editions.mark(id, as && markNow(studio, as)));
}

/** The day from which a deleted edition can't be brought back any more. */
export function goneOn({ since }: EditionMark): Date {
  return new Date(Date.parse(since) + KEPT_DAYS * DAY_MS);
}

/** Removes for good what was deleted long enough ago. */
export async function purgeDeleted(studio: Studio): Promise<void> {
  const isGone = ({ mark }: EditionSummary) =>
    mark?.as === "deleted" && !(goneOn(mark).getTime() > studio.platform.now().getTime());
  await studio.refreshList();
  for (const { id } of studio.editions.value.filter(isGone)) await studio.remove(id);
}

async function reportAndRefresh(studio: Studio, result: Result<unknown>): Promise<boolean> {
  if (!result.ok) studio.report(result.problems);
  await studio.refreshList();
  return result.ok;
}
