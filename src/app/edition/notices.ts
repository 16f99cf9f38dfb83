// What there is to tell the maker, and when it is no longer so. Pure.
import { type CellName, cellKeyOf, rowOf } from "../../core/document/access";
import type { Change } from "../../core/document/change";
import type { Workbook } from "../../core/document/workbook";

/** Something to tell the maker. */
export interface Notice {
  readonly id: number;
  readonly tone: "done" | "refused" | "failed";
  readonly text: string;
  readonly details: readonly string[];
  /** The step of the history that it tells of, if it tells of one. */
  readonly of?: Change | undefined;
  /** The cell whose entry was refused: the message stays with it until that cell is written. */
  readonly about?: CellName | undefined;
  /** Whether it holds only until the next change: what was refused has then been given up, or done in another way. */
  readonly passes?: boolean | undefined;
  /** Where it leads, by a button of this name; it then stays until it is pressed or closed. */
  readonly leads?: { readonly title: string; readonly go: () => void } | undefined;
  /** Whether it answers nothing that was done, so that it lets the others be read first. */
  readonly waits?: boolean | undefined;
}

/** How many messages are kept. */
const KEPT = 20;

/** The messages with one more: what was done last takes the place of what was done before. */
export function withNotice(notices: readonly Notice[], one: Notice): readonly Notice[] {
  const others = one.tone === "done" ? notices.filter(({ tone }) => tone !== "done") : notices;
  const last = others.slice(1 - KEPT);
  return one.waits ? [one, ...last] : [...last, one];
}

/** The messages that still hold once a change was made. */
export function noticesAfter(notices: readonly Notice[], change: Change, book: Workbook): readonly Notice[] {
  const holds = ({ about, passes }: Notice) =>
    about
      ? rowOf(book, about.sheet, about.row) !== undefined &&
        !change.operations.some((operation) => operation.kind === "cell" && cellKeyOf(operation) === cellKeyOf(about))
      : passes !== true;
  return notices.every(holds) ? notices : notices.filter(holds);
}
