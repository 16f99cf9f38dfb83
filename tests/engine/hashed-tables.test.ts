// PICK, TOTAL_BY, COUNT_BY, SIZES_BY and FIRING_SHARE are answered from tables kept beside the columns: they must never be stale.
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import type { Change } from "../../src/core/document/change";
import { removeRows } from "../../src/core/document/edits";
import { addOwnColumn, removeOwnColumn } from "../../src/core/document/own-edits";
import type { Result } from "../../src/core/problem";
import { addPieces, loseAt } from "../../src/core/record/piece-edits";
import { isCellError } from "../../src/engine/values";
import { LiveEdition } from "../tools/live-edition";
import { smallEdition } from "../tools/small-edition";

let live: LiveEdition;

function must<T>(result: Result<T>): T {
  if (!result.ok) throw new Error(result.problems[0]?.message);
  return result.value;
}

const column = (title: string, formula: string): Change =>
  must(addOwnColumn(live.book, "firings", { title, unit: "", type: "number", formula }));
const of = (firing: string, key: string) => live.read("firings", firing, key);

/** Own columns on Firings: total, count and first note of the pieces by what stands under “mould”. */
beforeEach(() => {
  live = new LiveEdition(smallEdition(6));
  live.run(column("Total", "=TOTAL_BY({id},{pieces:cast.mould},{pieces:cast.slip})"));
  live.run(column("Count", "=COUNT_BY({id},{pieces:cast.mould})"));
  live.run(column("First", '=IFNA(PICK({id},{pieces:cast.mould},{pieces:cast.slip}),"none")'));
  live.type(
    ["pieces", "p1", "cast.mould", "F1"],
    ["pieces", "p1", "cast.slip", "10"],
    ["pieces", "p2", "cast.mould", "f1"],
    ["pieces", "p2", "cast.slip", "20"],
    ["pieces", "p3", "cast.mould", "F2"],
    ["pieces", "p3", "cast.slip", "40"],
    ["pieces", "p4", "cast.slip", "80"],
  );
});
afterEach(() => {
  expect(live.differences()).toEqual([]);
  live.close();
});

const all = (firing: string) => [of(firing, "my_total"), of(firing, "my_count"), of(firing, "my_first")];

describe("tables", () => {
  test("sum, count and pick by name, whatever the case, and pass over blanks", () => {
    expect(all("f1")).toEqual([30, 2, 10]);
    expect(all("f2")).toEqual([40, 1, 40]);
  });

  test("follow a change of a key alone", () => {
    live.type(["pieces", "p2", "cast.mould", "F2"]);
    expect(all("f1")).toEqual([10, 1, 10]);
    expect(all("f2")).toEqual([60, 2, 20]);
    live.type(["pieces", "p1", "cast.mould", ""]);
    expect(all("f1")).toEqual([0, 0, "none"]);
  });

  test("follow a change of a value alone", () => {
    live.type(["pieces", "p1", "cast.slip", "11"]);
    expect(all("f1")).toEqual([31, 2, 11]);
    live.type(["pieces", "p2", "cast.slip", ""]);
    expect(all("f1")).toEqual([11, 2, 11]);
  });

  test("follow a change of what is looked up", () => {
    live.type(["firings", "f1", "id", "X"]);
    expect(all("f1")).toEqual([0, 0, "none"]);
    live.type(["pieces", "p4", "cast.mould", "x"]);
    expect(all("f1")).toEqual([80, 1, 80]);
  });

  test("follow key and value in turn, many times over", () => {
    for (let at = 0; at < 12; at += 1) {
      const to = at % 2 === 0 ? "F2" : "F1";
      live.type(["pieces", "p1", "cast.mould", to]);
      live.type(["pieces", "p1", "cast.slip", String(100 + at)]);
      expect(of(to === "F1" ? "f1" : "f2", "my_total")).toBe((to === "F1" ? 20 : 40) + 100 + at);
    }
  });

  test("follow rows that are added, also beyond the room there was", () => {
    live.run(must(addPieces(live.book, 30)));
    live.type(["pieces", "p36", "cast.mould", "F1"], ["pieces", "p36", "cast.slip", "5"]);
    expect(all("f1")).toEqual([35, 3, 10]);
  });

  test("follow rows that are removed, and undo", () => {
    const removed = must(removeRows(live.book, "pieces", ["p1"], "Remove"));
    live.run(removed);
    expect(all("f1")).toEqual([20, 1, 20]);
    live.undo(removed);
    expect(all("f1").slice(0, 2)).toEqual([30, 2]);
  });

  test("are not kept from before when the column of keys was named by nobody for a while", () => {
    // The values are named by others all the time, the keys by these three columns only.
    const named = live.book.sheets.firings.columns.filter(({ own }) => own);
    const removed = named.map(({ key }) => {
      const change = must(removeOwnColumn(live.book, "firings", key));
      live.run(change);
      return change;
    });
    live.type(["pieces", "p1", "cast.mould", "F2"]);
    for (const change of removed.toReversed()) live.undo(change);
    expect(all("f1")).toEqual([20, 1, 20]);
    expect(all("f2")).toEqual([50, 2, 10]);
  });

  test("list the sizes of a load, and follow keys, feet, heights, rows and errors", () => {
    const sizes = () => [of("f1", "sizes"), of("f2", "sizes")];
    // Two firing steps, each with its own list.
    live.type(["pieces", "p1", "bisque.firing", "F1"], ["pieces", "p2", "bisque.firing", "f1"]);
    const [, other] = sizes();
    const plain = `${of("f1", "load_cm2") === 0 ? "" : Number(of("f1", "load_cm2")) / 2} ${live.read("pieces", "p1", "height")}`;
    expect(sizes()).toEqual([`${plain} 2;`, other]);
    live.type(["pieces", "p2", "height", "30"]);
    expect(of("f1", "sizes")).toBe(`${plain.split(" ")[0]} 30 1;${plain} 1;`);
    live.type(["pieces", "p2", "foot", "75.5"]);
    expect(of("f1", "sizes")).toBe(`75.5 30 1;${plain} 1;`);
    live.type(["pieces", "p2", "bisque.firing", "F2"]);
    expect(sizes()).toEqual([`${plain} 1;`, "75.5 30 1;"]);
    const removed = must(removeRows(live.book, "pieces", ["p2"], "Remove"));
    live.run(removed);
    expect(sizes()).toEqual([`${plain} 1;`, ";"]);
    live.undo(removed);
    const bad = live.override(["pieces", "p2", "height", "=1/0"]);
    expect(isCellError(of("f2", "sizes"))).toBe(true);
    expect(of("f1", "sizes")).toBe(`${plain} 1;`);
    live.undo(bad);
    expect(sizes()).toEqual([`${plain} 1;`, "75.5 30 1;"]);
  });

  test("pass an error among the keys or values on to what uses them, and heal", () => {
    const bad = live.override(["pieces", "p2", "cast.slip", "=1/0"]);
    expect(isCellError(of("f1", "my_total"))).toBe(true);
    expect(of("f2", "my_total")).toBe(40);
    expect(of("f1", "my_count")).toBe(2);
    live.undo(bad);
    expect(all("f1")).toEqual([30, 2, 10]);
  });
});

describe("a firing's share", () => {
  test("is by weight where the firing says so, and follows a weight alone and the way of sharing alone", () => {
    live.type(
      ["pieces", "p1", "bisque.firing", "F2"],
      ["pieces", "p2", "bisque.firing", "F2"],
      ["pieces", "p2", "kg", "3"],
    );
    const cost = Number(of("f2", "cost"));
    const share = (piece: string) => Number(live.read("pieces", piece, "bisque.cost"));
    expect([share("p1") / cost, share("p2") / cost]).toEqual([0.25, 0.75]);
    live.type(["pieces", "p1", "kg", "9"]);
    expect(share("p1") / cost).toBeCloseTo(0.75, 12);
    live.type(["firings", "f2", "basis", "count"]);
    expect(share("p1") / cost).toBeCloseTo(0.5, 12);
    live.type(["firings", "f2", "basis", "shelf area"], ["pieces", "p1", "foot", "600"]);
    expect(share("p1") / cost).toBeCloseTo(0.75, 12);
  });

  test("of pieces that weigh nothing together says what to do", () => {
    live.type(["pieces", "p1", "bisque.firing", "F2"], ["pieces", "p1", "kg", "0"]);
    const value = live.read("pieces", "p1", "bisque.cost");
    expect(isCellError(value) && value.message).toBe(
      "FIRING_SHARE: the pieces in firing “F2” weigh nothing together. Enter their weight or shelf area, or share it by count.",
    );
    live.type(["pieces", "p1", "kg", "1"]);
    expect(live.read("pieces", "p1", "bisque.cost")).toBe(of("f2", "cost"));
  });

  test("always adds up to the firing, whoever joins, leaves or is lost", () => {
    const born = () =>
      live.book.sheets.pieces.rows.reduce(
        (sum, row) => sum + (Number(live.read("pieces", row.id, "bisque.cost")) || 0),
        0,
      );
    const steps = ["p1", "p2", "p3", "p4"].map((row) => () => live.type(["pieces", row, "bisque.firing", "F1"]));
    for (const step of [
      ...steps,
      () => live.type(["pieces", "p2", "bisque.firing", "F2"]),
      () => live.run(loseAt(live.book, ["p3"], "cast", "torn")),
      () => live.type(["firings", "f1", "meter", "99"]),
      () => live.run(must(removeRows(live.book, "pieces", ["p4"], ""))),
    ]) {
      step();
      const fired = Number(of("f1", "charged")) + Number(of("f2", "charged"));
      expect(born()).toBeCloseTo(fired, 9);
    }
  });
});
