// The metered firings of all kept editions, and what they say together of a programme in a kiln. What the model had said of
// each is what was calculated when its edition was last saved.
import { type Known, meanAcross } from "../../ceramics/across";
import type { Row, Workbook } from "../../core/document/workbook";
import { nameKey } from "../../core/same-name";
import { sampleOf } from "../../core/steps/seen";
import { ValueStore } from "../../engine/value-store";
import type { StoredEdition } from "../../storage/edition-store";
import { readSnapshot } from "../edition/stored-values";
import type { Studio } from "../keeping/studio";

/** A firing whose meter was read. */
export interface KeptFiring {
  readonly edition: string;
  readonly name: string;
  readonly kiln: string;
  readonly programme: string;
  /** As it is kept: ISO 8601, or blank. */
  readonly day: string;
  readonly kwh: number;
  /** What the model calculated for it, where it did. */
  readonly model: number | undefined;
}

type ReadValue = (row: Row, column: string) => unknown;

/** The metered firings of an edition; `read` gives what was calculated. */
export function meteredIn(book: Workbook, read: ReadValue): readonly KeptFiring[] {
  return book.sheets.firings.rows.flatMap((row): KeptFiring[] => {
    const { kiln, programme, date, meter, id } = row.cells;
    const kwh = typeof meter === "number" ? meter : read(row, "meter");
    if (typeof kwh !== "number" || !(kwh > 0) || typeof kiln !== "string") return [];
    const model = read(row, "model");
    return [
      {
        ...{ edition: book.meta.title, name: String(id ?? row.id), kiln, kwh },
        programme: typeof programme === "string" ? programme : "",
        day: typeof date === "string" ? date : "",
        model: typeof model === "number" ? model : undefined,
      },
    ];
  });
}

/** Those of a stored edition, by the values that are stored with it. */
export function meteredInStored({ book, values }: Pick<StoredEdition, "book" | "values">): readonly KeptFiring[] {
  const patch = readSnapshot(values);
  if (!patch) return meteredIn(book, () => undefined);
  const store = new ValueStore(book);
  store.accept(patch);
  return meteredIn(book, (row, column) => store.get("firings", row.id, column));
}

/** Each firing once: the same load stands in every edition that had pieces in it, and in copies. */
export function eachOnce(firings: readonly KeptFiring[]): readonly KeptFiring[] {
  const known = new Map<string, KeptFiring>();
  for (const firing of firings) {
    const { kiln, programme, day, name, kwh } = firing;
    // Without a day nothing but its name tells one firing from another.
    const key = JSON.stringify([nameKey(kiln), nameKey(programme), day === "" ? name : day, kwh]);
    if (!known.has(key)) known.set(key, firing);
  }
  return [...known.values()];
}

/** What is known of a programme in a kiln. */
export interface KnownEnergy {
  readonly kiln: string;
  readonly programme: string;
  readonly firings: number;
  readonly editions: number;
  /** kWh of a firing, with the interval that the editions leave likely. */
  readonly known: Known;
}

/** The energy of each programme in each kiln over editions; the difference between editions is in the interval. */
export function energyOf(firings: readonly KeptFiring[], confidence: number): readonly KnownEnergy[] {
  const groups = new Map<string, KeptFiring[]>();
  for (const firing of firings) {
    const key = kilnAndProgramme(firing.kiln, firing.programme);
    groups.set(key, [...(groups.get(key) ?? []), firing]);
  }
  return [...groups.values()].flatMap((group): KnownEnergy[] => {
    const [first] = group;
    const editions = [...new Set(group.map(({ edition }) => edition))];
    const samples = editions.flatMap(
      (edition) => sampleOf(group.filter((one) => one.edition === edition).map(({ kwh }) => kwh)) ?? [],
    );
    const known = meanAcross(samples, confidence);
    if (!first || !known.ok) return [];
    const { kiln, programme } = first;
    return [{ kiln, programme, firings: group.length, editions: samples.length, known: known.value }];
  });
}

/** What tells a programme in a kiln from another, however its letters are cased. */
export const kilnAndProgramme = (kiln: string, programme: string): string =>
  JSON.stringify([nameKey(kiln), nameKey(programme)]);

/** The metered firings of every kept edition, each once, the newest first; of invented ones only where no other has any. */
export async function readMeters(
  studio: Studio,
  onProgress: (done: number, of: number) => void,
): Promise<readonly KeptFiring[]> {
  await studio.flush();
  await studio.refreshList();
  const ids = studio.editions.value
    .filter(({ problem, mark }) => !problem && (!mark || mark.as === "archived"))
    .map(({ id }) => id);
  const real: KeptFiring[] = [];
  const invented: KeptFiring[] = [];
  for (const [at, id] of ids.entries()) {
    onProgress(at, ids.length);
    const session = studio.open?.id === id ? studio.open.session : undefined;
    const read = session ? undefined : await studio.home.editions.read(id);
    const book = session?.book.value ?? (read?.ok ? read.value.book : undefined);
    const to = book?.meta.invented ? invented : real;
    if (session) to.push(...meteredIn(session.book.value, (row, column) => session.valueIn("firings", row, column)));
    else if (read?.ok) to.push(...meteredInStored(read.value));
    else if (read) studio.report(read.problems);
    await studio.platform.breathe();
  }
  return eachOnce(real.length > 0 ? real : invented).toSorted((a, b) => (a.day < b.day ? 1 : a.day > b.day ? -1 : 0));
}
