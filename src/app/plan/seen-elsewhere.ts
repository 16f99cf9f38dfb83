// What all kept editions have seen of steps of the same kind and name. Of another piece only what does not depend on its
// shape says anything: losses, minutes, coats, and with the same material the share that lands on it.
import { signal } from "@preact/signals";
import { isSame } from "../../core/document/difference";
import type { Row, SeenEdition, SeenStep, Workbook } from "../../core/document/workbook";
import { seenIn } from "../../core/steps/seen";
import { perSession } from "../edition/per-session";
import type { Session } from "../edition/session";
import type { Studio } from "../keeping/studio";

/** Editions that were looked at, with what each saw of steps that this one has too; how many were looked at and are to be. */
export interface Elsewhere {
  readonly seen: readonly SeenEdition[];
  readonly looked: number;
  readonly of: number;
}

export const elsewhereOf = perSession(() => signal<Elsewhere | undefined>(undefined));

/** Ids of the kept editions that can be looked at beside the open one. */
export const othersKept = (studio: Studio): readonly string[] =>
  studio.editions.value
    .filter(({ id, problem, mark }) => !problem && id !== studio.editionId.value && (!mark || mark.as === "archived"))
    .map(({ id }) => id);

/** Looks at every kept edition, one after the other; what can't be read is told and left out. */
export async function lookElsewhere(studio: Studio, session: Session): Promise<void> {
  await studio.refreshList();
  const found = elsewhereOf(session);
  const ids = othersKept(studio);
  const seen: SeenEdition[] = [];
  for (const [at, id] of ids.entries()) {
    found.value = { seen: [], looked: at, of: ids.length };
    const read = await studio.home.editions.read(id);
    if (!read.ok) session.refuse(read.problems);
    else if (!read.value.book.meta.invented || session.book.value.meta.invented)
      seen.push(seenFor(session.book.value, read.value.book));
    // A large edition takes a tenth of a second to read.
    await studio.world.breathe();
  }
  // What was counted and measured to the last digit the same was counted once: one of them is a copy.
  const own = seenFor(session.book.value, session.book.value);
  const different = seen.filter(({ steps }, at) =>
    [own, ...seen.slice(0, at)].every((other) => !isSame(other.steps, steps)),
  );
  found.value = { seen: different.filter(({ steps }) => steps.length > 0), looked: ids.length, of: ids.length };
}

/** What another edition saw, by the steps of this one. */
export function seenFor(book: Workbook, other: Workbook): SeenEdition {
  const here = new Map(book.sheets.route.rows.map((row) => [nameOf(row), row]));
  const there = new Map(other.sheets.route.rows.map((row) => [row.id, row]));
  const { steps, ...of } = seenIn(other);
  return {
    ...of,
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

const nameOf = ({ cells }: Row) => `${cells.kind} ${String(cells.title).trim().toLowerCase()}`;

/** Records of editions with those looked at in the place of what was noted of the same ones earlier. */
export function withElsewhere(
  noted: readonly SeenEdition[],
  elsewhere: readonly SeenEdition[],
): readonly SeenEdition[] {
  const known = new Set(elsewhere.map(({ title, started }) => `${title} ${started}`));
  return [...noted.filter(({ title, started }) => started === "" || !known.has(`${title} ${started}`)), ...elsewhere];
}
