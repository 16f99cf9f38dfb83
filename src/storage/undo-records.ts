// What was done in an edition, kept beside its document so that it can be undone after the page has been closed. Each step
// is a record of its own, written once; which of them there are stands in the document's record, so that the two are never
// out of step.
import { checksumOf } from "../core/checksum";
import type { Change } from "../core/document/change";
import { EMPTY_HISTORY, type History } from "../core/document/history";

/** How many steps are kept, and how many characters all of them may have; the newest stay. */
const MOST_STEPS = 500;
const MOST_CHARACTERS = 2_000_000;

/** The steps of a document by number, as they stand in its record. */
export interface UndoIndex {
  readonly done: readonly number[];
  readonly undone: readonly number[];
  /** Up to when (ISO 8601) what was done can't be undone any more. */
  readonly cut?: string;
}

/** One step as it is stored. */
export interface StepRecord {
  readonly text: string;
  readonly sum: number;
}

export interface KnownStep {
  readonly number: number;
  readonly size: number;
}

/** The steps that are stored with a revision of an edition. */
export interface KnownSteps {
  readonly id: string;
  readonly revision: number;
  readonly steps: ReadonlyMap<Change, KnownStep>;
  readonly last: number;
}

/** What to write with a document. */
export interface UndoWrite {
  readonly index: UndoIndex;
  /** Whether nothing is known of what is stored, so that all of it goes first. */
  readonly isAnew: boolean;
  readonly put: readonly (readonly [key: string, record: StepRecord])[];
  readonly gone: readonly string[];
  /** What is known once it is written. */
  readonly known: KnownSteps;
}

/** What to write to have a history kept with the next revision after `expected`. */
export function undoWrite(id: string, history: History, known: KnownSteps | undefined, expected: number): UndoWrite {
  const before = known?.id === id && known.revision === expected ? known : undefined;
  const steps = new Map<Change, KnownStep>();
  const put: (readonly [string, StepRecord])[] = [];
  let last = before?.last ?? 0;
  let room = MOST_CHARACTERS;
  /** Of a list whose last is nearest to now, as many of the last as there is room for. */
  const nearest = (changes: readonly Change[]): readonly number[] => {
    const numbers: number[] = [];
    for (const change of changes.toReversed()) {
      const stored = before?.steps.get(change);
      const text = stored ? "" : JSON.stringify(change);
      const step = stored ?? { number: last + 1, size: text.length };
      if (step.size > room || steps.size === MOST_STEPS) break;
      room -= step.size;
      last = Math.max(last, step.number);
      if (!stored) put.push([stepKey(id, step.number), { text, sum: checksumOf(text) }]);
      steps.set(change, step);
      numbers.unshift(step.number);
    }
    return numbers;
  };
  const undone = nearest(history.undone);
  const done = nearest(history.done);
  const cut = history.done.at(-done.length - 1)?.at ?? history.cut;
  const gone = [...(before?.steps ?? [])].flatMap(([change, { number }]) =>
    steps.has(change) ? [] : [stepKey(id, number)],
  );
  return {
    index: { done, undone, ...(cut === undefined ? {} : { cut }) },
    isAnew: !before,
    put,
    gone,
    known: { id, revision: expected + 1, steps, last },
  };
}

/** What to write where there is no room for what was done. */
export function withoutUndo(id: string, now: string, expected: number): UndoWrite {
  return undoWrite(id, { ...EMPTY_HISTORY, cut: now }, undefined, expected);
}

/** The key of a step: those of one edition stand together. */
export function stepKey(id: string, number: number): string {
  return `${id}|${number}`;
}
