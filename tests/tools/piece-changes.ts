// Changes to many pieces at once, for editions that tests take through a run.
import { rowOf } from "../../src/core/document/access";
import { type Change, type Operation, squash } from "../../src/core/document/change";
import { addRows } from "../../src/core/document/edits";
import type { Raw, Workbook } from "../../src/core/document/workbook";
import { namePieces } from "../../src/core/record/choose-pieces";
import { type NewFiring, newFiringRow } from "../../src/core/record/piece-edits";

function setForPieces(book: Workbook, ids: readonly string[], column: string, is: Raw | undefined): Operation[] {
  return ids.flatMap((row): Operation[] => {
    const was = rowOf(book, "pieces", row)?.cells[column];
    return was === is ? [] : [{ kind: "cell", sheet: "pieces", row, column, was, is }];
  });
}

/** Passes pieces as good or as seconds, or takes that back. */
export function passAs(book: Workbook, ids: readonly string[], grade: "good" | "second" | undefined): Change {
  const label = grade === undefined ? "Not passed" : grade === "good" ? "Passed as good" : "Passed as second";
  return { label: `${label}: ${namePieces(book, ids)}`, operations: setForPieces(book, ids, "grade", grade) };
}

/** A firing of its own for pieces at a firing step: the firing and its load in one change. */
export function fireIn(book: Workbook, ids: readonly string[], step: string, firing: NewFiring): Change {
  const added = addRows(book, "firings", [newFiringRow(book, step, firing)], "");
  const load: Change = { label: "", operations: setForPieces(book, ids, `${step}.firing`, firing.name) };
  return squash([added, load], `New firing ${firing.name}: ${namePieces(book, ids)}`);
}
