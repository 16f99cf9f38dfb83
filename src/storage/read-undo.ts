// What was done in an edition, read back with its document. It brings the checker with it: what loads first does without.
import { checksumOf } from "../core/checksum";
import type { Change } from "../core/document/change";
import { EMPTY_HISTORY, type History } from "../core/document/history";
import { readHistory } from "../core/document/read-history";
import type { Workbook } from "../core/document/workbook";
import { type KnownStep, type KnownSteps, type StepRecord, stepKey, type UndoIndex } from "./undo-records";

/** A history that was read, with what is known of its steps. */
interface ReadUndo {
  readonly history: History;
  readonly known: KnownSteps | undefined;
}

/** The history of a stored document; where it is damaged, or does not fit the document, none of it can be undone. */
export function readUndo(
  {
    id,
    revision,
    updatedAt,
    book,
  }: { readonly id: string; readonly revision: number; readonly updatedAt: string; readonly book: Workbook },
  index: UndoIndex,
  stored: ReadonlyMap<string, unknown>,
): ReadUndo {
  const nothing = { history: { ...EMPTY_HISTORY, cut: updatedAt }, known: undefined };
  const textOf = (number: number): string | undefined => {
    const { text, sum } = (stored.get(stepKey(id, number)) ?? {}) as Partial<StepRecord>;
    return typeof text === "string" && sum === checksumOf(text) ? text : undefined;
  };
  const texts = { done: index.done.map(textOf), undone: index.undone.map(textOf) };
  const history = readHistory(book, texts);
  if (!history) return nothing;
  const steps = new Map<Change, KnownStep>();
  for (const list of ["done", "undone"] as const)
    history[list].forEach((change, at) => {
      steps.set(change, { number: index[list][at] ?? 0, size: texts[list][at]?.length ?? 0 });
    });
  const last = Math.max(0, ...index.done, ...index.undone);
  const cut = index.cut === undefined ? {} : { cut: index.cut };
  return { history: { ...history, ...cut }, known: { id, revision, steps, last } };
}

/** The index in a stored document record, if it has one. */
export function undoIndexOf(document: unknown): UndoIndex | undefined {
  const { undo } = (document ?? {}) as { readonly undo?: Partial<UndoIndex> };
  const isList = (list: unknown) => Array.isArray(list) && list.every(Number.isInteger);
  return undo && isList(undo.done) && isList(undo.undone) ? (undo as UndoIndex) : undefined;
}
