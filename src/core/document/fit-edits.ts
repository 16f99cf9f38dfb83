// Edits that were made on another state of a document: which of them still fit it as it is now, and which do not and why.
import { counted, plural } from "../counted";
import { columnIndex, rowIndex } from "./access";
import { applyChange, type Change, invert, type Operation, sameRaw, squash } from "./change";
import { soundAfter } from "./check-cells";
import { isSame } from "./difference";
import { SHEET_KEYS, type Workbook } from "./workbook";

/** An edit, or what of it does not fit. */
export interface Unfit {
  readonly of: Change;
  readonly change: Change;
  readonly why: string;
}

/** What still fits, as one change, and what does not. */
export interface Fitted {
  readonly change: Change;
  readonly left: readonly Unfit[];
}

/**
 * Takes of each edit what still fits `book`: cells that hold what they held then, or already what was written. An edit that
 * does more than write cells fits whole or not at all. What was entered since is never written over.
 */
export function fitEdits(book: Workbook, edits: readonly Change[], label: string): Fitted {
  const taken: Change[] = [];
  const left: Unfit[] = [];
  let now = book;
  for (const edit of edits) {
    const { fits, rest } = edit.operations.every(isCell) ? cellsOf(now, edit) : wholeOf(now, edit);
    const after = soundAfter(now, [fits]);
    if (!after) left.push({ of: edit, change: edit, why: "it breaks a rule of the edition as it is now" });
    else {
      now = after;
      taken.push(fits);
      if (rest) left.push(rest);
    }
  }
  return { change: squash(taken, label), left };
}

interface Parted {
  readonly fits: Change;
  readonly rest: Unfit | undefined;
}

function isCell(operation: Operation): operation is Extract<Operation, { kind: "cell" }> {
  return operation.kind === "cell";
}

function cellsOf(book: Workbook, edit: Change): Parted {
  const { operations } = squash([edit], edit.label);
  const isFitting = (operation: Operation) => {
    if (!isCell(operation)) return false;
    const { sheet, row, column, was, is } = operation;
    const at = rowIndex(book.sheets[sheet]).get(row);
    if (at === undefined || !columnIndex(book.sheets[sheet]).has(column)) return false;
    const holds = book.sheets[sheet].rows[at]?.cells[column];
    return sameRaw(holds, was) || sameRaw(holds, is);
  };
  const unfit = operations.filter((operation) => !isFitting(operation));
  const why = `${unfit.length} of ${counted(operations.length, "cell")} no longer ${plural(unfit.length, "holds what it", "hold what they")} did, or ${plural(unfit.length, "is", "are")} gone`;
  return {
    fits: { ...edit, operations: operations.filter(isFitting) },
    rest: unfit.length === 0 ? undefined : { of: edit, change: { ...edit, operations: unfit }, why },
  };
}

/** An edit belongs to a document if taking it back gives that document again, and no name stands twice in between. */
function wholeOf(book: Workbook, edit: Change): Parted {
  const nothing = { ...edit, operations: [] };
  const rest = { of: edit, change: edit, why: "rows, columns or settings it needs have changed since" };
  try {
    const after = applyChange(book, edit);
    const isFitting = areNamesSingle(after) && isSame(applyChange(after, invert(edit)), book);
    return isFitting ? { fits: edit, rest: undefined } : { fits: nothing, rest };
  } catch {
    return { fits: nothing, rest };
  }
}

function areNamesSingle({ sheets, lists }: Workbook): boolean {
  const isSingle = (names: readonly string[]) => new Set(names).size === names.length;
  return (
    SHEET_KEYS.every(
      (key) => isSingle(sheets[key].rows.map(({ id }) => id)) && isSingle(sheets[key].columns.map((one) => one.key)),
    ) && Object.values(lists).every((entries) => isSingle(entries.map(({ id }: { readonly id: string }) => id)))
  );
}
