// Typing into the fields of the Plan page: the grid's own commands and rules, one step of the one undo stack a field, and
// what is still the template's said to be the maker's.

import { batch } from "@preact/signals";
import { counted } from "../../core/counted";
import type { CellName } from "../../core/document/access";
import type { Change } from "../../core/document/change";
import { keepExamples } from "../../core/document/examples";
import { writeCells, writeChecked } from "../commands/commands";
import type { Session } from "../edition/session";

/** What came of typing: the step it is so far, and what the field says of it. */
export interface Typing {
  readonly step: Change | undefined;
  readonly refused: string;
  readonly notice: string;
}

/** Writes what has been typed so far, if it can be read; `before` is the step that this typing has made so far. */
export function typeInto(session: Session, cell: CellName, typed: string, before: Change | undefined): Typing {
  let [refused, notice] = ["", ""];
  const onOutcome = (outcome: {
    readonly refused: readonly { readonly message: string }[];
    readonly messages: readonly string[];
  }) => {
    refused = outcome.refused[0]?.message ?? "";
    notice = outcome.messages.join(" ");
  };
  const was = session.history.value.done.at(-1);
  batch(() => writeCells(session, [{ cell, typed }], "typed", { goesOn: before, onOutcome }));
  const now = session.history.value.done.at(-1);
  return { step: now === was ? before : now, refused, notice };
}

/** Writes what was typed once it is finished: formulas are tried first, as in the grid. */
export async function enterFormula(session: Session, cell: CellName, typed: string): Promise<boolean> {
  return writeChecked(session, [{ cell, typed }], "typed");
}

/** Says of amounts that they are right as the template has them. */
export function keep(session: Session, cells: readonly CellName[]): void {
  const label = `Keep ${counted(cells.length, "amount")}`;
  session.commit(keepExamples(session.book.value, cells, label));
}
