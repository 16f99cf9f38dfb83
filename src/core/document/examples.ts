// Amounts of a fresh edition that are still its template's. Each is kept with its cell in the edition: one that has been
// given another value is the maker's without more ado, one that is right as it is has to be said to be.
import { type CellName, cellKeyOf, rawAt } from "./access";
import type { Change } from "./change";
import type { Workbook } from "./workbook";

/** The edition with the numbers in these cells marked as the template's too; blank cells and texts are not. */
export function withExamples(book: Workbook, cells: readonly CellName[]): Workbook {
  const amounts = cells.flatMap((cell) => {
    const raw = rawAt(book, cell);
    return typeof raw === "number" ? [[cellKeyOf(cell), raw] as const] : [];
  });
  return { ...book, meta: { ...book.meta, examples: { ...book.meta.examples, ...Object.fromEntries(amounts) } } };
}

/** Whether a cell still holds what the template gave and nobody has said that it holds. */
export function isExample(book: Workbook, cell: CellName): boolean {
  const amount = book.meta.examples?.[cellKeyOf(cell)];
  return amount !== undefined && rawAt(book, cell) === amount;
}

/** Says of amounts that they hold: they are the maker's from now on. */
export function keepExamples(book: Workbook, cells: readonly CellName[], label: string): Change {
  const kept = new Set(cells.map(cellKeyOf));
  const left = Object.entries(book.meta.examples ?? {}).filter(([key]) => !kept.has(key));
  if (left.length === Object.keys(book.meta.examples ?? {}).length) return { label, operations: [] };
  const { examples: _, ...meta } = book.meta;
  const is = left.length > 0 ? { ...meta, examples: Object.fromEntries(left) } : meta;
  return { label, operations: [{ kind: "meta", was: book.meta, is }] };
}
