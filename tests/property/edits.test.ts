// Whatever is done to a workbook can be taken back, joined and replayed.
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { applyChange, type Change, invert, squash } from "../../src/core/document/change";
import { readDocument } from "../../src/core/document/document-file";
import { EMPTY_HISTORY, remember, walk } from "../../src/core/document/history";
import type { Workbook } from "../../src/core/document/workbook";
import { writeDocument } from "../../src/core/document/write-document";
import { type Choice, changeOf, choices } from "../tools/random-commands";
import { smallEdition } from "../tools/small-edition";

const start = smallEdition();

/** The changes that a list of choices makes, one after the other. */
function run(
  book: Workbook,
  list: readonly Choice[],
): { readonly book: Workbook; readonly changes: readonly Change[] } {
  const changes: Change[] = [];
  let at = book;
  for (const choice of list) {
    const change = changeOf(at, choice);
    if (!change) continue;
    changes.push(change);
    at = applyChange(at, change);
  }
  return { book: at, changes };
}

describe("random editing", () => {
  test("a change and its inverse come to nothing", () => {
    fc.assert(
      fc.property(choices(40), (list) => {
        let at = start;
        for (const change of run(start, list).changes) {
          const after = applyChange(at, change);
          expect(applyChange(after, invert(change))).toEqual(at);
          at = after;
        }
      }),
      { seed: 1101, endOnFailure: true, numRuns: 25 },
    );
  });

  test("changes squashed into one do what they did in turn, and are taken back as one", () => {
    fc.assert(
      fc.property(choices(40), (list) => {
        const { book, changes } = run(start, list);
        const one = squash(changes, "all");
        expect(applyChange(start, one)).toEqual(book);
        expect(applyChange(book, invert(one))).toEqual(start);
      }),
      { seed: 1102, endOnFailure: true, numRuns: 40 },
    );
  });

  test("two hundred commands are undone to the very start and redone to the very end", () => {
    fc.assert(
      fc.property(choices(200), (list) => {
        const { book, changes } = run(start, list);
        expect(changes.length).toBeGreaterThan(60);
        let history = changes.reduce(remember, EMPTY_HISTORY);
        let at = book;
        for (let back = walk(history, -1); back; back = walk(history, -1)) {
          at = applyChange(at, back.change);
          history = back.history;
        }
        expect(at).toEqual(start);
        for (let next = walk(history, 1); next; next = walk(history, 1)) {
          at = applyChange(at, next.change);
          history = next.history;
        }
        expect(at).toEqual(book);
      }),
      { seed: 1103, endOnFailure: true, numRuns: 12 },
    );
  });

  test("what can be typed can be saved and opened again", () => {
    fc.assert(
      fc.property(choices(120), (list) => {
        const { book } = run(start, list);
        const read = readDocument(writeDocument(book), "random.edition.json");
        expect(read.ok ? [] : read.problems.map(({ message }) => message)).toEqual([]);
        expect(read.ok && read.value).toEqual(book);
      }),
      { seed: 1104, endOnFailure: true, numRuns: 25 },
    );
  });

  test("a change survives being sent and stored as text", () => {
    fc.assert(
      fc.property(choices(60), (list) => {
        const { book, changes } = run(start, list);
        const sent = JSON.parse(JSON.stringify(changes)) as Change[];
        expect(sent.reduce(applyChange, start)).toEqual(book);
      }),
      { seed: 1105, endOnFailure: true, numRuns: 15 },
    );
  });
});
