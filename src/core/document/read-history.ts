// The undo stack of an edition, read back from where it was kept beside it. It brings the checker with it.
import { applyChange, type Change, invert } from "./change";
import { readChange } from "./change-schema";
import type { Workbook } from "./workbook";

type Texts = readonly (string | undefined)[];
type Changes = readonly Change[];

/**
 * The steps of a document from their texts, oldest first, and what was undone with the next to redo last. Undefined where one
 * of them is missing, does not make sense or does not fit the document.
 */
export function readHistory(
  book: Workbook,
  written: { readonly done: Texts; readonly undone: Texts },
): { readonly done: Changes; readonly undone: Changes } | undefined {
  const done = changesOf(written.done);
  const undone = changesOf(written.undone);
  if (!done || !undone) return undefined;
  try {
    done.map(invert).reduceRight(applyChange, book);
    undone.reduceRight(applyChange, book);
  } catch {
    // A change names what is not there: it does not belong to this document.
    return undefined;
  }
  return { done, undone };
}

function changesOf(texts: Texts): Changes | undefined {
  const changes: Change[] = [];
  for (const text of texts) {
    const change = text === undefined ? undefined : readChange(text);
    if (!change) return undefined;
    changes.push(change);
  }
  return changes;
}
