// What all kept editions have seen of steps of the same kind and name. Of another piece only what does not depend on its
// shape says anything: losses, minutes, coats, and with the same material the share that lands on it.
import { signal } from "@preact/signals";
import { isSame } from "../../core/document/difference";
import type { Row, SeenEdition, SeenStep, Workbook } from "../../core/document/workbook";
import { nameKey } from "../../core/same-name";
import { seenIn } from "../../core/steps/seen";
import { perSession } from "../edition/per-session";
import type { Session } from "../edition/session";
import type { Studio } from "../keeping/studio";
import { othersKept, readEach } from "../keeping/studio-editions";
import { type KeptFiring, meteredInStored } from "./kept-firings";

/** Editions that were looked at, with what each saw of steps that this one has too; how many were looked at and are to be. */
export interface Elsewhere {
  readonly seen: readonly ElsewhereEdition[];
  /** Their metered firings. */
  readonly firings: readonly KeptFiring[];
  readonly done: number;
  readonly of: number;
}

/** What another edition saw of the steps of this one, and all it saw, as this one may have noted it under another title. */
export interface ElsewhereEdition extends SeenEdition {
  readonly whole?: readonly SeenStep[];
}

export const elsewhereOf = perSession(() => signal<Elsewhere | undefined>(undefined));

/** Looks at every kept edition, one after the other; what can't be read is reported and left out. */
export async function readElsewhere(studio: Studio, session: Session): Promise<void> {
  await studio.refreshList();
  const found = elsewhereOf(session);
  const ids = othersKept(studio);
  const seen: ElsewhereEdition[] = [];
  const firings: KeptFiring[] = [];
  const onProgress = (at: number) => {
    found.value = { seen: [], firings: [], done: at, of: ids.length };
  };
  for await (const { id, read } of readEach(studio, ids, onProgress)) {
    if (!read.ok) session.refuse(read.problems);
    else if (!read.value.book.meta.invented || session.book.value.meta.invented) {
      seen.push({ ...seenFor(session.book.value, read.value.book), id });
      firings.push(...meteredInStored(read.value));
    }
  }
  // What was counted and measured to the last digit the same was counted once: one of them is a copy.
  const own = seenFor(session.book.value, session.book.value);
  const different = seen.filter(({ steps }, at) =>
    [own, ...seen.slice(0, at)].every((other) => !isSame(other.steps, steps)),
  );
  const some = different.filter(({ steps }) => steps.length > 0);
  found.value = { seen: some, firings, done: ids.length, of: ids.length };
}

/** What another edition saw, by the steps of this one. */
export function seenFor(book: Workbook, other: Workbook): ElsewhereEdition {
  const here = new Map(book.sheets.route.rows.map((row) => [nameOf(row), row]));
  const there = new Map(other.sheets.route.rows.map((row) => [row.id, row]));
  const { steps, ...of } = seenIn(other);
  return {
    ...of,
    whole: steps,
    steps: steps.flatMap((step): SeenStep[] => {
      const from = there.get(step.step);
      const row = from && here.get(nameOf(from));
      if (!from || !row) return [];
      const kept = ["minutes", "coats", ...(from.cells.material === row.cells.material ? ["usage"] : [])];
      const amounts = Object.fromEntries(Object.entries(step.amounts).filter(([column]) => kept.includes(column)));
      return [{ ...step, step: row.id, amounts }];
    }),
  };
}

const nameOf = ({ cells }: Row) => `${cells.kind} ${nameKey(String(cells.title))}`;

/** Records of editions with those looked at in the place of what was noted of the same ones earlier. */
export function withElsewhere(
  noted: readonly SeenEdition[],
  elsewhere: readonly ElsewhereEdition[],
): readonly SeenEdition[] {
  const isThere = (one: SeenEdition) => one.started !== "" && elsewhere.some((other) => isSameEdition(one, other));
  return [...noted.filter((one) => !isThere(one)), ...elsewhere];
}

/**
 * Whether what was noted is of an edition, also where that was renamed since: by its id; where none was noted, it was begun on
 * the same day, and at some step every piece was measured to the last digit as it was noted.
 */
function isSameEdition(noted: SeenEdition, { id, title, started, whole = [] }: ElsewhereEdition): boolean {
  if (noted.id !== undefined && id !== undefined) return noted.id === id;
  if (noted.started !== started) return false;
  if (noted.title === title) return true;
  const known = new Map(whole.map((step) => [step.step, step]));
  return noted.steps.some((step) => {
    const now = known.get(step.step);
    return Object.keys(step.amounts).length > 0 && isSame(now?.amounts, step.amounts) && now?.entered === step.entered;
  });
}
