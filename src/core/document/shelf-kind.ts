// How the studio's shelf is told from an edition. Apart from what is done with it, which loads when it is wanted.
import type { Column, Workbook } from "./workbook";

/** The template that only the shelf has, and the id it is kept under. */
export const SHELF = "shelf";

/** Whether a document is a shelf. */
export const isShelf = (book: Pick<Workbook, "template">): boolean => book.template.id === SHELF;

/** Sheets of a shelf. */
export const SHELF_SHEETS = ["materials", "kilns", "programmes", "tariffs"] as const;

/** Of what is computed only this means something on a shelf, which plans and uses nothing. */
const COMPUTED = ["per_gram", "target"];

/** Whether a column means anything in a document. */
export const hasColumn = (book: Workbook, { kind, key, own }: Column): boolean =>
  !isShelf(book) || kind === "input" || own === true || COMPUTED.includes(key);
