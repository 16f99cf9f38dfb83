// How the studio's shelf is told from an edition. Apart from what is done with it, which loads when it is wanted.
import type { Column, SheetKey, Workbook } from "./workbook";

/** The template that only the shelf has, and the id it is kept under. */
export const SHELF = "shelf";

/** Whether a document is a shelf. */
export const isShelf = (book: Pick<Workbook, "template">): boolean => book.template.id === SHELF;

/** Sheets of a shelf. */
export const SHELF_SHEETS = ["materials", "purchases", "kilns", "programmes", "tariffs", "channels"] as const;

/** Lines of the Edition sheet that are the studio's, not one edition's. */
export const STUDIO_LINES: readonly string[] = [
  ...["wage", "overhead_rate", "overhead_loading", "tariff", "loading_minutes"],
];

/** Of what is computed only this means something on a shelf, which plans and uses nothing. */
const COMPUTED = ["per_gram", "target"];

/** Whether a column means anything in a document. */
export const hasColumn = (book: Workbook, { kind, key, own }: Column): boolean =>
  !isShelf(book) || kind === "input" || own === true || COMPUTED.includes(key);

/** Whether a row means anything in a document. */
export const hasRow = (book: Workbook, sheet: SheetKey, id: string): boolean =>
  sheet !== "edition" || !isShelf(book) || STUDIO_LINES.includes(id);
