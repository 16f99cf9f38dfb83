// Everything that can be done, in one table: buttons, shortcuts and help all come from here.
import { counted } from "../../core/counted";
import { type CellName, resolveCell, rowLabel } from "../../core/document/access";
import { type Change, isEmptyChange } from "../../core/document/change";
import { type CellEntry, clearCells, type EntryOutcome, writeEntries } from "../../core/document/edits";
import type { FormulaCheck } from "../../core/formula/formula-check";
import type { Result } from "../../core/problem";
import type { Session } from "../edition/session";

/** Commits a change that could be made and says what was done, or says why it could not. */
export function commit(session: Session, result: Result<Change>, done?: string): boolean {
  if (!result.ok) {
    session.refuse(result.problems);
    return false;
  }
  if (!session.commit(result.value)) return false;
  if (!isEmptyChange(result.value)) session.notifyDone(done ?? `${result.value.label}.`);
  else if (done !== undefined) session.notify("done", done);
  return true;
}

interface WriteOptions {
  readonly override?: boolean;
  readonly overflow?: number;
  readonly check?: FormulaCheck | undefined;
  /** The step that this typing goes on with. */
  readonly goesOn?: Change | undefined;
  /** Hears what is to be said of the entries, in the place of a message. */
  readonly onOutcome?: (outcome: Pick<EntryOutcome, "refused" | "messages">) => void;
}

/** Writes as `writeCells` does; formulas among the entries are tried alone first, and their units looked at. */
export async function writeChecked(
  session: Session,
  entries: readonly CellEntry[],
  how: "typed" | "pasted" | "filled" | "cleared",
  options: WriteOptions = {},
): Promise<boolean> {
  const hasFormula = how !== "cleared" && entries.some(({ typed }) => typed.trimStart().startsWith("="));
  // Without a formula nothing is waited for: the entry is written within the key press.
  if (!hasFormula) return writeCells(session, entries, how, options);
  const checks = await loadChecks(session);
  const sound = checks ? await checks.withoutSlow(session, entries) : entries;
  if (sound.length === 0) return false;
  return (
    writeCells(session, sound, how, { ...options, check: checks?.checkFormula }) && sound.length === entries.length
  );
}

/** What formulas are checked with; undefined, and said so, where it could not be loaded. */
async function loadChecks(session: Session) {
  try {
    const [{ checkFormula }, { withoutSlow }] = await Promise.all([
      import("../edition/formula-check"),
      import("../edition/try-alone"),
    ]);
    return { checkFormula, withoutSlow };
  } catch {
    session.notify("failed", "The units of the formula could not be checked: that part of the page did not load.");
    return undefined;
  }
}

/** Writes what was typed, pasted, filled or cleared. Good entries are kept; each bad one gets a message. */
export function writeCells(
  session: Session,
  entries: readonly CellEntry[],
  how: "typed" | "pasted" | "filled" | "cleared",
  options: WriteOptions = {},
): boolean {
  const book = session.book.value;
  const verb = { typed: "Typed", pasted: "Pasted", filled: "Filled", cleared: "Cleared" }[how];
  const label = `${verb} ${entries.length === 1 && entries[0] ? labelOf(session, entries[0].cell) : counted(entries.length, "cell")}`;
  // Clearing gives a computed cell back to its formula: that is no override and needs no asking.
  const outcome =
    how === "cleared"
      ? clearCells(
          book,
          entries.map(({ cell }) => cell),
          label,
        )
      : writeEntries(book, entries, {
          label,
          marks: session.marks,
          override: options.override ?? false,
          check: options.check,
        });
  if (!session.commit(outcome.change, options.goesOn)) return false;
  if (options.onOutcome) {
    options.onOutcome(outcome);
    return outcome.refused.length === 0;
  }
  const overflow = options.overflow ?? 0;
  const kept = entries.length - outcome.refused.length;
  const beyond =
    overflow > 0
      ? [
          `${counted(overflow, "pasted cell lay beyond the sheet and was", "pasted cells lay beyond the sheet and were")} left out. Add pieces first, then paste again.`,
        ]
      : [];
  if (outcome.refused.length === 1 && entries.length === 1)
    session.refuse(outcome.refused, undefined, entries[0]?.cell);
  else if (outcome.refused.length > 0)
    session.notify(
      "refused",
      `${kept} of ${counted(entries.length, "cell")} ${how}; ${outcome.refused.length} kept as they were.`,
      [
        ...outcome.refused.slice(0, 50).map(({ message }) => message),
        ...(outcome.refused.length > 50 ? [`… and ${outcome.refused.length - 50} more`] : []),
        ...beyond,
      ],
    );
  else if (beyond.length > 0) session.notify("refused", `${counted(kept, "cell")} ${how}.`, beyond);
  else if (how === "pasted" && entries.length > 1)
    session.notifyDone(`${counted(kept, "cell")} pasted.`, outcome.messages.slice(0, 50));
  else if (outcome.messages.length > 0) session.notifyDone(`${outcome.messages[0]}`, outcome.messages.slice(1, 50));
  return outcome.refused.length === 0;
}

function labelOf(session: Session, cell: CellName): string {
  const found = resolveCell(session.book.value, cell);
  return found ? `${rowLabel(cell.sheet, found.row)}, ${found.column.title}` : `${cell.row}, ${cell.column}`;
}

/** Gives a cell back to its formula. */
export function giveBack(session: Session, cells: readonly CellName[]): void {
  const overridden = cells.filter((cell) => {
    const { row, spec } = resolveCell(session.book.value, cell) ?? {};
    return row?.cells[cell.column] !== undefined && spec?.formula !== undefined;
  });
  const count = overridden.length;
  session.commit(
    clearCells(session.book.value, overridden, `Given back to the formula: ${counted(count, "cell")}`).change,
  );
}

/** Undoes the last step and says what it was. */
export function undo(session: Session): void {
  const change = session.undo();
  if (change) session.notify("done", `Undone: ${change.label}.`);
  else if (session.history.value.done.length === 0) session.notify("done", "There is nothing to undo.");
}

/** Redoes the last undone step and says what it was. */
export function redo(session: Session): void {
  const change = session.redo();
  if (change) session.notify("done", `Redone: ${change.label}.`);
  else if (session.history.value.undone.length === 0) session.notify("done", "There is nothing to redo.");
}
