// Which dialog is open, if any.
import { signal } from "@preact/signals";
import { perSession } from "../../app/edition/per-session";
import type { Session } from "../../app/edition/session";
import type { CellName } from "../../core/document/access";

export type OpenDialog =
  | "start"
  | "editions"
  | "copies"
  | "studio"
  | "firing"
  | "lost"
  | "passed"
  | "step"
  | "pieces"
  | "column"
  | "input"
  | "csv"
  | "pack"
  | "heat"
  | "fit"
  | "programme"
  | "shared"
  | "edition"
  | "done"
  | "explain"
  | "search"
  | "help";

export const openDialog = signal<OpenDialog | undefined>(undefined);

/** The edition whose earlier copies are shown; undefined for the open one. */
export const copiesOf = signal<string | undefined>(undefined);

/** The edition that the next one is to be started from; taken when the dialog opens. */
export const startFromWish = signal<string | undefined>(undefined);

/** What the help is opened with in its box; taken when it opens. */
export const helpWishOf = perSession(() => signal(""));

/** Closes whatever dialog is open. */
export function closeDialog(): void {
  openDialog.value = undefined;
}

/** Opens a dialog in the place of whichever is open. */
export function showDialog(name: OpenDialog): void {
  openDialog.value = name;
}

/** The cell of an open edition whose origins the panel shows. */
export const explainedCellOf = perSession(() => signal<CellName | undefined>(undefined));

/** Opens the panel that says where a cell's value comes from. */
export function showExplained(session: Session, cell: CellName | undefined): void {
  explainedCellOf(session).value = cell;
  showDialog("explain");
}
