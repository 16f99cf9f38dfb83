// Trees of a small edition whose numbers are calculated by hand beside them.
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { linesOf, Opener, openAlong } from "../../../../src/app/help/explain/rows";
import { errorTrail } from "../../../../src/app/help/explain/trail";
import { explain } from "../../../../src/app/help/explain/tree";
import { usersOf } from "../../../../src/app/help/explain/users";
import { emptyMemory, type View } from "../../../../src/app/help/explain/view";
import { type CellName, cellKeyOf } from "../../../../src/core/document/access";
import { outline, viewOfBook } from "../../../tools/explained";
import { LiveEdition } from "../../../tools/live-edition";
import { smallEdition } from "../../../tools/small-edition";

let live: LiveEdition;
beforeEach(() => {
  live = new LiveEdition(smallEdition(3));
  live.type(
    ["pieces", "p1", "fettle.minutes", "15"],
    ["pieces", "p2", "fettle.minutes", "30"],
    ["pieces", "p1", "bisque.firing", "F1"],
    ["pieces", "p2", "bisque.firing", "F1"],
    ["firings", "f1", "meter", "100"],
  );
});
afterEach(() => live.close());

const lines = (cell: CellName, depth = 1) => outline(explain(viewOfBook(live.book), cell), depth);
const piece = (row: string, column: string): CellName => ({ sheet: "pieces", row, column });

describe("a tree", () => {
  test("of a product lists its factors, then why the formula went that way", () => {
    // 15 min ÷ 60 × 20 an hour = 5.
    expect(lines(piece("p1", "fettle.labour"))).toEqual([
      "Pieces 01, Fettle: labour: 5 <cell>",
      "  × time: 15 <input>",
      "  ÷ written in the formula: 60 <literal>",
      "  × Wage: 20 <input> (what an hour of work costs the studio, with its charges)",
      "  Because time is 15 <condition>",
      "  Because lost at is blank <condition>",
    ]);
  });

  test("of a sum lists its terms with their shares, largest first where they only add up", () => {
    // Fettle 5 + 15 ÷ 60 × 6 = 6.50. Bisque 100 kWh × 0.3 + 10 wear + 30 min × 20 ÷ 60 = 50 over two pieces = 25.
    expect(lines(piece("p1", "own")).slice(0, 4)).toEqual([
      "Pieces 01, own cost: 31.5 <cell>",
      "  + 79.4% Bisque: share: 25 <cell>",
      "  + 20.6% Fettle: cost: 6.5 <cell>",
      "  + 0.0% Cast: cost: blank <cell>",
    ]);
    expect(lines(piece("p1", "fettle.cost"), 2)).toEqual([
      "Pieces 01, Fettle: cost: 6.5 <cell>",
      "  + 76.9% labour: 5 <cell>",
      "    × time: 15 <input>",
      "    ÷ written in the formula: 60 <literal>",
      "    × Wage: 20 <input> (what an hour of work costs the studio, with its charges)",
      "    Because time is 15 <condition>",
      "    Because lost at is blank <condition>",
      "  + 23.1% time ÷ 60 × Overhead an hour carries: 1.5 <working>",
      "    × time: 15 <input>",
      "    ÷ written in the formula: 60 <literal>",
      "    × Overhead an hour carries: 6 <cell>",
      "  Because labour is 5 <condition>",
      "    labour: 5 <cell>",
    ]);
  });

  test("gives what is taken away a share below nothing", () => {
    live.type(["edition", "packing", "value", "=wage-overhead_rate"]);
    // 20 − 6 = 14: 142.9 % and −42.9 %.
    expect(lines({ sheet: "edition", row: "packing", column: "value" })).toEqual([
      "Packing and postage the studio bears: 14 <cell> (by a formula typed here)",
      "  + 142.9% Wage: 20 <input> (what an hour of work costs the studio, with its charges)",
      "  − -42.9% Overhead: 6 <input> (rent, insurance and upkeep for each hour of work on pieces, and of loading kilns if the next line says so)",
    ]);
  });

  test("of a share of a firing is cost × weight ÷ weight of all, and shows that firing only", () => {
    const found = lines(piece("p1", "bisque.cost"), 2);
    expect(found.slice(0, 5)).toEqual([
      "Pieces 01, Bisque: share: 25 <cell>",
      "  × Firings F1, cost: 50 <cell>",
      "    + 60.0% energy: 30 <cell>",
      "    + 20.0% wear: 10 <cell> (not typed here: it starts from its formula)",
      "    + 20.0% labour: 10 <cell>",
    ]);
    expect(found).toContain("  ÷ Firings F1, shared over: 2 <cell>");
    expect(found).toContain("  Fired in F1 <condition>");
    expect(found.join()).not.toContain("F2");
  });

  test("of a look-up lists the rows that match and no others", () => {
    const found = lines({ sheet: "firings", row: "f1", column: "load_kg" }, 4);
    expect(found.filter((line) => /^ {4}\+ .*Pieces 0/.test(line))).toEqual([
      "    + 50.0% Pieces 01: 1 <cell> (not typed here: it starts from its formula)",
      "    + 50.0% Pieces 02: 1 <cell> (not typed here: it starts from its formula)",
    ]);
    expect(found.join()).not.toContain("Pieces 03");
  });

  test("shows the branch taken and never the other", () => {
    // No programme, so by the meter; the model and the rule are not listed.
    expect(lines({ sheet: "firings", row: "f1", column: "kwh" })).toEqual([
      "Firings F1, used: 100 <cell>",
      "  metered: 100 <input>",
      "  Because fired is “yes”, not “not yet” <condition>",
      "  Because metered is 100 <condition>",
    ]);
    // Nothing is in it, and its meter was not read.
    expect(lines({ sheet: "firings", row: "f2", column: "kwh" }, 1)[0]).toBe("Firings F2, used: blank <cell>");
    live.type(["pieces", "p3", "bisque.firing", "F2"]);
    expect(lines({ sheet: "firings", row: "f2", column: "kwh" }, 1)).toEqual([
      "Firings F2, used: 24 <cell>",
      "  by the rule: 24 <cell>",
      "  Because fired is “yes”, not “not yet” <condition>",
      "  Because metered is blank <condition>",
      "  Because by the model is blank <condition>",
    ]);
  });

  test("marks what was given by hand, and ends there", () => {
    live.override(["pieces", "p1", "fettle.labour", "9"]);
    const found = lines(piece("p1", "fettle.cost"));
    expect(found[1]).toBe("  + 85.7% labour: 9 <input> (given by hand, in place of its formula)");
  });

  test("of a function it does not calculate is shown as calculated, with what it names", () => {
    live.override(["pieces", "p1", "fettle.labour", "=SQRT({fettle.minutes}+1)"]);
    expect(lines(piece("p1", "fettle.labour"))).toEqual([
      "Pieces 01, Fettle: labour: 4 <cell> (by a formula given by hand)",
      "  as calculated",
      "  [named in it] time: 15 <input>",
    ]);
  });

  test("stops where it goes in a circle", () => {
    live.override(["pieces", "p1", "fettle.labour", "={fettle.cost}"]);
    const found = lines(piece("p1", "fettle.labour"), 3);
    expect(found.filter((line) => line.includes("<end>"))).not.toEqual([]);
    expect(found.join()).toContain("It is already above: this goes in a circle.");
  });

  test("of many cells is told by what each is made of as well", () => {
    const view = viewOfBook(live.book);
    const root = explain(view, { sheet: "results", row: "own_progress", column: "value" });
    const group = root.open?.().parts[0];
    const made = group?.open?.().parts[0];
    // Fettle 6.50 + 13.00, bisque 25 + 25.
    expect(made && outline(made, 1)).toEqual([
      "The same, by what each is made of: 69.5 <breakdown>",
      "  + 71.9% Bisque: share: 50 <group> (2 cells)",
      "  + 28.1% Fettle: cost: 19.5 <group> (2 cells)",
    ]);
  });
});

describe("users of a cell", () => {
  const users = (cell: CellName) =>
    usersOf(viewOfBook(live.book), cell).map(({ sheet, column, rows }) => `${sheet} ${column} ${rows}`);

  test("are those whose formulas name it; of look-ups the rows that look for it", () => {
    expect(users(piece("p1", "fettle.minutes"))).toEqual([
      "pieces fettle.labour p1",
      "pieces fettle.cost p1",
      "pieces reached p1",
    ]);
    expect(users({ sheet: "firings", row: "f1", column: "cost" })).toEqual([
      "kilns cost k2",
      "firings each_full f1",
      "firings charged f1",
      "pieces bisque.cost p1,p2",
    ]);
    expect(users({ sheet: "kilns", row: "k2", column: "wear" })).toContain("firings wear f1");
    expect(users({ sheet: "kilns", row: "k1", column: "wear" })).toContain("firings wear f2");
  });

  test("are not those that look for a blank: it is found nowhere", () => {
    live.type(["edition", "packing", "value", '=TOTAL_BY("",{pieces:cast.mould},{pieces:own})']);
    expect(users(piece("p1", "own")).join()).not.toContain("packing");
    live.type(
      ["pieces", "p1", "cast.mould", "A"],
      ["edition", "packing", "value", '=TOTAL_BY("a",{pieces:cast.mould},{pieces:own})'],
    );
    expect(users(piece("p1", "own")).join()).toContain("packing");
  });

  test("include inputs' users on every sheet and formulas given by hand", () => {
    live.override(["pieces", "p3", "fettle.cost", "=wage*2"]);
    const found = users({ sheet: "edition", row: "wage", column: "value" });
    expect(found).toContain("pieces fettle.labour p1,p2,p3");
    expect(found).toContain("pieces fettle.cost p3");
    expect(found).toContain("firings labour f1,f2");
  });
});

describe("the way of an error", () => {
  test("leads over the cells that carry it to where it began, and is open and in sight", () => {
    live.override(["pieces", "p2", "fettle.labour", "=1/0"]);
    const view = viewOfBook(live.book);
    const cell = { sheet: "results", row: "put_in", column: "value" } as const;
    const trail = errorTrail(view, cell);
    expect(trail.map(cellKeyOf)).toEqual([
      "results put_in value",
      "results in_labour value",
      "route fettle labour_cost",
      "pieces p2 fettle.labour",
    ]);
    const opener = new Opener();
    const root = explain(view, cell);
    const { open, last } = openAlong(root, trail, opener);
    const seen = linesOf(root, new Set(open), opener);
    const end = seen.find(({ path }) => path === last);
    expect(end?.part.cell).toEqual(piece("p2", "fettle.labour"));
    expect(end?.part.notes[0]).toBe("It divides by 0 or by a blank cell. Enter the number it divides by.");
    expect(errorTrail(view, piece("p1", "own"))).toEqual([]);
  });
});

describe("the way of an error that has two", () => {
  test("is the shorter one, straight to where it began", () => {
    live.type(["pieces", "p2", "fettle.minutes", "=1/0"]);
    // Its cost names labour, which is in the same error, before the minutes themselves.
    expect(errorTrail(viewOfBook(live.book), piece("p2", "fettle.cost")).map(cellKeyOf)).toEqual([
      "pieces p2 fettle.cost",
      "pieces p2 fettle.minutes",
    ]);
  });
});

describe("ten thousand pieces", () => {
  const count = 10_000;
  const FIXED: Readonly<Record<string, number | string>> = {
    outcome: "good",
    "fettle.cost": 4,
    "bisque.cost": 2,
    own: 6,
    loss_share: 1,
    full: 7,
    second_share: "",
  };

  /** Values laid down by rule, so that no engine is needed: every piece is good and costs 7. */
  function largeView(): View & { readonly reads: () => number } {
    let reads = 0;
    const lines: Readonly<Record<string, number>> = { good: count, per_good: 7 };
    return {
      book: smallEdition(count),
      value: ({ sheet, row, column }) => {
        reads += 1;
        if (sheet === "results") return lines[row] ?? 0;
        return sheet === "pieces" ? (FIXED[column] ?? "") : null;
      },
      text: String,
      memory: emptyMemory(),
      reads: () => reads,
    };
  }

  test("are read once for their sum, and listed fifty at a time", () => {
    const view = largeView();
    const root = explain(view, { sheet: "results", row: "per_good", column: "value" });
    expect(view.reads()).toBe(1);
    const opened = root.open?.();
    // Each of two columns once, and a few lines.
    expect(view.reads()).toBeLessThan(2 * count + 50);
    const group = opened?.parts[0];
    expect(group && outline(group, 0)).toEqual([
      "× Pieces, full cost, where outcome is “good”: 70000 <group> (10000 cells)",
    ]);
    const before = view.reads();
    const members = group?.open?.().parts ?? [];
    expect(members).toHaveLength(50 + 3);
    expect(view.reads() - before).toBeLessThan(200);
    const more = members.at(-1);
    expect(more?.words).toBe("The next 50 of 9950 more");
    expect(more?.joins).toEqual({ kind: "term", sign: "+", amount: 69_650, share: 0.995 });
    expect(more?.open?.().parts).toHaveLength(51);
    expect(view.reads() - before).toBeLessThan(400);
  });

  test("are told by what they are made of with a few reads a piece", () => {
    const view = largeView();
    const root = explain(view, { sheet: "results", row: "per_good", column: "value" });
    const made = root.open?.().parts[0]?.open?.().parts[0];
    const before = view.reads();
    expect(made && outline(made, 1)).toEqual([
      "The same, by what each is made of: 70000 <breakdown>",
      "  + 85.7% own cost: 60000 <group> (10000 cells)",
      "  + 14.3% of losses: 10000 <group> (10000 cells)",
    ]);
    expect(view.reads() - before).toBeLessThan(8 * count);
  });

  test("more is unrolled in its place, and a line knows how many stand beside it", () => {
    const view = largeView();
    const root = explain(view, { sheet: "results", row: "per_good", column: "value" });
    const opener = new Opener();
    const group = `${root.key} › group pieces full`;
    const closed = linesOf(root, new Set([root.key, group]), opener);
    const more = closed.find(({ part }) => part.role === "more");
    expect(closed.filter(({ level }) => level === 3)).toHaveLength(53);
    const unrolled = linesOf(root, new Set([root.key, group, more?.path ?? ""]), opener);
    const third = unrolled.filter(({ level }) => level === 3);
    expect(third).toHaveLength(103);
    expect(third.at(-1)?.among).toBe(103);
    expect(third.filter(({ part }) => part.role === "more").map(({ part }) => part.words)).toEqual([
      "The next 50 of 9900 more",
    ]);
  });
});
