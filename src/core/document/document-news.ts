// The messages for the maker when a document saved by an earlier program is opened.

import { EARLIER_CHANGES, SHEET_CHANGES } from "../sheets/changes";
import type { Age, Completed } from "./complete";
import { SHEET_TITLES } from "./sheet-keys";
import { SHEET_KEYS, type StoredBook } from "./workbook";

/** Nobody reads more names in one sentence. */
const MOST_NAMED = 15;

/** A column or line of the standard sheets, as far as news go. */
interface Part {
  /** What it is called; nothing where it is not shown. */
  readonly title: string;
  readonly formula: string | undefined;
}

/** What is calculated in another way and why, what is new, and what was kept; nothing where nothing is different. */
export function newsOf(stored: StoredBook, { book, keptAsOwn }: Completed, age: Age): readonly string[] {
  const were = partsOf(stored);
  const today = age.isWhole ? [...partsOf(book)] : [];
  const earlier = EARLIER_CHANGES.filter(
    ({ of: [first], lacks }) => age.isWhole && were.has(first) && !were.get(first)?.formula?.includes(lacks),
  );
  const later = SHEET_CHANGES.slice(age.isWhole ? 0 : (age.sheetsVersion ?? 0));
  const fresh = today.flatMap(([name, { title }]) => (were.has(name) || title === "" ? [] : [title]));
  return [
    ...[...earlier, ...later].map(({ words }) => words).filter((words) => words !== ""),
    ...named("New on the sheets", fresh),
    ...named("No longer part of the sheets, and kept as your own", keptAsOwn),
  ];
}

function named(lead: string, titles: readonly string[]): string[] {
  const more = titles.length > MOST_NAMED ? ` and ${titles.length - MOST_NAMED} more` : "";
  return titles.length === 0 ? [] : [`${lead}: ${titles.slice(0, MOST_NAMED).join("; ")}${more}.`];
}

/** The columns and lines that are not the maker's, by `sheet:key`. */
function partsOf({ sheets }: Pick<StoredBook, "sheets">): ReadonlyMap<string, Part> {
  const parts = new Map<string, Part>();
  for (const sheet of SHEET_KEYS) {
    const titled = (title: unknown) => `${SHEET_TITLES[sheet]}, ${title}`;
    for (const { key, title, formula, hidden, own } of sheets[sheet].columns)
      if (!own) parts.set(`${sheet}:${key}`, { title: hidden ? "" : titled(title), formula });
    for (const { id, line, own, cells } of sheets[sheet].rows)
      if (line && !own) parts.set(`${sheet}:${id}`, { title: titled(cells.label), formula: line.formula });
  }
  return parts;
}
