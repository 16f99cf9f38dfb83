// Commands for what a maker adds beyond the template. They look at the units of formulas, for which they bring every function
// of the sheet with them; so they are loaded with the dialogs, or when one of their buttons is pressed.
import { columnOf } from "../../core/document/access";
import type { Change } from "../../core/document/change";
import {
  addOwnColumn,
  addOwnInput,
  changeColumnFormula,
  type NewColumn,
  removeOwnColumn,
} from "../../core/document/own-edits";
import type { SheetKey } from "../../core/document/workbook";
import type { FormulaCheck } from "../../core/formula/formula-check";
import type { Problem, Result } from "../../core/problem";
import { formulasOf } from "../../engine/suspects";
import { checkFormula } from "../edition/formula-check";
import type { Session } from "../edition/session";
import { slowProblem, tooSlow } from "../edition/try-alone";
import { commit } from "./commands";

/** Commits an edit of formulas and says what is doubtful in their units; those that do not end alone are refused. */
async function commitFormula(
  session: Session,
  sheet: SheetKey,
  title: string,
  edit: (check?: FormulaCheck) => Result<Change>,
): Promise<boolean> {
  const first = edit();
  const slow = await tooSlow(session, first.ok ? formulasOf(first.value).map((formula) => ({ sheet, formula })) : []);
  if (slow.size > 0) {
    const where = `${session.book.value.sheets[sheet].title}, column ${title}`;
    session.refuse([...slow].map((formula) => slowProblem(where, formula)));
    return false;
  }
  const doubts: Problem[] = [];
  const result = edit((book, context, formula) => {
    const findings = checkFormula(book, context, formula);
    doubts.push(...findings.doubts);
    return findings;
  });
  const doubtful = doubts.map(({ message }) => message).join(" ");
  return commit(session, result, result.ok && doubtful !== "" ? `${result.value.label}. ${doubtful}` : undefined);
}

/** Adds a column of the maker's own. */
export function addColumn(session: Session, sheet: SheetKey, column: NewColumn): Promise<boolean> {
  return commitFormula(session, sheet, column.title, (check) => addOwnColumn(session.book.value, sheet, column, check));
}

/** Removes a column of the maker's own. */
export function removeColumn(session: Session, sheet: SheetKey, key: string): boolean {
  return commit(session, removeOwnColumn(session.book.value, sheet, key));
}

/** Gives a column of the maker's own another formula. */
export function setColumnFormula(session: Session, sheet: SheetKey, key: string, typed: string): Promise<boolean> {
  const title = columnOf(session.book.value, sheet, key)?.title ?? key;
  return commitFormula(session, sheet, title, (check) =>
    changeColumnFormula(session.book.value, sheet, key, typed, check),
  );
}

/** Adds an input of the maker's own to the Edition sheet. */
export function addInput(session: Session, label: string, unit: string): boolean {
  return commit(session, addOwnInput(session.book.value, label, unit));
}
