// Copy, cut and paste of cells. The events are caught on the document: some browsers send them to the body.
import { type PastedBlock, readClipboard } from "./clipboard-text";

/** What the clipboard events need of the grid. */
export interface ClipboardActions {
  /**
   * Whether the keyboard is the grid's and no text field is being typed into. It goes by the keyboard and not by where the
   * event comes from: some browsers send it from where text was selected last, such as a field that was left.
   */
  isOurs(): boolean;
  /** The selected block as tab-separated text; undefined where no cell is selected. */
  copy(): string | undefined;
  clear(): void;
  paste(block: PastedBlock): void;
}

/** Listens to the clipboard until the signal is given. */
export function listenToClipboard(actions: ClipboardActions, signal: AbortSignal): void {
  const onCopy = (event: ClipboardEvent) => {
    if (!actions.isOurs()) return;
    const text = actions.copy();
    if (text === undefined) return;
    event.clipboardData?.setData("text/plain", text);
    event.preventDefault();
    if (event.type === "cut") actions.clear();
  };
  const onPaste = (event: ClipboardEvent) => {
    if (!actions.isOurs() || event.clipboardData === null) return;
    event.preventDefault();
    actions.paste(readClipboard(event.clipboardData));
  };
  document.addEventListener("copy", onCopy, { signal });
  document.addEventListener("cut", onCopy, { signal });
  document.addEventListener("paste", onPaste, { signal });
}
