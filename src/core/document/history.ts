// The one undo stack. It keeps changes, not documents.
import { type Change, invert, isEmptyChange, squash } from "./change";

/** How many steps are kept; the oldest go first. */
export const HISTORY_LIMIT = 2000;

export interface History {
  readonly done: readonly Change[];
  readonly undone: readonly Change[];
  /** Up to when (ISO 8601) what was done can't be undone any more; undefined where all of it can. */
  readonly cut?: string;
}

/**
 * What a change is to the history: a step of its own where it is left out; more typing into what the last step wrote; or so
 * many steps gone, back where negative and forth again where positive.
 */
export type HistoryEffect = "more" | number | undefined;

export const EMPTY_HISTORY: History = { done: [], undone: [] };

/** The history after one more change; what had been undone can no longer be redone. */
export function remember(history: History, change: Change): History {
  const done = [...history.done, change];
  const oldest = done.length > HISTORY_LIMIT ? done.shift() : undefined;
  const cut = oldest?.at ?? history.cut;
  return { done, undone: [], ...(cut === undefined ? {} : { cut }) };
}

/** The history after more typing into what the last step wrote: both are one step, and none where it all came to nothing. */
function rememberMore(history: History, change: Change): History {
  const last = history.done.at(-1);
  if (!last) return remember(history, change);
  const whole = { ...squash([last, change], last.label), ...(last.at === undefined ? {} : { at: last.at }) };
  const before = { ...history, done: history.done.slice(0, -1) };
  return isEmptyChange(whole) ? { ...before, undone: [] } : remember(before, whole);
}

/**
 * The change that takes so many steps back (`by` negative) or forth again, with the history after it; undefined where there
 * are not so many.
 */
export function walk(history: History, by: number): { readonly change: Change; readonly history: History } | undefined {
  const { done, undone } = history;
  const from = by < 0 ? done : undone;
  const steps = from.slice(from.length - Math.abs(by)).reverse();
  if (by === 0 || steps.length < Math.abs(by)) return undefined;
  const left = from.slice(0, from.length - steps.length);
  const changes = by < 0 ? steps.map(invert) : steps;
  const [only] = changes;
  const change = only && changes.length === 1 ? only : squash(changes, steps.at(-1)?.label ?? "");
  const after = by < 0 ? { done: left, undone: [...undone, ...steps] } : { done: [...done, ...steps], undone: left };
  return { change, history: { ...history, ...after } };
}

/** The history after a change that was made elsewhere with such an effect; one that does not fit this one is a step of its own. */
export function historyAfter(history: History, change: Change, effect: HistoryEffect): History {
  if (effect === "more") return rememberMore(history, change);
  const walked = effect === undefined ? undefined : walk(history, effect);
  const isSame = walked && JSON.stringify(walked.change.operations) === JSON.stringify(change.operations);
  if (isSame) return walked.history;
  return isEmptyChange(change) ? history : remember(history, change);
}
