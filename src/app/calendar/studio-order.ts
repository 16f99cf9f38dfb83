// In which order the studio does its editions, and when it works: kept on its shelf, written by the rules of two tabs.

import type { StudioHours } from "../../ceramics/calendar/work-time";
import { META_MOST } from "../../core/document/limits";
import type { Workbook } from "../../core/document/workbook";
import type { Session } from "../edition/session";
import type { Studio } from "../keeping/studio";
import { changeShelf, readShelf } from "../shelf/shelf";
import { USUAL_CALENDAR } from "./calendar";

/** When the studio works, whose hours these are, and the order of its editions; none is by due date. */
export interface StudioRules {
  readonly hours: StudioHours;
  readonly of: "the shelf" | "this edition" | "usual";
  readonly order: readonly string[];
}

/** What the shelf says, and the open edition where it says nothing. */
export async function studioRules(studio: Studio, session: Session): Promise<StudioRules> {
  return rulesOfStudio(await readShelf(studio), session.book.value);
}

function rulesOfStudio(shelf: Workbook | undefined, book: Workbook): StudioRules {
  const { hours, closed, people } = shelf?.meta.calendar ?? book.meta.calendar ?? USUAL_CALENDAR;
  const of = shelf?.meta.calendar ? "the shelf" : book.meta.calendar ? "this edition" : "usual";
  return { hours: { hours, closed, people }, of, order: shelf?.meta.order ?? [] };
}

/** Keeps an order of editions on the shelf; none is by due date. Gives what holds then, or undefined, with a message. */
export async function keepOrder(
  studio: Studio,
  session: Session,
  order: readonly string[],
  label: string,
): Promise<StudioRules | undefined> {
  const kept = order.slice(0, META_MOST.order[0]);
  const isKept = await changeShelf(studio, session, (shelf) => {
    const { order: _, ...rest } = shelf.meta;
    const is = kept.length > 0 ? { ...rest, order: kept } : rest;
    return { change: { label, operations: [{ kind: "meta", was: shelf.meta, is }] } };
  });
  return isKept ? studioRules(studio, session) : undefined;
}

/** An order with one edition moved to an index. */
export function movedTo(ids: readonly string[], id: string, index: number): readonly string[] {
  const others = ids.filter((one) => one !== id);
  return others.toSpliced(Math.max(0, Math.min(others.length, index)), 0, id);
}
