// What was typed and could not land where it was meant to: kept, and offered on the card, until it is used or dropped.
import { signal } from "@preact/signals";

/** A text that was typed, and the cell it was meant for, in words. */
export interface KeptText {
  readonly text: string;
  readonly meantFor: string;
}

export const keptTexts = signal<readonly KeptText[]>([]);

/** Keeps a text that was typed; an empty one is nothing to keep. */
export function keepText(text: string, meantFor: string): void {
  if (text !== "") keptTexts.value = [...keptTexts.value.slice(-9), { text, meantFor }];
}

/** Lets go of a kept text. */
export function dropText(kept: KeptText): void {
  keptTexts.value = keptTexts.value.filter((one) => one !== kept);
}
