// While a modal dialog is open nothing behind it can take the keyboard. Whoever wants it asks here, and has it once the dialog
// is gone, in the place of whatever had it before.
let next: (() => void) | undefined;

/** Asks for the keyboard; without effect where no dialog is open. */
export function askAfterDialog(take: () => void): void {
  if (document.querySelector("dialog[open]") !== null) next = take;
}

/** Who asked, if anybody; asked once. */
export function askedAfterDialog(): (() => void) | undefined {
  const take = next;
  next = undefined;
  return take;
}
