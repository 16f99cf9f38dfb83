// Errors say what is wrong and what to do, and keep pointing at the cell where they began.
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { applyChange } from "../../src/core/document/change";
import { addOwnColumn } from "../../src/core/document/own-edits";
import { type CellError, isCellError } from "../../src/engine/values";
import { LiveEdition } from "../tools/live-edition";
import { smallEdition } from "../tools/small-edition";

let live: LiveEdition;
beforeEach(() => {
  live = new LiveEdition(smallEdition(3));
  live.type(["pieces", "p1", "glaze.coats", "2"], ["pieces", "p2", "glaze.coats", "2"]);
});
afterEach(() => live.close());

function errorAt(row: string, column: string): CellError {
  const value = live.read("pieces", row, column);
  if (!isCellError(value)) throw new Error(`no error in ${row} ${column}: ${value}`);
  return value;
}

const origin = { sheet: "pieces", row: "p1", column: "glaze.area" };

const cases: readonly (readonly [formula: string, title: string, message: string])[] = [
  ["=1/0", "divides by nothing", "It divides by 0 or by a blank cell. Enter the number it divides by."],
  ["=5/{kg}*0+1/{foot}/0", "divides by nothing", "It divides by 0 or by a blank cell. Enter the number it divides by."],
  ["=FOO(1)", "unknown name", "Function name FOO not recognized. Look it up in the list of functions."],
  ["=COAT_GRAM(1,2,3)", "unknown name", "Function name COAT_GRAM not recognized. Did you mean COAT_GRAMS?"],
  ["=1+", "no formula", "It can't be read as a formula. Look for a bracket, a sign or a value that is missing."],
  ["=SUM(", "no formula", "It can't be read as a formula. Look for a bracket, a sign or a value that is missing."],
  [
    "=SQRT(-1)",
    "no number",
    "The result is no finite number. Look for the root of a negative number or a power that is far too large.",
  ],
  [
    "=10^400",
    "no number",
    "The result is no finite number. Look for the root of a negative number or a power that is far too large.",
  ],
  ['="a"+1', "no number", "Text or a blank text stands where a number is needed. Check the cells it names."],
  [
    "=COAT_GRAMS(1)",
    "wrong arguments",
    "A function is given too many or too few values. Look it up in the list of functions.",
  ],
  [
    "=COAT_GRAMS(1,2,3,0.5,5)",
    "wrong arguments",
    "A function is given too many or too few values. Look it up in the list of functions.",
  ],
  [
    "=COAT_GRAMS({kilns:kw},1,1)",
    "no number",
    "A function is given a whole column where it takes one value, or one value for a column.",
  ],
  ["=COAT_GRAMS(1,-2,3)", "no number", "COAT_GRAMS, coats: found -2, but it takes a number, 0 or more."],
  [
    '=PICK("F9",{firings:id},{firings:cost})',
    "not found",
    "PICK: found “F9”, which is not in the list. Choose one that is.",
  ],
  ['=FIRING_SHARE("F9",1)', "not found", "FIRING_SHARE: found “F9”, which is not in the list. Choose one that is."],
  ["=YIELD_CHAIN({route:title})", "no number", "YIELD_CHAIN: losses: found “Cast”, but it takes numbers only."],
];

describe("in the cell and in everything computed from it", () => {
  test.each(cases)("%s", (formula, title, message) => {
    const change = live.type(["pieces", "p1", "glaze.area", formula]);
    for (const column of ["glaze.area", "glaze.grams", "glaze.cost", "own", "full"])
      expect([column, errorAt("p1", column)]).toEqual([column, { title, message, from: origin }]);
    expect(live.read("results", "put_in", "value")).toMatchObject({ message, from: origin });
    // Other pieces keep their own cost.
    expect(live.read("pieces", "p2", "own")).toBeGreaterThan(0);
    expect(live.differences()).toEqual([]);
    live.undo(change);
    expect(live.read("pieces", "p1", "own")).toBe(live.read("pieces", "p2", "own"));
    expect(live.differences()).toEqual([]);
  });

  test("a circle is called one in every cell of it", () => {
    const change = live.type(["pieces", "p1", "glaze.area", "={glaze.cost}"]);
    for (const column of ["glaze.area", "glaze.used", "glaze.cost", "own"])
      expect(errorAt("p1", column)).toMatchObject({
        title: "goes in a circle",
        message: "It depends on itself, directly or through other cells. Change one of them to a typed value.",
      });
    live.undo(change);
    expect(live.differences()).toEqual([]);
  });

  test("a formula that is no number gives an error where a number is needed, naming that cell", () => {
    live.type(["pieces", "p1", "glaze.area", '="wide"']);
    expect(live.read("pieces", "p1", "glaze.area")).toBe("wide");
    expect(errorAt("p1", "own").from).toEqual({ sheet: "pieces", row: "p1", column: "glaze.grams" });
    live.type(["pieces", "p1", "glaze.area", "=0-5"]);
    expect(errorAt("p1", "own")).toEqual({
      title: "no number",
      message: "COAT_GRAMS, area: found -5, but it takes a number in cm², 0 or more.",
      from: { sheet: "pieces", row: "p1", column: "glaze.used" },
    });
  });

  test("of an input reaches every piece and still names the input", () => {
    live.type(["edition", "wage", "value", "=1/0"]);
    for (const row of ["p1", "p2"])
      expect(errorAt(row, "own").from).toEqual({ sheet: "edition", row: "wage", column: "value" });
    expect(live.read("results", "hours", "value")).toMatchObject({ from: { sheet: "edition", row: "wage" } });
  });
});

test("an error in a whole column is passed on by the functions that read it, with its own words and place", () => {
  live.type(["route", "fettle", "loss", "=1/0"]);
  expect(live.read("edition", "starts", "value")).toEqual({
    title: "divides by nothing",
    message: "It divides by 0 or by a blank cell. Enter the number it divides by.",
    from: { sheet: "route", row: "fettle", column: "loss" },
  });
});

test("a column formula that can't be read says so in each of its cells", () => {
  const added = addOwnColumn(live.book, "pieces", { title: "Half", unit: "", type: "number", formula: "={kg}/" });
  if (!added.ok) throw new Error(added.problems[0]?.message);
  live.run(added.value);
  for (const row of ["p1", "p3"])
    expect(errorAt(row, "my_half")).toMatchObject({ title: "no formula", from: { row, column: "my_half" } });
});

test("a formula in a file that names what is not there is an error, not a failure", () => {
  const broken = ["={pieces:nope}", "={route[nope]:area}", "={nope}", "={attic:own}", "=A1", "=nope", "={", '="'];
  for (const f of broken) {
    const cell = { kind: "cell", sheet: "pieces", row: "p3", column: "foot", was: undefined, is: { f } } as const;
    const opened = new LiveEdition(applyChange(smallEdition(3), { label: "", operations: [cell] }));
    expect(isCellError(opened.read("pieces", "p3", "foot")), f).toBe(true);
    opened.close();
  }
});
