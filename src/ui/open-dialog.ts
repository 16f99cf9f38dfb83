// Which dialog is open, if any.
import { signal } from "@preact/signals";

export type OpenDialog =
  | "start"
  | "editions"
  | "copies"
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
  | "edition"
  | "help";

export const openDialog = signal<OpenDialog | undefined>(undefined);

/** The edition whose earlier copies are shown; undefined for the open one. */
export const copiesOf = signal<string | undefined>(undefined);

/** Closes whatever dialog is open. */
export function closeDialog(): void {
  openDialog.value = undefined;
}

/** Opens a dialog in the place of whichever is open. */
export function showDialog(name: OpenDialog): void {
  openDialog.value = name;
}
