// What the kept editions take from the studio's shelf: each is read once, and what it has taken and will still need is noted.
import { signal } from "@preact/signals";
import type { Workbook } from "../../core/document/workbook";
import { drawsOf, type MaterialDraw, type Need, needsOf } from "../../core/steps/drawn";
import { perSession } from "../edition/per-session";
import type { Session } from "../edition/session";
import { localDay } from "../edition/written-days";
import type { Studio } from "../keeping/studio";
import { othersKept, readEach } from "../keeping/studio-editions";

/** What one edition takes. */
export interface EditionUse {
  readonly id: string;
  readonly title: string;
  /** When it is due, or else was started: without an order of the maker’s the earlier one is given material first. ISO 8601. */
  readonly due: string;
  /** When work on it begins: by then its material must be there. */
  readonly begins: string;
  readonly isInvented: boolean;
  readonly draws: readonly MaterialDraw[];
  readonly needs: readonly Need[];
}

/** Editions that were looked at, how many there are, and whether all have been. */
export interface Uses {
  readonly editions: readonly EditionUse[];
  readonly done: number;
  readonly of: number;
}

/** What was found for an open document; undefined where nobody has looked yet. */
export const usesOf = perSession(() => signal<Uses | undefined>(undefined));

/** What an edition takes, from its document. */
export function useOf(id: string, book: Workbook): EditionUse {
  const { title, started, calendar, invented } = book.meta;
  return {
    ...{ id, title, isInvented: invented, due: calendar?.due ?? started, begins: calendar?.from ?? started },
    ...{ draws: drawsOf(book, localDay), needs: needsOf(book) },
  };
}

/** Looks at every kept edition that is worked on or archived, one after the other; what can't be read is reported. */
export async function readUses(studio: Studio, session: Session): Promise<void> {
  const found = usesOf(session);
  await studio.refreshList();
  const ids = othersKept(studio);
  const editions: EditionUse[] = [];
  const onProgress = (at: number) => {
    found.value = { editions: found.value?.editions ?? [], done: at, of: ids.length };
  };
  for await (const { id, read } of readEach(studio, ids, onProgress)) {
    if (read.ok) editions.push(useOf(id, read.value.book));
    else session.refuse(read.problems);
  }
  found.value = { editions, done: ids.length, of: ids.length };
}

/** The editions that count: invented ones only where there are no others. */
export function countedUses(editions: readonly EditionUse[]): readonly EditionUse[] {
  const real = editions.filter(({ isInvented }) => !isInvented);
  return real.length > 0 ? real : editions;
}
