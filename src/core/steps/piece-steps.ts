// Which steps a piece has had, which are for it, and which it lacks.
import { rowLabel, rowOf } from "../document/access";
import type { Raw, Row, Workbook } from "../document/workbook";
import { amountOf, enteredColumn, rulesOf } from "../sheets/step-kinds";

/** The Pieces column whose entry says that a piece has had a step; undefined for a step of no known kind. */
export function doneColumnOf(step: Row): string | undefined {
  const rules = rulesOf(step);
  return rules && `${step.id}.${enteredColumn(rules)}`;
}

/** Whether a piece has had a step. */
export function hasHad(piece: Row, step: Row): boolean {
  const column = doneColumnOf(step);
  return column !== undefined && piece.cells[column] !== undefined;
}

/** The steps as needed that a piece is to have, by their ids: what a refire or a rescue has put before it. */
export function stepsToHave(piece: Row): readonly string[] {
  const { to_have: ids } = piece.cells;
  return typeof ids === "string" ? ids.split(" ") : [];
}

/** Whether a step is for a piece: all steps but those as needed, special ones for special pieces, and those it is to have. */
export function isStepFor(step: Row, piece: Row): boolean {
  if (step.cells.who === "as needed") return stepsToHave(piece).includes(step.id);
  return step.cells.who !== "special" || piece.cells.tier === "special";
}

/** Position in the route of the last step a piece has had; −1 for a piece that has had none. */
export function lastStepHad(book: Workbook, piece: Row): number {
  return book.sheets.route.rows.findLastIndex((step) => hasHad(piece, step));
}

/** Steps for a piece that come before a step and after the last one it has had: what it lacks to have that step. */
export function stepsLacking(book: Workbook, piece: Row, step: string): readonly Row[] {
  const { rows } = book.sheets.route;
  const at = rows.findIndex((row) => row.id === step);
  const before = rows.slice(0, Math.max(0, at));
  const last = before.findLastIndex((row) => hasHad(piece, row));
  return before.slice(last + 1).filter((row) => isStepFor(row, piece));
}

/** Steps for a piece after the last one it has had: what is still to come. */
export function stepsToCome(book: Workbook, piece: Row): readonly Row[] {
  return book.sheets.route.rows.slice(lastStepHad(book, piece) + 1).filter((step) => isStepFor(step, piece));
}

/** What the Route sheet says is usual at a step: grams of slip, minutes or coats; undefined where it says nothing. */
export function usualAmount(step: Row): Raw | undefined {
  const rules = rulesOf(step);
  const amount = rules && amountOf(rules);
  return amount && step.cells[amount.usual];
}

/** The title of a step of the route. */
export function stepTitle(book: Workbook, id: string): string {
  const row = rowOf(book, "route", id);
  return row ? rowLabel("route", row) : id;
}
