import { describe, expect, test } from "vitest";
import { demoEdition } from "../../../src/app/demo/demo";
import { type Notice, noticesAfter, withNotice } from "../../../src/app/edition/notices";
import type { Change } from "../../../src/core/document/change";

const book = demoEdition();
const [first, second] = book.sheets.pieces.rows;
const cell = { sheet: "pieces", row: first?.id ?? "", column: "note" } as const;
const notice = (id: number, how: Partial<Notice>): Notice => ({
  id,
  tone: "refused",
  text: `${id}`,
  details: [],
  ...how,
});
const wrote = (row = ""): Change => ({
  label: "Typed",
  operations: [{ kind: "cell", sheet: "pieces", row, column: "note", was: undefined, is: "x" }],
});

describe("messages", () => {
  test("what was done last takes the place of what was done before; refusals stay", () => {
    const notices = [notice(1, { tone: "done" }), notice(2, {})];
    expect(withNotice(notices, notice(3, { tone: "done" })).map(({ id }) => id)).toEqual([2, 3]);
    expect(withNotice(notices, notice(3, {})).map(({ id }) => id)).toEqual([1, 2, 3]);
  });

  test("what answers nothing that was done lets the others be read first", () => {
    expect(withNotice([notice(1, {})], notice(2, { waits: true })).map(({ id }) => id)).toEqual([2, 1]);
  });

  test("a refusal of a cell goes once that cell is written, and not before", () => {
    const notices = [notice(1, { about: cell, passes: true })];
    expect(noticesAfter(notices, wrote(second?.id), book)).toBe(notices);
    expect(noticesAfter(notices, wrote(first?.id), book)).toEqual([]);
  });

  test("it goes with its row too", () => {
    const gone = { ...book, sheets: { ...book.sheets, pieces: { ...book.sheets.pieces, rows: [] } } };
    expect(noticesAfter([notice(1, { about: cell })], { label: "", operations: [] }, gone)).toEqual([]);
  });

  test("a refusal of anything else holds until the next change; a list of them until it is closed", () => {
    const left = noticesAfter([notice(1, { passes: true }), notice(2, {})], wrote(first?.id), book);
    expect(left.map(({ id }) => id)).toEqual([2]);
  });
});
