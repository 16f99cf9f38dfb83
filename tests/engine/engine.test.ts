import { afterEach, describe, expect, test } from "vitest";
import { addRows, clearCells, removeRows } from "../../src/core/document/edits";
import { addOwnColumn, addOwnInput, removeOwnColumn } from "../../src/core/document/own-edits";
import type { Result } from "../../src/core/problem";
import { addPieces, loseAt } from "../../src/core/record/piece-edits";
import { addStep, removeStep, repeatStep } from "../../src/core/steps/step-edits";
import { isCellError } from "../../src/engine/values";
import { LiveEdition } from "../tools/live-edition";
import { afterTyping, smallEdition } from "../tools/small-edition";

let live: LiveEdition;
const open = (book = smallEdition()) => {
  live = new LiveEdition(book);
  return live;
};
afterEach(() => live.close());

function must<T>(result: Result<T>): T {
  if (!result.ok) throw new Error(result.problems[0]?.message);
  return result.value;
}

const errorAt = (sheet: "pieces" | "edition" | "results", row: string, column: string) => {
  const value = live.read(sheet, row, column);
  return isCellError(value) ? value.title : value;
};

describe("values follow entries", () => {
  test("a cast costs slip, a share of the mould, labour and overhead", () => {
    open().type(["pieces", "p1", "cast.slip", "900"]);
    // 900 g at 1 a kilogram; 30 over 60 casts; 6 min at 20 and at 6 an hour.
    expect(live.read("pieces", "p1", "cast.material")).toBeCloseTo(0.9, 12);
    expect(live.read("pieces", "p1", "cast.wear")).toBeCloseTo(0.5, 12);
    expect(live.read("pieces", "p1", "cast.labour")).toBeCloseTo(2, 12);
    expect(live.read("pieces", "p1", "cast.cost")).toBeCloseTo(4, 12);
    expect(live.read("route", "cast", "done")).toBe(1);
    expect(live.read("results", "put_in", "value")).toBeCloseTo(4, 12);
  });

  test("one formula typed into two columns reads the same cell in both", () => {
    open().type(["pieces", "p1", "cast.slip", "900"]);
    const formula = "={cast.slip}/100";
    live.override(["pieces", "p1", "cast.wear", formula], ["pieces", "p1", "own", formula]);
    expect(live.read("pieces", "p1", "cast.wear")).toBe(9);
    expect(live.read("pieces", "p1", "own")).toBe(9);
  });

  test("a firing is shared over the pieces really in it, and one alone bears it all", () => {
    open().type(["pieces", "p1", "bisque.firing", "F1"]);
    const cost = Number(live.read("firings", "f1", "cost"));
    // 12 kW × 10 h × 0.6 at 0.3, wear 10, 30 min at 20.
    expect(cost).toBeCloseTo(72 * 0.3 + 10 + 10, 12);
    expect(live.read("pieces", "p1", "bisque.cost")).toBeCloseTo(cost, 12);
    live.type(["pieces", "p2", "bisque.firing", "F1"], ["pieces", "p3", "firing.firing", "F1"]);
    expect(live.read("pieces", "p1", "bisque.cost")).toBeCloseTo(cost / 3, 12);
    expect(live.read("pieces", "p3", "firing.cost")).toBeCloseTo(cost / 3, 12);
    live.type(["pieces", "p2", "bisque.firing", ""], ["pieces", "p3", "firing.firing", "F2"]);
    expect(live.read("pieces", "p1", "bisque.cost")).toBeCloseTo(cost, 12);
    expect(live.differences()).toEqual([]);
  });

  test("a piece lost before a firing is not in its load", () => {
    open().type(["pieces", "p1", "bisque.firing", "F1"], ["pieces", "p2", "bisque.firing", "F1"]);
    expect(live.read("firings", "f1", "pieces")).toBe(2);
    const lost = loseAt(live.book, ["p2"], "fettle", "cracked");
    live.run(lost);
    expect(live.read("firings", "f1", "pieces")).toBe(1);
    expect(live.read("pieces", "p2", "bisque.cost")).toBe("");
    live.undo(lost);
    expect(live.read("firings", "f1", "pieces")).toBe(2);
  });

  test("only what moved is told, once for each cell", () => {
    open();
    const patch = live.engine.apply(live.type(["pieces", "p1", "note", "nothing to compute"]));
    expect(patch.columns.flatMap(({ values }) => [...values.rows])).toHaveLength(1);
  });
});

describe("text, numbers and dates", () => {
  test.each(["=1+1", "007", "1e3", "50%", "$5", "2026-02-03", "'quoted", "TRUE", "+41 44"])("%j stays text", (text) => {
    open().type(["pieces", "p1", "note", text], ["pieces", "p1", "cast.mould", text]);
    const column = must(
      addOwnColumn(live.book, "pieces", { title: "Copy", unit: "", type: "number", formula: "={note}" }),
    );
    live.run(column);
    expect(live.read("pieces", "p1", "my_copy")).toBe(text);
    expect(live.differences()).toEqual([]);
  });

  test("piece numbers with leading zeros and firings called like numbers are looked up as text", () => {
    open(smallEdition(12)).type(["firings", "f1", "id", "007"]);
    live.type(["pieces", "p1", "bisque.firing", "007"]);
    expect(live.read("firings", "f1", "pieces")).toBe(1);
    expect(isCellError(live.read("pieces", "p1", "bisque.cost"))).toBe(false);
  });

  test("dates are days that can be computed with", () => {
    open().type(["firings", "f1", "date", "2026-02-03"], ["firings", "f2", "date", "2026-03-03"]);
    live.type(["firings", "f2", "meter", "={firings[f2]:date}-{firings[f1]:date}"]);
    expect(live.read("firings", "f2", "meter")).toBe(28);
  });
});

describe("overrides", () => {
  test("a value given by hand is used by what follows, and can be given back", () => {
    open().type(["pieces", "p1", "cast.slip", "900"], ["pieces", "p1", "fettle.minutes", "12"]);
    const own = Number(live.read("pieces", "p1", "own"));
    live.override(["pieces", "p1", "cast.cost", "10"]);
    expect(live.read("pieces", "p1", "own")).toBeCloseTo(own - 4 + 10, 12);
    live.run(clearCells(live.book, [{ sheet: "pieces", row: "p1", column: "cast.cost" }], "Give back").change);
    expect(live.read("pieces", "p1", "own")).toBeCloseTo(own, 12);
    expect(live.differences()).toEqual([]);
  });

  test("a formula may stand in for a computed value", () => {
    open().type(["pieces", "p1", "cast.slip", "900"]);
    live.override(["pieces", "p1", "cast.material", "={cast.slip}/100"]);
    expect(live.read("pieces", "p1", "cast.material")).toBe(9);
    expect(live.differences()).toEqual([]);
  });

  test("an outcome given by hand moves the piece in the results", () => {
    open().type(["pieces", "p1", "cast.slip", "900"], ["pieces", "p1", "grade", "good"]);
    expect(live.read("results", "good", "value")).toBe(1);
    live.override(["pieces", "p1", "outcome", "second"]);
    expect(live.read("results", "good", "value")).toBe(0);
    expect(live.read("results", "seconds", "value")).toBe(1);
  });
});

describe("rows come and go", () => {
  test("far more pieces than there was room for are in every total", () => {
    open(smallEdition(3)).type(["pieces", "p1", "cast.slip", "1000"]);
    for (const count of [5, 40, 300]) {
      live.run(must(addPieces(live.book, count)));
      const last = live.book.sheets.pieces.rows.at(-1)?.id ?? "";
      live.type(["pieces", last, "cast.slip", "1000"]);
    }
    expect(live.read("results", "started", "value")).toBe(348);
    expect(live.read("results", "not_started", "value")).toBe(344);
    expect(live.read("route", "cast", "grams_used")).toBe(4000);
    expect(live.differences()).toEqual([]);
  });

  test("a removed piece is out of every total, and undo brings it back", () => {
    open().type(["pieces", "p1", "cast.slip", "900"], ["pieces", "p2", "cast.slip", "800"]);
    const removed = must(removeRows(live.book, "pieces", ["p1"], "Remove"));
    live.run(removed);
    expect(live.read("route", "cast", "grams_used")).toBe(800);
    expect(live.differences()).toEqual([]);
    live.undo(removed);
    expect(live.read("route", "cast", "grams_used")).toBe(1700);
    expect(live.differences()).toEqual([]);
  });

  test("a new row in the place of a removed one starts blank", () => {
    open().type(["pieces", "p1", "cast.slip", "900"], ["pieces", "p1", "note", "old"]);
    live.run(must(removeRows(live.book, "pieces", ["p1"], "Remove")));
    live.run(addRows(live.book, "pieces", [{ id: "p9", cells: { piece: "09" } }], "Add"));
    expect(live.read("pieces", "p9", "own")).toBe(0);
    expect(live.read("pieces", "p9", "note")).toBeNull();
    expect(live.differences()).toEqual([]);
  });

  test("a formula that names one piece says so when the piece is gone, and heals", () => {
    open().type(["pieces", "p2", "cast.slip", "900"], ["pieces", "p1", "glaze.area", "={pieces[p2]:own}*100"]);
    expect(live.read("pieces", "p1", "glaze.area")).toBeCloseTo(400, 9);
    const removed = must(removeRows(live.book, "pieces", ["p2"], "Remove"));
    live.run(removed);
    expect(errorAt("pieces", "p1", "glaze.area")).toBe("names something removed");
    live.run(addRows(live.book, "pieces", [{ id: "p9", cells: { piece: "09" } }], "Add"));
    expect(errorAt("pieces", "p1", "glaze.area")).toBe("names something removed");
    live.undo(removed);
    expect(live.read("pieces", "p1", "glaze.area")).toBeCloseTo(400, 9);
    expect(live.differences()).toEqual([]);
  });

  test("an input called like an address is read as that input while it is there, and never as a cell", () => {
    const k2 = {
      id: "k2",
      cells: { label: "Rent", value: 7 },
      line: { kind: "input", type: "number" },
      own: true,
    } as const;
    open();
    const added = addRows(live.book, "edition", [k2], "Add input");
    live.run(added);
    live.type(["pieces", "p1", "glaze.area", "=k2*2"]);
    expect(live.read("pieces", "p1", "glaze.area")).toBe(14);
    live.undo(added);
    expect(errorAt("pieces", "p1", "glaze.area")).toBe("names something removed");
    expect(live.differences()).toEqual([]);
    live.run(added);
    expect(live.read("pieces", "p1", "glaze.area")).toBe(14);
  });

  test("a formula for an input that comes later heals when it comes", () => {
    open(afterTyping(smallEdition(), [["pieces", "p1", "note", "x"]]));
    const formula = { f: "=k2*2" };
    live.run({
      label: "",
      operations: [{ kind: "cell", sheet: "pieces", row: "p1", column: "glaze.area", was: undefined, is: formula }],
    });
    expect(isCellError(live.read("pieces", "p1", "glaze.area"))).toBe(true);
    const k2 = { id: "k2", cells: { label: "Rent", value: 7 }, line: { kind: "input", type: "number" } } as const;
    live.run(addRows(live.book, "edition", [k2], "Add input"));
    expect(live.read("pieces", "p1", "glaze.area")).toBe(14);
  });
});

describe("steps and columns come and go", () => {
  test("a repeated firing shares its cost like the first", () => {
    open().run(must(repeatStep(live.book, "firing")));
    live.type(["pieces", "p1", "firing.firing", "F1"], ["pieces", "p2", "glaze_firing_2.firing", "F1"]);
    expect(live.read("firings", "f1", "pieces")).toBe(2);
    expect(live.differences()).toEqual([]);
  });

  test("a removed step takes its cost out of everything, and undo puts it back", () => {
    open().type(["pieces", "p1", "cast.slip", "900"], ["pieces", "p1", "glaze.coats", "2"]);
    const own = live.read("pieces", "p1", "own");
    const removed = must(removeStep(live.book, "glaze"));
    live.run(removed);
    expect(live.read("pieces", "p1", "own")).toBeCloseTo(4, 12);
    expect(live.differences()).toEqual([]);
    live.undo(removed);
    expect(live.read("pieces", "p1", "own")).toBe(own);
    expect(live.differences()).toEqual([]);
  });

  test("a formula that names a removed column says so and heals with undo", () => {
    open();
    const formula = { title: "Rate", unit: "", type: "number", formula: "={cast.slip}/10" } as const;
    live.run(must(addOwnColumn(live.book, "pieces", formula)));
    live.run(must(addOwnColumn(live.book, "pieces", { ...formula, title: "Twice", formula: "={my_rate}*2" })));
    live.type(["pieces", "p1", "cast.slip", "900"]);
    expect(live.read("pieces", "p1", "my_twice")).toBe(180);
    const removed = must(removeOwnColumn(live.book, "pieces", "my_rate"));
    live.run(removed);
    expect(errorAt("pieces", "p1", "my_twice")).toBe("names something removed");
    live.run(must(addOwnColumn(live.book, "pieces", { ...formula, title: "Other", formula: "" })));
    live.type(["pieces", "p1", "my_other", "5"]);
    expect(errorAt("pieces", "p1", "my_twice")).toBe("names something removed");
    expect(live.differences()).toEqual([]);
  });

  test("undo of a removed column brings its values back", () => {
    open().run(must(addOwnColumn(live.book, "pieces", { title: "Rate", unit: "", type: "number", formula: "" })));
    live.type(["pieces", "p3", "my_rate", "12"]);
    live.run(
      must(
        addOwnColumn(live.book, "pieces", {
          title: "Sum",
          unit: "",
          type: "number",
          formula: "=SUM({pieces:my_rate})",
        }),
      ),
    );
    const removed = must(removeOwnColumn(live.book, "pieces", "my_rate"));
    live.run(removed);
    expect(errorAt("pieces", "p1", "my_sum")).toBe("names something removed");
    live.undo(removed);
    expect(live.read("pieces", "p1", "my_sum")).toBe(12);
    expect(live.differences()).toEqual([]);
  });

  test("a step added, undone and added again keeps its values right", () => {
    open(smallEdition(2));
    const step = must(addStep(live.book, { kind: "metal", title: "Lustre" }, "band"));
    for (let at = 0; at < 5; at += 1) {
      live.run(step);
      live.type(["pieces", "p1", "lustre.coats", `${at}`], ["pieces", "p1", "lustre.area", "50"]);
      expect(live.differences()).toEqual([]);
      live.run(must(removeStep(live.book, "lustre")));
      expect(live.differences()).toEqual([]);
    }
  });

  test("an input of the maker's own is used at once", () => {
    open().run(must(addOwnInput(live.book, "Kiln rent", "¤")));
    live.type(["edition", "my_kiln_rent", "value", "12"], ["pieces", "p1", "glaze.area", "=my_kiln_rent*10"]);
    expect(live.read("pieces", "p1", "glaze.area")).toBe(120);
    live.type(["edition", "my_kiln_rent", "value", "=wage*2"]);
    expect(live.read("pieces", "p1", "glaze.area")).toBe(400);
  });
});
