// What the maker is told when a document saved by an earlier program is opened.
import type { Age, Completed } from "./complete";
import { SHEET_TITLES } from "./sheet-keys";
import { EARLIER_CHANGES, SHEET_CHANGES } from "./sheets/changes";
import { type CellSpec, type Column, type Row, SHEET_KEYS, type SheetKey, type StoredBook } from "./workbook";

/** A column or line of the standard sheets, as far as news go. */
interface Part {
  /** As `sheet:key`. */
  readonly name: string;
  readonly words: string;
  readonly formula: string | undefined;
}

/** What is new, what is calculated in another way and why, and what was kept; nothing where nothing is different. */
export function newsOf(stored: StoredBook, { book, keptAsOwn }: Completed, age: Age): readonly string[] {
  const kept =
    keptAsOwn.length === 0
      ? []
      : [`These are no longer part of the sheets. They were kept as your own: ${keptAsOwn.join("; ")}.`];
  if (!age.isWhole) {
    const since = SHEET_CHANGES.slice(age.sheetsVersion ?? SHEET_CHANGES.length);
    return [...since.flatMap(({ words }) => (words === "" ? [] : [words])), ...kept];
  }
  const were = new Map(partsOf(stored).map((part) => [part.name, part]));
  const today = partsOf(book);
  const fresh = today.filter(({ name }) => !were.has(name));
  const moved = new Set(
    today.filter(({ name, formula }) => were.has(name) && were.get(name)?.formula !== formula).map(({ name }) => name),
  );
  const why = EARLIER_CHANGES.filter(({ moves }) => moves.some((name) => moved.has(name))).map(({ words }) => words);
  return [...why, ...listed("New here", fresh), ...kept];
}

function listed(lead: string, parts: readonly Part[]): string[] {
  return parts.length === 0 ? [] : [`${lead}: ${parts.map(({ words }) => words).join("; ")}.`];
}

/** The columns and lines that are shown. Formulas made for the route follow from it and are no news. */
function partsOf({ sheets }: Pick<StoredBook, "sheets">): readonly Part[] {
  return SHEET_KEYS.flatMap((key) => [
    ...sheets[key].columns.filter(({ own }) => !own).map((column) => columnPart(key, column)),
    ...sheets[key].rows.flatMap((row) => (row.line && !row.own ? [linePart(key, row, row.line)] : [])),
  ]).filter(({ words }) => words !== "");
}

const columnPart = (sheet: SheetKey, { key, title, formula, hidden }: Column): Part => ({
  name: `${sheet}:${key}`,
  words: hidden ? "" : `${SHEET_TITLES[sheet]} › ${title}`,
  formula,
});

const linePart = (sheet: SheetKey, { id, cells }: Row, { formula }: CellSpec): Part => ({
  name: `${sheet}:${id}`,
  words: `${SHEET_TITLES[sheet]} › ${cells.label}`,
  formula,
});
