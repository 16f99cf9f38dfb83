// An edition as the text of a file.
import { storedForm } from "./stored-form";
import type { Workbook } from "./workbook";

/** More than this is no edition: it is refused before it is read whole. */
export const LARGEST_FILE_BYTES = 100_000_000;

/** The edition as the text of a file. */
export function writeDocument(book: Workbook): string {
  return JSON.stringify(storedForm(book));
}
