// Whether somebody at this page composes characters with an input method. It is known once they have done so in any field;
// from then on the sheet keeps a text field ready in the cell that has the keyboard (see cell-field.ts).
let isUsed = false;

globalThis.document?.addEventListener(
  "compositionstart",
  () => {
    isUsed = true;
  },
  { capture: true },
);

export function isComposerAtWork(): boolean {
  return isUsed;
}
