// The engine notes what moved under a text of sheet, row and column, twice for every cell; numbers are quicker keys.
import type { Changes } from "./internals";

/** No sheet has more columns or rows than this; together with a few sheets the keys stay exact. */
const MOST = 2 ** 20;

/** Makes every list of changes that has this prototype go by numbers; a range of values keeps the engine's own way. */
export function noteByNumber(prototype: Changes): void {
  const { add } = prototype;
  prototype.add = function addByNumber(this: Changes, address, change) {
    if (typeof change.value === "object" && change.value !== null && "data" in change.value)
      add.call(this, address, change);
    else this.changes.set((address.sheet * MOST + address.col) * MOST + address.row, change);
  };
}
