import { expect, test } from "vitest";
import { applyChange } from "../../../src/core/document/change";
import { loseAt, removeUntouched } from "../../../src/core/record/piece-edits";
import { afterTyping, smallEdition } from "../../tools/small-edition";

test("pieces that nothing has happened to are removed; the others stay and are named", () => {
  const typed = afterTyping(smallEdition(5), [
    ["pieces", "p1", "cast.slip", "900"],
    ["pieces", "p2", "note", "a spare"],
    ["pieces", "p3", "tier", "special"],
  ]);
  const book = applyChange(typed, loseAt(typed, ["p4"], "cast", "tore"));
  const { change, left } = removeUntouched(book, ["p1", "p2", "p3", "p4"]);
  expect(left).toEqual(["p1", "p4"]);
  expect(change.label).toBe("Remove 2 pieces: 02, 03");
  expect(applyChange(book, change).sheets.pieces.rows.map(({ id }) => id)).toEqual(["p1", "p4", "p5"]);
  expect(removeUntouched(book, ["p1"]).change.operations).toEqual([]);
});
