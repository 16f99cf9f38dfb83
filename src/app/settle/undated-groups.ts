// What has no day, in groups of one thing and one proposed day.
import { type Undated, undatedOf } from "../../core/record/undated";
import type { Session } from "../edition/session";
import { localDay } from "../edition/written-days";

/** Entries of one sort with the same proposal. */
export interface UndatedGroup {
  readonly what: string;
  readonly from: Undated["from"];
  readonly day: string;
  readonly undated: readonly Undated[];
}

/** Everything without a day, earliest proposals first. */
export function undatedGroups(session: Session): readonly UndatedGroup[] {
  const groups = new Map<string, UndatedGroup & { readonly undated: Undated[] }>();
  for (const one of undatedOf(session.book.value, localDay)) {
    const key = `${one.proposed} ${one.what} ${one.from}`;
    const held = groups.get(key) ?? { what: one.what, from: one.from, day: one.proposed, undated: [] };
    held.undated.push(one);
    groups.set(key, held);
  }
  return [...groups.values()].sort((a, b) => (a.day < b.day ? -1 : a.day > b.day ? 1 : 0));
}
