// Editions side by side: every kept one is read as it is stored, with the values it was last calculated to; the open one stands
// as it is on the page. What can't be read or was never calculated is named, and is in no sum.
import { signal } from "@preact/signals";
import { isShelf } from "../../core/document/shelf-kind";
import { ValueStore } from "../../engine/value-store";
import type { StoredEdition } from "../../storage/edition-store";
import { perSession } from "../edition/per-session";
import type { Session } from "../edition/session";
import { readSnapshot } from "../edition/stored-values";
import type { Studio } from "../keeping/studio";
import { othersKept, readEach } from "../keeping/studio-editions";
import { addedSums, EDITION_MEASURES, type EditionMeasure, type EditionSums, editionSums } from "./edition-measures";

/** An edition in the table. */
export interface MeasuredEdition {
  readonly id: string;
  readonly title: string;
  readonly currency: string;
  /** The day it was started, ISO 8601. */
  readonly began: string;
  readonly isInvented: boolean;
  readonly isOpen: boolean;
  /** Undefined where it was never calculated here, or can't be read: `why` says so. */
  readonly sums: EditionSums | undefined;
  readonly why: string | undefined;
}

/** The other editions as far as they were read. */
interface OthersMeasured {
  readonly editions: readonly MeasuredEdition[];
  readonly done: number;
  readonly of: number;
  readonly isStopped: boolean;
}

/** What was found from an open document; undefined where nobody has looked yet. */
export const othersMeasuredOf = perSession(() => signal<OthersMeasured | undefined>(undefined));

const NOT_CALCULATED = "never calculated here: open it once";

/** Reads all other kept editions, one after the other, until it is stopped. */
export async function measureOthers(studio: Studio, session: Session, stop: AbortSignal): Promise<void> {
  await studio.refreshList();
  const found = othersMeasuredOf(session);
  const ids = othersKept(studio);
  const titles = new Map(studio.editions.value.map(({ id, title }) => [id, title]));
  const editions: MeasuredEdition[] = [];
  const soFar = (done: number) => ({ editions: [...editions], done, of: ids.length, isStopped: false });
  const onProgress = (done: number) => {
    found.value = soFar(done);
  };
  for await (const { id, read } of readEach(studio, ids, onProgress)) {
    if (stop.aborted) {
      found.value = { ...soFar(editions.length), isStopped: true };
      return;
    }
    if (read.ok && isShelf(read.value.book)) continue;
    editions.push(read.ok ? measured(id, read.value, session.today()) : unread(id, titles.get(id) ?? id));
  }
  onProgress(ids.length);
}

function measured(id: string, { book, values }: StoredEdition, today: string): MeasuredEdition {
  const patch = readSnapshot(values);
  const store = new ValueStore(book);
  if (patch) store.accept(patch);
  const sums = patch && editionSums(book, (sheet, row, column) => store.get(sheet, row, column), today);
  const { title, currency, started: began, invented: isInvented } = book.meta;
  const why = sums ? undefined : NOT_CALCULATED;
  return { id, title, currency, began, isInvented, isOpen: false, sums, why };
}

const unread = (id: string, title: string): MeasuredEdition => ({
  ...{ id, title, currency: "", began: "", isInvented: false, isOpen: false, sums: undefined },
  why: "can’t be read: open it to see why",
});

/** The open edition, as it stands. */
function openMeasured(session: Session): MeasuredEdition {
  const book = session.book.value;
  const { title, currency, started: began, invented: isInvented } = book.meta;
  const read = (sheet: Parameters<typeof session.value>[0]["sheet"], row: string, column: string) =>
    session.value({ sheet, row, column });
  const sums = editionSums(book, read, session.today());
  const why = sums ? undefined : "still being calculated";
  return { id: "open", title, currency, began, isInvented, isOpen: true, sums, why };
}

/** Editions of one currency, and what they come to together. */
export interface CurrencyGroup {
  readonly currency: string;
  readonly editions: readonly MeasuredEdition[];
  readonly together: EditionSums;
}

/** Everything on the page. */
export interface EditionComparison {
  /** By currency, that of the open edition first: amounts of two currencies are never added. */
  readonly groups: readonly CurrencyGroup[];
  /** Editions that are left out, and why. */
  readonly leftOut: readonly MeasuredEdition[];
  /** Invented ones beside the studio's own: they are not looked at. */
  readonly invented: number;
}

/** What is shown of the editions that have been read. */
export function sideBySide(session: Session): EditionComparison {
  return groupsOf(openMeasured(session), othersMeasuredOf(session).value?.editions ?? []);
}

/** Puts editions together by currency; invented ones stand beside an invented one alone. */
export function groupsOf(open: MeasuredEdition, others: readonly MeasuredEdition[]): EditionComparison {
  const taken = [open, ...others].filter(({ isInvented }) => !isInvented || open.isInvented);
  const measured = taken.filter(({ sums }) => sums !== undefined);
  const currencies = [...new Set(measured.map(({ currency }) => currency))].sort(
    (a, b) => Number(b === open.currency) - Number(a === open.currency) || a.localeCompare(b, "en"),
  );
  return {
    groups: currencies.map((currency) => {
      const editions = measured.filter((one) => one.currency === currency);
      return { currency, editions, together: addedSums(editions.flatMap(({ sums }) => sums ?? [])) };
    }),
    leftOut: taken.filter(({ sums }) => sums === undefined),
    invented: 1 + others.length - taken.length,
  };
}

/** How the editions of a table are ordered: by a measure, by title, or by the day they were started. */
export interface SideOrder {
  readonly by: string;
  readonly isDown: boolean;
}

/** Editions in an order; those of which a measure is not known come last either way. */
export function inSideOrder(
  editions: readonly MeasuredEdition[],
  { by, isDown }: SideOrder,
): readonly MeasuredEdition[] {
  const measure = EDITION_MEASURES.find(({ id }) => id === by);
  const sign = isDown ? -1 : 1;
  const text = (one: MeasuredEdition) => (by === "began" ? `${one.began} ${one.title}` : one.title);
  if (!measure) return [...editions].sort((a, b) => sign * text(a).localeCompare(text(b), "en"));
  return [...editions].sort((a, b) => {
    const [one, other] = [measureValue(a, measure), measureValue(b, measure)];
    if (one === undefined || other === undefined) return Number(one === undefined) - Number(other === undefined);
    return sign * (one - other) || a.title.localeCompare(b.title, "en");
  });
}

/** A measure of an edition. */
export const measureValue = ({ sums }: MeasuredEdition, measure: EditionMeasure): number | undefined =>
  sums && measure.of(sums);

/** The columns of the table as a file has them, units in their names. */
export const sideColumns: readonly string[] = [
  ...["edition", "started on", "currency", "still in progress"],
  ...EDITION_MEASURES.map(({ title, unit }) => (unit === "¤" ? title : `${title}, ${unit.replace("¤", "currency")}`)),
];

/** The rows of the table as a file has them: full precision; what is not known is blank. */
export function sideRows({ groups }: EditionComparison, order: SideOrder): readonly (readonly (string | number)[])[] {
  return groups.flatMap(({ editions }) =>
    inSideOrder(editions, order).map((one) => [
      ...[one.title, one.began, one.currency, one.sums?.inProgress ?? Number.NaN],
      ...EDITION_MEASURES.map((measure) => measureValue(one, measure) ?? Number.NaN),
    ]),
  );
}
