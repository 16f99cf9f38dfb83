// The day of what is entered: of a step, of a loss and of being passed it is a cell beside the entry, which Record writes.
// A firing has its date and a sale its day already. What was typed on the sheet has none, until it is asked for.
import { columnOf, rowOf } from "../document/access";
import { applyChange, type Operation, sameRaw } from "../document/change";
import type { Row, Workbook } from "../document/workbook";
import { isFiringStep } from "../sheets/step-kinds";
import { doneColumnOf } from "../steps/piece-steps";

/** An entry of the Pieces sheet and the cell that holds its day. */
export interface DatedColumn {
  readonly entered: string;
  readonly day: string;
  /** The step it is entered at; undefined for a loss and for being passed. */
  readonly step: Row | undefined;
}

/** Every entry of a piece that has a day of its own: the steps in the order of the route, a loss, being passed. */
export function datedColumns(book: Workbook): readonly DatedColumn[] {
  const steps = book.sheets.route.rows.flatMap((step): DatedColumn[] => {
    const [entered, day] = [doneColumnOf(step), `${step.id}.day`];
    return entered === undefined || isFiringStep(step) || !columnOf(book, "pieces", day)
      ? []
      : [{ entered, day, step }];
  });
  return [
    ...steps,
    { entered: "lost_at", day: "lost_on", step: undefined },
    { entered: "grade", day: "passed_on", step: undefined },
  ];
}

/**
 * The cells that say on which day a recording was made. What is put right later keeps the day it had: it was done then, and
 * what the books of that day held otherwise is a correction.
 */
export function daysOf(book: Workbook, operations: readonly Operation[], day: string): readonly Operation[] {
  const after = applyChange(book, { label: "", operations });
  const byColumn = new Map(datedColumns(after).map((one) => [one.entered, one.day]));
  return operations.flatMap((one): Operation[] => {
    if (one.kind !== "cell" || one.sheet !== "pieces") return [];
    const column = byColumn.get(one.column);
    if (column === undefined || (one.was !== undefined && one.is !== undefined)) return [];
    const was = rowOf(book, "pieces", one.row)?.cells[column];
    const is = one.is === undefined ? undefined : day;
    return sameRaw(was, is) ? [] : [{ kind: "cell", sheet: "pieces", row: one.row, column, was, is }];
  });
}
