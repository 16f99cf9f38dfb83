// Going from any state of an edition to any other in one change: the document is the wanted one, the engine knows what one
// built anew knows, and undo leads back.
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { applyChange } from "../../src/core/document/change";
import { differenceBetween } from "../../src/core/document/difference";
import type { Workbook } from "../../src/core/document/workbook";
import { LiveEdition } from "../tools/live-edition";
import { type Choice, changeOf, choices } from "../tools/random-commands";
import { smallEdition } from "../tools/small-edition";

function stateAfter(book: Workbook, list: readonly Choice[]): Workbook {
  return list.reduce((at, choice) => {
    const change = changeOf(at, choice);
    return change ? applyChange(at, change) : at;
  }, book);
}

describe("the difference between random states", () => {
  test("leads there and back, in the document and in the engine", () => {
    fc.assert(
      fc.property(choices(40), choices(40), (one, other) => {
        const start = smallEdition(5);
        const [from, to] = [stateAfter(start, one), stateAfter(start, other)];
        const change = differenceBetween(from, to, "back");
        if (!change) throw new Error("no change says this");
        const live = new LiveEdition(from);
        live.run(change);
        expect(live.book).toEqual(to);
        expect(live.differences()).toEqual([]);
        live.undo(change);
        expect(live.book).toEqual(from);
        expect(live.differences()).toEqual([]);
        live.close();
      }),
      { seed: 3007, numRuns: 12, endOnFailure: true },
    );
  });
});
