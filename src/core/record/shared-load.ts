// One load of a kiln as several editions tell of it: whose firings may be the same, and whether their parts make a whole.
// Every edition keeps what the others have in the kiln in its own document, so that it gives the same numbers alone.
import { checksumOf } from "../checksum";
import { listed } from "../counted";
import { rowLabel } from "../document/access";
import type { Change, Operation } from "../document/change";
import type { Raw, Row, SheetKey, Workbook } from "../document/workbook";
import { nameKey } from "../same-name";
import { isFiringStep } from "../sheets/step-kinds";

/** What is in a kiln: pieces, kg, cm² of shelf, and cm of the tallest. */
export interface InKiln {
  readonly count: number;
  readonly kg: number;
  readonly cm2: number;
  readonly height: number;
}

/** What an edition calculates a firing with, as it was typed; undefined where a formula gives it. */
interface FiringRates {
  readonly currency: string;
  readonly wage: number | undefined;
  readonly tariff: number | undefined;
  readonly loading: number | undefined;
  readonly wear: number | undefined;
}

/** A firing as one edition tells of it. */
export interface LoadSide {
  readonly edition: string;
  readonly title: string;
  readonly row: string;
  readonly name: string;
  readonly kiln: string;
  /** ISO day; blank where none is said. */
  readonly day: string;
  readonly programme: string;
  readonly basis: string;
  /** Read off the meter. */
  readonly kwh: number | undefined;
  /** Pieces of this edition, ware of none, and what it counts of other editions. */
  readonly own: InKiln;
  readonly other: InKiln;
  readonly with: InKiln;
  readonly rates: FiringRates;
  /** What its cell “shared load” says: blank until it is answered. */
  readonly shared: string;
  /** The same for firings that are one load. */
  readonly load: string;
}

/** The number in a cell; undefined where it is blank or not known. */
export type NumberAt = (sheet: SheetKey, row: Row, column: string) => number | undefined;

/** Stands in “shared load” where the maker has said that no other edition is in it. */
const ALONE = "alone";
export const KILN_MEASURES = ["count", "kg", "cm2"] as const;

/** Numbers of an edition that is not open: what was typed, otherwise the edition's usual piece. */
export function typedIn(book: Workbook): NumberAt {
  const usual: Readonly<Record<string, string>> = { kg: "piece_kg", foot: "piece_foot", height: "piece_height" };
  const line = (id: string) => numberOf(book.sheets.edition.rows.find((row) => row.id === id)?.cells.value) ?? 0;
  return (sheet, row, column) => {
    const typed = numberOf(row.cells[column]);
    if (typed !== undefined) return typed;
    if (sheet === "pieces") return line(usual[column] ?? "");
    const count = numberOf(row.cells.other_count);
    if (column === "other_kg") return count && count * line("piece_kg");
    if (column === "other_cm2") return count && count * line("piece_foot");
    if (column === "other_height") return count && line("piece_height");
    const [before, after] = [numberOf(row.cells.meter_before), numberOf(row.cells.meter_after)];
    return column === "meter" && before !== undefined && after !== undefined ? after - before : undefined;
  };
}

const numberOf = (raw: Raw | undefined) => (typeof raw === "number" ? raw : undefined);
const textOf = (raw: Raw | undefined) => (typeof raw === "string" ? raw.trim() : "");

/** Every firing of an edition that has a kiln, as it tells of it. */
export function sidesOf(edition: string, book: Workbook, at: NumberAt): readonly LoadSide[] {
  const steps = book.sheets.route.rows;
  const orderOf = new Map(steps.map(({ id }, index) => [id as Raw, index]));
  const held = new Map<string, InKiln>();
  for (const [index, step] of steps.entries())
    for (const piece of isFiringStep(step) ? book.sheets.pieces.rows : []) {
      const name = textOf(piece.cells[`${step.id}.firing`]);
      const lost = piece.cells.lost_at === undefined ? undefined : orderOf.get(piece.cells.lost_at);
      if (name === "" || (lost !== undefined && lost < index)) continue;
      const size = (column: string) => at("pieces", piece, column) ?? 0;
      const own = held.get(name) ?? NOTHING;
      held.set(name, together([own, { count: 1, kg: size("kg"), cm2: size("foot"), height: size("height") }]));
    }
  return book.sheets.firings.rows.flatMap((row): LoadSide[] => {
    const kiln = textOf(row.cells.kiln);
    const name = rowLabel("firings", row);
    const said = (who: string): InKiln => {
      const number = (column: string) => at("firings", row, `${who}_${column}`) ?? 0;
      return { count: number("count"), kg: number("kg"), cm2: number("cm2"), height: number("height") };
    };
    const shared = textOf(row.cells.shared);
    return kiln === ""
      ? []
      : [
          {
            ...{ edition, title: book.meta.title, row: row.id, name, kiln, shared },
            ...{ day: textOf(row.cells.date), programme: textOf(row.cells.programme), basis: textOf(row.cells.basis) },
            kwh: at("firings", row, "meter"),
            rates: ratesOf(book, row),
            ...{ own: held.get(name) ?? NOTHING, other: said("other"), with: said("with") },
            load: shared === "" ? checksumOf(`${edition} ${row.id}`).toString(36) : shared,
          },
        ];
  });
}

function ratesOf(book: Workbook, firing: Row): FiringRates {
  const line = (id: string) => numberOf(book.sheets.edition.rows.find((row) => row.id === id)?.cells.value);
  const kiln = book.sheets.kilns.rows.find(({ cells }) => cells.id === firing.cells.kiln);
  return {
    currency: book.meta.currency,
    ...{ wage: line("wage"), tariff: line("tariff") },
    loading: numberOf(firing.cells.loading) ?? line("loading_minutes"),
    wear: numberOf(kiln?.cells.wear),
  };
}

const NOTHING: InKiln = { count: 0, kg: 0, cm2: 0, height: 0 };

/** All of it as one. */
function together(parts: readonly InKiln[]): InKiln {
  const sum = (of: (typeof KILN_MEASURES)[number]) => tidy(parts.reduce((total, one) => total + one[of], 0));
  return {
    count: sum("count"),
    kg: sum("kg"),
    cm2: sum("cm2"),
    height: Math.max(0, ...parts.map((one) => one.height)),
  };
}

// Sums of typed weights, without the dust of binary fractions.
const tidy = (sum: number) => Number(sum.toPrecision(12));

/** Firings of other editions that may be the same load: the same kiln by name on the same day, and not answered yet. */
export function mayBeSame(side: LoadSide, others: readonly LoadSide[]): readonly LoadSide[] {
  if (side.shared !== "" || side.day === "") return [];
  return others.filter(
    (one) =>
      one.day === side.day &&
      nameKey(one.kiln) === nameKey(side.kiln) &&
      one.shared !== ALONE &&
      one.load !== side.load,
  );
}

/** Firings of other editions that are the same load. */
export function inSameLoad(side: LoadSide, others: readonly LoadSide[]): readonly LoadSide[] {
  return side.load === ALONE ? [] : others.filter(({ load }) => load === side.load);
}

/** The part of its firing that an edition bears by its own document, 0 to 1. */
export function partOf({ basis, own, other, with: beside }: LoadSide): number {
  const by = measureOf(basis);
  const all = own[by] + other[by] + beside[by];
  return all === 0 ? 0 : own[by] / all;
}

export const measureOf = (basis: string) => (basis === "weight" ? "kg" : basis === "shelf area" ? "cm2" : "count");

/** Whether two amounts of a load are the same but for rounding. */
export const isAlike = (a: number, b: number) => Math.abs(a - b) <= 1e-6 * Math.max(1, Math.abs(a), Math.abs(b));

/** What a firing would count of the other editions in its load. */
export const heldByOthers = (others: readonly LoadSide[]): InKiln => together(others.map(({ own }) => own));

/** One change: the firing is the same load as those of other editions, and counts what they hold. */
export function countTheirs(book: Workbook, side: LoadSide, others: readonly LoadSide[]): Change {
  const theirs = heldByOthers(others);
  const names = listed([...new Set(others.map(({ title }) => title))]);
  // What one of them has said of other ware holds here too, unless something is typed here.
  const ware = others.find(({ other }) => other.count + other.kg + other.cm2 > 0)?.other;
  const isNew = side.other.count + side.other.kg + side.other.cm2 === 0;
  const load = others.find(({ shared }) => shared !== "")?.load ?? others[0]?.load ?? side.load;
  return written(book, side, `Firing ${side.name} is one load with ${names}`, {
    ...{ shared: side.shared === "" || side.shared === ALONE ? load : side.shared, with: names },
    ...amounts("with", theirs),
    ...(ware && isNew ? amounts("other", ware) : {}),
  });
}

const amounts = (who: string, { count, kg, cm2, height }: InKiln) => ({
  ...{ [`${who}_count`]: count, [`${who}_kg`]: kg, [`${who}_cm2`]: cm2, [`${who}_height`]: height },
});

/** One change: no other edition is in this firing. */
export function fireAlone(book: Workbook, side: LoadSide): Change {
  const blank = { with: undefined, with_count: undefined, with_kg: undefined, with_cm2: undefined };
  return written(book, side, `Firing ${side.name} holds no other edition`, {
    ...{ ...blank, with_height: undefined },
    shared: ALONE,
  });
}

function written(
  book: Workbook,
  side: LoadSide,
  label: string,
  cells: Readonly<Record<string, Raw | undefined>>,
): Change {
  const row = book.sheets.firings.rows.find(({ id }) => id === side.row);
  const operations = Object.entries(cells).flatMap(([column, is]): Operation[] => {
    const was = row?.cells[column];
    return was === is ? [] : [{ kind: "cell", sheet: "firings", row: side.row, column, was, is }];
  });
  return { label, operations };
}

/** Whether one edition is a copy of another: the same pieces, and firings of the same names and days. */
export function isCopyOf(a: Workbook, b: Workbook): boolean {
  const identity = ({ sheets }: Workbook) =>
    JSON.stringify([
      sheets.pieces.rows.map((row) => [row.id, rowLabel("pieces", row)]),
      sheets.firings.rows.map(({ id, cells }) => [id, cells.id, cells.kiln, cells.date]),
    ]);
  return identity(a) === identity(b);
}
