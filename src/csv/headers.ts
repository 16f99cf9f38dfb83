// The first line of a file: one name a column, the same each time and different from every other.
//   “Glaze: coats”                    step title: column title
//   “Glaze: area (cm²)”               with its unit; the currency stands for ¤
//   “Route” “planned loss (fraction)” percentages of a column are written as fractions, and the unit says so
//   “Glaze: area in use (cm²)”        what a blank or a formula comes to; for reading only
//   “note [my_note]”                  the column's key, where two columns would have the same name
import { LABEL_COLUMNS, rowLabel, rowOf } from "../core/document/access";
import type { Column, SheetKey, Workbook } from "../core/document/workbook";

/** A column of a file: which column of the sheet it shows, and whether what was entered or what that comes to. */
export interface CsvColumn {
  readonly header: string;
  readonly column: Column;
  readonly shows: "entered" | "computed" | "in use";
}

/** The unit that a column of percentages has in a file: 0.125 is 12.5 %. */
const FRACTION_UNIT = "fraction";

const IN_USE = " in use";

/** Every column a file of that sheet may have, in the order of the sheet. Hidden ones are not among them. */
export function csvColumns(book: Workbook, sheet: SheetKey): readonly CsvColumn[] {
  const all = book.sheets[sheet].columns
    .filter((column) => !column.hidden)
    .flatMap((column): CsvColumn[] => {
      const header = headerText(book, column, "");
      if (column.kind === "computed") return [{ header, column, shows: "computed" }];
      const entered: CsvColumn = { header, column, shows: "entered" };
      return column.type === "number"
        ? [entered, { header: headerText(book, column, IN_USE), column, shows: "in use" }]
        : [entered];
    });
  return unique(all);
}

/** Gives those that share a name the key of their column as well. */
function unique(columns: readonly CsvColumn[]): readonly CsvColumn[] {
  const counts = new Map<string, number>();
  for (const { header } of columns) counts.set(sameName(header), (counts.get(sameName(header)) ?? 0) + 1);
  const keyed = (entry: CsvColumn) => ({ ...entry, header: `${entry.header} [${entry.column.key}]` });
  const named = columns.map((entry) => ((counts.get(sameName(entry.header)) ?? 0) > 1 ? keyed(entry) : entry));
  const isUnique = new Set(named.map((entry) => sameName(entry.header))).size === named.length;
  // Only a title that itself ends in a key in brackets can still be there twice.
  return isUnique ? named : columns.map(keyed);
}

function headerText(book: Workbook, column: Column, note: string): string {
  const unit = unitOf(book, column);
  return `${nameOf(book, column)}${note}${unit === "" ? "" : ` (${unit})`}`;
}

function nameOf(book: Workbook, column: Column): string {
  const step = column.step ? rowOf(book, "route", column.step) : undefined;
  return step ? `${rowLabel("route", step)}: ${column.title}` : column.title;
}

function unitOf(book: Workbook, column: Column): string {
  return column.format === "percent" ? FRACTION_UNIT : column.unit.replaceAll("¤", book.meta.currency);
}

/** Names that differ only in case or spaces are the same to a reader, and so to us. */
function sameName(header: string): string {
  return header.normalize("NFC").replace(/\s+/g, " ").trim().toLowerCase();
}

/** A header without case, odd spaces and its unit. */
export function plainHeader(header: string): string {
  return sameName(header).replace(/ ?\([^()]*\)$/, "");
}

/** How percentages stand in a column: by its header, or "ask" where that does not say. */
export type PercentForm = "fraction" | "percent" | "ask";

/** What became of one column of a file. */
export type HeaderMatch =
  | {
      readonly at: number;
      readonly header: string;
      readonly kind: "label" | "input";
      readonly column: Column;
      readonly percent: PercentForm;
    }
  | {
      readonly at: number;
      readonly header: string;
      readonly kind: "computed" | "twice" | "unit";
      readonly column: Column;
    }
  | { readonly at: number; readonly header: string; readonly kind: "unknown" | "left out" };

/**
 * Finds the sheet's column for each header of a file: by its whole name, then by its name without the unit. `chosen` gives
 * the key of the column for a header outright, or "" to leave that one out; `repeated` says which headers are a second of
 * their name, and what that is.
 */
export function matchHeaders(
  book: Workbook,
  sheet: SheetKey,
  headers: readonly string[],
  chosen: Readonly<Record<string, string>> = {},
  repeated: Readonly<Record<string, string>> = {},
): readonly HeaderMatch[] {
  const index = indexColumns(book, sheet);
  const taken = new Set<string>();
  return headers.map((header, at): HeaderMatch => {
    const key = Object.hasOwn(chosen, header) ? chosen[header] : undefined;
    if (key === "") return { at, header, kind: "left out" };
    const name = Object.hasOwn(repeated, header) ? repeated[header] : header;
    const found = key === undefined ? findColumn(index, name ?? "") : { entry: index.byKey.get(key), fits: true };
    if (!found?.entry) return { at, header, kind: "unknown" };
    const { column, shows } = found.entry;
    if (shows !== "entered") return { at, header, kind: "computed", column };
    if (!found.fits) return { at, header, kind: "unit", column };
    if (taken.has(column.key)) return { at, header, kind: "twice", column };
    taken.add(column.key);
    const kind = column.key === LABEL_COLUMNS[sheet] ? "label" : "input";
    return { at, header, kind, column, percent: percentForm(name ?? "") };
  });
}

/** Whether texts are names of a sheet's columns, with or without their units; numbers never are. */
export function nameKnower(book: Workbook, sheet: SheetKey): (text: string) => boolean {
  const index = indexColumns(book, sheet);
  return (text) => /[^\d.,\s]/.test(text) && findColumn(index, text)?.entry !== undefined;
}

/** Columns by the names they may be called by; undefined where several have that name. */
interface ColumnIndex {
  readonly byWhole: ReadonlyMap<string, CsvColumn | undefined>;
  readonly byBare: ReadonlyMap<string, CsvColumn | undefined>;
  readonly byKey: ReadonlyMap<string, CsvColumn>;
}

function indexColumns(book: Workbook, sheet: SheetKey): ColumnIndex {
  const all = csvColumns(book, sheet);
  const bareName = ({ column, shows }: CsvColumn) => nameOf(book, column) + (shows === "in use" ? IN_USE : "");
  return {
    byWhole: indexBy(all, (entry) => entry.header),
    byBare: indexBy(all, bareName),
    byKey: new Map(all.filter((entry) => entry.shows !== "in use").map((entry) => [entry.column.key, entry])),
  };
}

function indexBy(
  all: readonly CsvColumn[],
  nameIn: (entry: CsvColumn) => string,
): ReadonlyMap<string, CsvColumn | undefined> {
  const index = new Map<string, CsvColumn | undefined>();
  for (const entry of all) {
    const name = sameName(nameIn(entry));
    index.set(name, index.has(name) ? undefined : entry);
  }
  return index;
}

interface Found {
  readonly entry: CsvColumn | undefined;
  /** Whether the unit in the header is the column's, or there is none. */
  readonly fits: boolean;
}

function findColumn({ byWhole, byBare }: ColumnIndex, header: string): Found | undefined {
  const name = sameName(header);
  const entry = byWhole.get(name) ?? byBare.get(name);
  if (entry) return { entry, fits: true };
  const split = /^(.*\S) ?\(([^()]*)\)$/.exec(name);
  const named = split ? byBare.get(split[1] ?? "") : undefined;
  return named && { entry: named, fits: named.column.format === "percent" && split?.[2]?.trim() === "%" };
}

function percentForm(header: string): PercentForm {
  const unit = /\(([^()]*)\)(?: \[[^[\]]*\])?$/.exec(sameName(header))?.[1]?.trim();
  return unit === FRACTION_UNIT ? "fraction" : unit === "%" ? "percent" : "ask";
}
