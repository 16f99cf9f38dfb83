// What was done in an edition, step by step, with the way back to each.
import { counted } from "../../core/counted";
import type { History } from "../../core/document/history";
import type { Session } from "../edition/session";

/** One line of the list: a step, or how the edition was before all of them. */
export interface DoneLine {
  /** What was done; undefined for how it was before. */
  readonly label: string | undefined;
  /** When, ISO 8601, where that is known. */
  readonly at: string | undefined;
  readonly isUndone: boolean;
  /** How many steps lead there: back where negative, none where the edition stands there now. */
  readonly by: number;
}

/** The lines of a history, the newest first: what was undone, what is done, and what was before. */
export function doneLines({ done, undone }: History): readonly DoneLine[] {
  const steps = [...done, ...undone.toReversed()];
  const lines = steps.map(({ label, at }, index) => {
    const by = index + 1 - done.length;
    return { label, at, isUndone: by > 0, by };
  });
  return [{ label: undefined, at: undefined, isUndone: false, by: -done.length }, ...lines].toReversed();
}

/** Goes to where a line stands, in one press; gives in words what that did, and undefined where nothing may be changed. */
export function goToLine(session: Session, { by, label }: DoneLine): string | undefined {
  if (by === 0 || !session.walk(by)) return undefined;
  const count = Math.abs(by);
  const steps = `${counted(count, "step")} ${by < 0 ? "undone" : "redone"}`;
  return `${steps}. The edition is as it was ${label === undefined ? "before all of these" : `after: ${label}`}.`;
}
