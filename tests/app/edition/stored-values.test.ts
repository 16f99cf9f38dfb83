// Values stored beside a document: read in today's form and in that of earlier programs, left where they are in neither.
import { describe, expect, test } from "vitest";
import { readSnapshot } from "../../../src/app/edition/stored-values";
import { ValueStore } from "../../../src/engine/value-store";
import { smallEdition } from "../../tools/small-edition";

const book = smallEdition();
const column = book.sheets.pieces.columns.findIndex(({ key }) => key === "own");
const list = (rowsKey: string, titleKey = "title") => ({
  others: [{ [titleKey]: "no number", message: "Its minutes are a word." }],
  columns: [
    {
      ...{ sheet: "pieces", column },
      values: {
        [rowsKey]: Int32Array.of(0, 1),
        numbers: Float64Array.of(4.5, 0),
        others: Int32Array.of(-1, 0),
      },
    },
  ],
});

const NO_NUMBER = { title: "no number", message: "Its minutes are a word." };

/** The first two values of the column as the page shows them. */
function shown(stored: unknown): readonly unknown[] | undefined {
  const patch = readSnapshot(stored);
  if (!patch) return undefined;
  const store = new ValueStore(book);
  store.accept(patch);
  return book.sheets.pieces.rows.slice(0, 2).map(({ id }) => store.get("pieces", id, "own"));
}

describe("stored values", () => {
  test("are read as they are stored today", () => expect(shown(list("rows"))).toEqual([4.5, NO_NUMBER]));

  test("are read as earlier programs stored them: row indices as places, the title of an error as trouble", () =>
    expect(shown(list("places", "trouble"))).toEqual([4.5, NO_NUMBER]));

  test.each([
    ["nothing", undefined],
    ["no lists", { columns: 1, others: [] }],
    ["rows under an unknown name", list("lines")],
    ["a sheet that is none", { others: [], columns: [{ ...list("rows").columns[0], sheet: "glazes" }] }],
    ["a column that is none", { others: [], columns: [null] }],
  ])("%s: nothing is shown before the engine has its own", (_, stored) => expect(shown(stored)).toBeUndefined());
});
