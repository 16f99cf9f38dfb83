// What was typed and could not land where it was meant to: kept, and offered on the card, until it is used or dropped.
import { signal } from "@preact/signals";
import { perSession } from "../../app/edition/per-session";
import type { Session } from "../../app/edition/session";

/** A text that was typed, and the cell it was meant for, in words. */
export interface KeptText {
  readonly text: string;
  readonly meantFor: string;
}

/** The texts kept in an open edition, the latest last; ten at most. */
export const keptTextsOf = perSession(() => signal<readonly KeptText[]>([]));

/** Keeps a text that was typed; an empty one is nothing to keep. */
export function keepText(session: Session, text: string, meantFor: string): void {
  const kept = keptTextsOf(session);
  if (text !== "") kept.value = [...kept.value.slice(-9), { text, meantFor }];
}

/** Lets go of a kept text. */
export function dropText(session: Session, text: KeptText): void {
  const kept = keptTextsOf(session);
  kept.value = kept.value.filter((one) => one !== text);
}
