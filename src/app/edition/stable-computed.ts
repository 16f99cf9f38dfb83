// What is shown of an edition, kept as it was where an edit moves nothing of it: who shows it then has nothing to draw.
import { computed, type ReadonlySignal } from "@preact/signals";

/** A signal of plain data that follows the signals `make` reads, and moves only where the data are not the same. */
export function stableComputed<T>(make: () => T): ReadonlySignal<T> {
  let held: { readonly of: T; readonly text: string } | undefined;
  return computed(() => {
    const of = make();
    const text = JSON.stringify(of);
    if (held?.text !== text) held = { of, text };
    return held.of;
  });
}
