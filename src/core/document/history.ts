// The one undo stack. It keeps changes, not documents.
import { type Change, invert, isEmptyChange, squash } from "./change";

/** How many steps are kept; the oldest go first. */
export const HISTORY_LIMIT = 2000;

export interface History {
  readonly done: readonly Change[];
  readonly undone: readonly Change[];
}

export const EMPTY_HISTORY: History = { done: [], undone: [] };

/** The history after one more change; what had been undone can no longer be redone. */
export function remember(history: History, change: Change): History {
  return { done: [...history.done, change].slice(-HISTORY_LIMIT), undone: [] };
}

/** The history after more typing into what the last step wrote: both are one step, and none where it all came to nothing. */
export function rememberMore(history: History, change: Change): History {
  const last = history.done.at(-1);
  if (!last) return remember(history, change);
  const whole = squash([last, change], last.label);
  const before = { ...history, done: history.done.slice(0, -1) };
  return isEmptyChange(whole) ? { ...before, undone: [] } : remember(before, whole);
}

/** The change to apply to undo the last step, with the history after it; undefined where there is nothing to undo. */
export function stepBack(history: History): { readonly change: Change; readonly history: History } | undefined {
  const last = history.done.at(-1);
  if (!last) return undefined;
  return { change: invert(last), history: { done: history.done.slice(0, -1), undone: [...history.undone, last] } };
}

/** The change to apply to redo the last undone step, with the history after it. */
export function stepForward(history: History): { readonly change: Change; readonly history: History } | undefined {
  const next = history.undone.at(-1);
  if (!next) return undefined;
  return { change: next, history: { done: [...history.done, next], undone: history.undone.slice(0, -1) } };
}
