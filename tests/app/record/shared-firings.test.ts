// A kiln that holds more than one edition's pieces: each bears its part, by hand, by plain loops and in the books.
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { readLoads } from "../../../src/app/loads/loads";
import { benchSheet } from "../../../src/app/paper/bench-sheet";
import { firingSheets } from "../../../src/app/paper/firing-sheet";
import { planAsked } from "../../../src/app/record/record";
import { settle } from "../../../src/app/settle/settle";
import { applyChange } from "../../../src/core/document/change";
import type { Workbook } from "../../../src/core/document/workbook";
import { must } from "../../accounts/results";
import { compareSheets } from "../../tools/compare-sheets";
import { errorsOf, evaluate } from "../../tools/evaluate";
import { openSession } from "../../tools/open-session";
import { passAs } from "../../tools/piece-changes";
import { afterTyping, smallEdition, type Typed } from "../../tools/small-edition";

/** Three cast pieces of 0.8, 1.2 and 1 kg in one firing: 72 kWh at 0.30, 10.00 of wear, half an hour at 20.00: 41.60. */
function threeIn(basis: string, ...more: readonly Typed[]): Workbook {
  const pieces = ["p1", "p2", "p3"];
  return afterTyping(smallEdition(3), [
    ["edition", "piece_foot", "value", "200"],
    ["firings", "f1", "basis", basis],
    ["firings", "f1", "meter", "72"],
    ...pieces.flatMap((row, at): Typed[] => [
      ["pieces", row, "cast.slip", "900"],
      ["pieces", row, "kg", ["0.8", "1.2", "1"][at] ?? ""],
      ["pieces", row, "bisque.firing", "F1"],
    ]),
    ...more,
  ]);
}

const said: readonly Typed[] = [
  ["firings", "f1", "other_count", "2"],
  ["firings", "f1", "other_kg", "2"],
  ["firings", "f1", "other_cm2", "800"],
  ["firings", "f1", "with", "Sister"],
  ["firings", "f1", "with_count", "3"],
  ["firings", "f1", "with_kg", "5"],
  ["firings", "f1", "with_cm2", "1000"],
];

describe("a firing of 41.60 with other ware and a sister edition in it", () => {
  test.each([
    ["count", 3 / 8, 15.6, 5.2],
    ["weight", 3 / 10, 12.48, 3.328],
    ["shelf area", 600 / 2400, 10.4, 10.4 / 3],
  ])("by %s", (basis, part, borne, first) => {
    const book = threeIn(basis, ...said);
    const read = evaluate(book);
    expect(errorsOf(book, read)).toEqual([]);
    const firing = (column: string) => read("firings", "f1", column);
    expect(firing("cost")).toBeCloseTo(41.6, 12);
    expect(firing("ours")).toBeCloseTo(part, 12);
    expect(firing("charged")).toBeCloseTo(borne, 12);
    expect(firing("each")).toBeCloseTo(borne / 3, 12);
    expect(read("pieces", "p1", "bisque.cost")).toBeCloseTo(first, 12);
    expect(read("results", "in_kiln", "value")).toBeCloseTo(borne, 12);
    expect(read("results", "kiln_energy", "value")).toBeCloseTo(21.6 * part, 12);
    expect(read("results", "kwh", "value")).toBeCloseTo(72 * part, 12);
    expect(read("results", "adds_up", "value")).toBeCloseTo(0, 12);
    // What warms the kiln is all that is in it.
    expect(firing("ware_kg")).toBeCloseTo(10, 12);
    expect(compareSheets(book, read).differ).toEqual([]);
    expect(settle(book, read).ok).toBe(true);
  });

  test("other ware's count is enough: it weighs and stands like this edition's pieces", () => {
    const read = evaluate(threeIn("weight", ["firings", "f1", "other_count", "3"]));
    expect(read("firings", "f1", "other_kg")).toBe(3);
    expect(read("firings", "f1", "other_cm2")).toBe(600);
    expect(read("firings", "f1", "ours")).toBeCloseTo(0.5, 12);
  });

  test("what is in it takes room, and the load is warned of", () => {
    const roomy = ["kilns", "k2", "capacity", "40"] as const;
    const mind = (...more: readonly Typed[]) => evaluate(threeIn("count", roomy, ...more))("firings", "f1", "warning");
    expect(mind()).toBe("");
    expect(mind(["firings", "f1", "other_count", "38"])).toBe("more pieces than there is room for");
    expect(mind(["firings", "f1", "with_cm2", "900"])).toBe("what else is in it has no count");
  });

  test("overhead and hours of loading go with the part", () => {
    const book = threeIn("count", ...said, ["edition", "overhead_loading", "value", "yes"]);
    const read = evaluate(book);
    expect(read("results", "kiln_overhead", "value")).toBeCloseTo((0.5 * 6 * 3) / 8, 12);
    expect(compareSheets(book, read).differ).toEqual([]);
    expect(settle(book, read).ok).toBe(true);
  });

  test("with none of this edition's pieces in it, it is no cost of this edition, read or not", () => {
    const blank = ["p1", "p2", "p3"].map((row): Typed => ["pieces", row, "bisque.firing", ""]);
    const book = afterTyping(threeIn("count", ...said), blank);
    const read = evaluate(book);
    for (const line of ["in_kiln", "empty_kiln", "kwh"]) expect(read("results", line, "value"), line).toBe(0);
    expect(read("firings", "f1", "fired")).toBe("yes");
    expect(compareSheets(book, read).differ).toEqual([]);
    expect(settle(book, read).ok).toBe(true);
  });
});

test("two editions and other ware bear all of the firings they share, whatever is in them", () => {
  const amount = fc.integer({ min: 0, max: 20 });
  const edition = fc.array(
    fc.record({
      firing: fc.constantFrom("F1", "F2", ""),
      kg: fc.integer({ min: 1, max: 40 }),
      foot: fc.integer({ min: 1, max: 500 }),
    }),
    { minLength: 1, maxLength: 5 },
  );
  const ware = fc.record({ count: amount, kg: amount, cm2: amount });
  const basis = fc.constantFrom("count", "weight", "shelf area");
  fc.assert(
    fc.property(edition, edition, ware, ware, basis, basis, (one, other, first, second, basis1, basis2) => {
      const editions = [one, other];
      const firings = [
        { row: "f1", name: "F1", ware: first, basis: basis1 },
        { row: "f2", name: "F2", ware: second, basis: basis2 },
      ] as const;
      const held = (pieces: typeof one, name: string) => {
        const inIt = pieces.filter(({ firing }) => firing === name);
        const sum = (key: "kg" | "foot") => inIt.reduce((total, piece) => total + piece[key], 0);
        return { count: inIt.length, kg: sum("kg"), cm2: sum("foot") };
      };
      const books = editions.map((pieces, at) => {
        const theirs = editions[1 - at] ?? [];
        const typed = firings.flatMap(({ row, name, ware: beside, basis: by }): Typed[] => [
          ["firings", row, "basis", by],
          ["firings", row, "meter", "50"],
          ...Object.entries(beside).map(([key, value]): Typed => ["firings", row, `other_${key}`, String(value)]),
          ...Object.entries(held(theirs, name)).map(
            ([key, value]): Typed => ["firings", row, `with_${key}`, String(value)],
          ),
        ]);
        const entered = pieces.flatMap(({ firing, kg, foot }, index): Typed[] => [
          ["pieces", `p${index + 1}`, "cast.slip", "900"],
          ["pieces", `p${index + 1}`, "kg", String(kg)],
          ["pieces", `p${index + 1}`, "foot", String(foot)],
          ["pieces", `p${index + 1}`, "bisque.firing", firing],
        ]);
        return afterTyping(smallEdition(pieces.length), [...typed, ...entered]);
      });
      const reads = books.map(evaluate);
      for (const [at, book] of books.entries()) expect(compareSheets(book, reads[at]!).differ).toEqual([]);
      for (const { row, name, ware: beside, basis: by } of firings) {
        const inAll = editions.reduce((sum, pieces) => sum + held(pieces, name)[measureOf(by)], beside[measureOf(by)]);
        if (inAll === 0) continue;
        const cost = Number(reads[0]?.("firings", row, "cost"));
        const borne = reads.reduce((sum, read) => sum + Number(read("firings", row, "charged")), 0);
        const byWare = (cost * beside[measureOf(by)]) / inAll;
        expect(Math.abs(borne + byWare - cost)).toBeLessThan(1e-9 * cost);
      }
    }),
    { seed: 20_261_129, numRuns: 6 },
  );
});

const measureOf = (basis: string) => (basis === "count" ? "count" : basis === "weight" ? "kg" : "cm2");

test("papers, Loads and Record count what else is in the firing", async () => {
  const waiting = threeIn("count", ...said);
  const book = afterTyping(waiting, [
    ["pieces", "p3", "bisque.firing", ""],
    ["firings", "f1", "meter", ""],
    ["pieces", "p3", "fettle.minutes", "10"],
    ["firings", "f1", "with_height", "31"],
  ]);
  const source = { book, read: evaluate(book), locale: "en-GB" };
  const [paper] = must(firingSheets(source, new Set(["f1"])));
  const facts = new Map(paper?.facts.map(({ label, text }) => [label, text.replace(/[\u00a0\u202f]/g, " ")]));
  expect(facts.get("Pieces")).toBe("7 of 40");
  expect(facts.get("Also in it")).toBe("other ware: 2 pieces, 2 kg, 800 cm²; Sister: 3 pieces, 5 kg, 1 000 cm²");
  expect(facts.get("Weight")).toBe("9 kg");
  expect(facts.get("Tallest piece")).toBe("31 cm");
  expect(facts.get("Borne here")).toBe("29 %");
  const bench = must(benchSheet(source));
  expect(JSON.stringify(bench)).toContain("F1 holds other ware: 2 pieces");

  const { session, settled } = openSession(book);
  await settled();
  const [load] = readLoads(session, [])?.unread ?? [];
  expect(load?.pieces.map(({ id }) => id)).toEqual([
    "01",
    "02",
    "other ware",
    "other ware",
    "Sister",
    "Sister",
    "Sister",
  ]);
  const asked = { kind: "done", step: "bisque", firings: { bisque: { kind: "there", name: "F1" } } } as const;
  expect(must(planAsked(session, ["p3"], asked)).says.join()).toContain("F1 holds 8 of 40");
});

test("the books of an edition are its part, to the cent", () => {
  const book = threeIn("count", ...said);
  const passed = applyChange(book, passAs(book, ["p1", "p2", "p3"], "good"));
  const settled = settle(passed, evaluate(passed));
  if (!settled.ok) throw new Error(settled.problems[0]?.message);
  const { energy, kilnWear, loadingLabour } = settled.value.ledger.putIn;
  expect([energy, kilnWear, loadingLabour]).toEqual([810, 375, 375]);
});
