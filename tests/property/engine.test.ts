// Two hundred random commands, value by value: an engine told of every change knows what one built anew knows.
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Change } from "../../src/core/document/change";
import { LiveEdition } from "../tools/live-edition";
import { type Choice, changeOf, choices } from "../tools/random-commands";
import { smallEdition, typed } from "../tools/small-edition";

/** A small edition with something recorded, so that the commands meet values. */
function recorded() {
  const live = new LiveEdition(smallEdition(6));
  for (const { id } of live.book.sheets.pieces.rows)
    live.run(
      typed(live.book, [
        ["pieces", id, "cast.slip", "900"],
        ["pieces", id, "fettle.minutes", "10"],
        ["pieces", id, "bisque.firing", "F1"],
        ["pieces", id, "glaze.coats", "2"],
      ]),
    );
  return live;
}

function runAll(live: LiveEdition, list: readonly Choice[], every: number): Change[] {
  const done: Change[] = [];
  for (const choice of list) {
    const change = changeOf(live.book, choice);
    if (!change) continue;
    live.run(change);
    done.push(change);
    if (done.length % every === 0) expect(live.differences()).toEqual([]);
  }
  return done;
}

describe("the engine after random commands", () => {
  test("knows what one built anew knows, and again after everything is undone", () => {
    fc.assert(
      fc.property(choices(200), (list) => {
        const live = recorded();
        const start = live.book;
        const done = runAll(live, list, 40);
        expect(done.length).toBeGreaterThan(60);
        expect(live.differences()).toEqual([]);
        for (const change of done.toReversed()) live.undo(change);
        expect(live.book).toEqual(start);
        expect(live.differences()).toEqual([]);
        live.close();
      }),
      { seed: 2201, endOnFailure: true, numRuns: 6 },
    );
  });

  test("is right after every single command", () => {
    fc.assert(
      fc.property(choices(25), (list) => {
        const live = recorded();
        runAll(live, list, 1);
        live.close();
      }),
      { seed: 2202, endOnFailure: true, numRuns: 4 },
    );
  });
});
