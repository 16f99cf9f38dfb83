// Entries of what an edition keeps beside its sheets: added, changed, taken out.
import type { ListOperation } from "./change";
import { freshRowId } from "./edits";
import type { ListEntry, ListKey, Workbook } from "./workbook";

/** Puts an entry at the end of a list. */
export function addEntry<K extends ListKey>(book: Workbook, list: K, entry: ListEntry<K>): ListOperation {
  return { kind: "list", list, at: book.lists[list].length, was: undefined, is: entry };
}

/** Puts an entry in the place of the one with its id; nothing where there is none. */
export function changeEntry<K extends ListKey>(book: Workbook, list: K, entry: ListEntry<K>): ListOperation[] {
  const at = indexOfEntry(book, list, entry.id);
  return at < 0 ? [] : [{ kind: "list", list, at, was: book.lists[list][at], is: entry }];
}

/** Takes an entry out; nothing where there is none. */
export function removeEntry(book: Workbook, list: ListKey, id: string): ListOperation[] {
  const at = indexOfEntry(book, list, id);
  return at < 0 ? [] : [{ kind: "list", list, at, was: book.lists[list][at], is: undefined }];
}

/** An id that no entry of a list has. */
export function freshEntryId(book: Workbook, list: ListKey): string {
  return freshRowId(book.lists[list], list.charAt(0));
}

function indexOfEntry(book: Workbook, list: ListKey, id: string): number {
  const entries: readonly ListEntry[] = book.lists[list];
  return entries.findIndex((entry) => entry.id === id);
}
