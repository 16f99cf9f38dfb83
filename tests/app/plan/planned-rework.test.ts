// A step as needed that some pieces are expected to need: in the plan, in the starts, in what a piece carries; and two tiers
// whose starts, plan and chance are one number on every page.
import { describe, expect, test } from "vitest";
import { planOf, startFrom } from "../../../src/app/plan/start";
import { settle } from "../../../src/app/settle/settle";
import { runsOf } from "../../../src/whatif/questions/chance";
import { deliveryOf, spreadsOf } from "../../../src/whatif/questions/good-count";
import type { RouteStep } from "../../../src/whatif/run/run-draws";
import { must } from "../../accounts/results";
import { evaluate, type Sheetful } from "../../tools/evaluate";
import { fewest } from "../../tools/independent-starts";
import { afterTyping, smallEdition, type Typed } from "../../tools/small-edition";

const value = (read: Sheetful, id: string) => Number(read("edition", id, "value"));
const again: Typed[] = [
  ["route", "firing", "who", "as needed"],
  ["route", "firing", "needed", "25"],
  ["route", "firing", "loss", "20"],
  ["edition", "wanted", "value", "40"],
];

describe("a step as needed with an expected share", () => {
  const read = evaluate(afterTyping(smallEdition(1), again));
  const kept = 0.95 * 0.98 * 0.98;

  test("is entered by that share of the pieces that come to it, and loses of those only", () => {
    const starts = value(read, "starts");
    expect(read("route", "firing", "plan_entries")).toBeCloseTo(starts * kept * 0.25, 10);
    expect(read("route", "firing", "plan_lost")).toBeCloseTo(starts * kept * 0.25 * 0.2, 10);
    expect(read("route", "band", "plan_entries")).toBeCloseTo(starts * kept * 0.95, 10);
    expect(value(read, "chain_yield")).toBeCloseTo(kept * 0.95, 12);
    expect(starts).toBe(fewest({ standard: 40, special: 0, all: kept * 0.95, own: 1 }, 0.9));
  });

  test("stands in the planned cost, and in what pieces carry on average after it", () => {
    const each = Number(read("route", "firing", "plan_each"));
    const [before, here, after] = ["glaze", "firing", "band"].map((step) => Number(read("route", step, "carried")));
    expect(each).toBeGreaterThan(0);
    // A piece that had it carries all of it; those after it a quarter of it on average.
    expect(here).toBeCloseTo((before ?? 0) + each, 10);
    expect(after).toBeCloseTo((before ?? 0) + each / 4 + Number(read("route", "band", "plan_each")), 10);
    const without = evaluate(afterTyping(afterTyping(smallEdition(1), again), [["route", "firing", "needed", ""]]));
    expect(value(read, "plan_cost")).toBeGreaterThan(value(without, "plan_cost"));
    expect(without("route", "firing", "plan_entries")).toBe(0);
    expect(without("route", "firing", "carried")).toBe("");
  });

  test("done to more pieces than plan and chance explain is shown as such, by the odds of losses", () => {
    const ids = Array.from({ length: 12 }, (_, at) => `p${at + 1}`);
    const edition = (fired: number, runs: string) =>
      afterTyping(smallEdition(12), [
        ...again,
        ["edition", "loss_runs", "value", runs],
        ...ids.map((piece): Typed => ["pieces", piece, "band.coats", "1"]),
        ...ids.slice(0, fired).map((piece): Typed => ["pieces", piece, "firing.firing", "F1"]),
      ]);
    const run = (fired: number, runs: string) => evaluate(edition(fired, runs));
    const beyond = (of: Sheetful) => Number(of("results", "rework_beyond", "value"));
    // 12 at 25 %: 3 planned; P(≥ 6) = 5.4 %, P(≥ 7) = 1.4 %.
    expect(beyond(run(6, "20"))).toBe(0);
    expect(beyond(run(7, "20"))).toBe(4);
    expect(beyond(run(6, ""))).toBe(3);
    const seven = run(7, "20");
    const cost = Number(seven("results", "rework_cost", "value"));
    expect(cost).toBeGreaterThan(0);
    expect(seven("results", "rework_beyond_cost", "value")).toBeCloseTo((cost * 4) / 7, 10);
    expect(seven("results", "rework_chance", "value")).toBeCloseTo(0.0143, 4);
    // The cost statement tells of it; what the pieces carry is as it was.
    const REWORK = "Rework beyond plan and chance, within the pieces";
    const books = must(settle(edition(7, "20"), seven));
    expect(books.statement.find(({ label }) => label === REWORK)).toEqual({
      label: REWORK,
      kind: "note",
      minor: Math.round(((cost * 4) / 7) * 100),
    });
    expect(books.ledger.abnormal).toBe(0);
  });
});

describe("two tiers", () => {
  const typed: Typed[] = [
    ["edition", "wanted", "value", "30"],
    ["edition", "special_wanted", "value", "8"],
    ["route", "band", "who", "special"],
    ["route", "band", "loss", "12"],
  ];
  const read = evaluate(afterTyping(smallEdition(1), typed));
  const all = 0.95 * 0.98 * 0.98 * 0.96;

  test("the starts are the fewest that deliver both, and the chance is the one of the Chance page", () => {
    const starts = value(read, "starts");
    expect(starts).toBe(fewest({ standard: 22, special: 8, all, own: 0.88 }, 0.9));
    const steps: readonly RouteStep[] = [
      ...[0.05, 0.02, 0.02, 0.04].map((loss, at) => ({ id: `${at}`, loss, who: "all", needed: 1 }) as const),
      { id: "band", loss: 0.12, who: "special", needed: 1 },
    ];
    const runs = runsOf({
      ...{ steps, starts, specialStarts: value(read, "special_starts") },
      wanted: { standard: 22, special: 8 },
    });
    const spreads = spreadsOf(runs);
    if (!spreads.ok) throw new Error("no spreads");
    const chance = runs.reduce((both, run, at) => both * deliveryOf(spreads.value[at]!, run.wanted).chance, 1);
    expect(value(read, "starts_chance")).toBeCloseTo(chance, 12);
    expect(chance).toBeGreaterThanOrEqual(0.9);
  });

  test("a loss at a step for special pieces multiplies special pieces only", () => {
    const more = evaluate(afterTyping(afterTyping(smallEdition(1), typed), [["route", "band", "loss", "40"]]));
    const standard = (of: Sheetful) => value(of, "starts") - value(of, "special_starts");
    expect(value(more, "special_starts")).toBeGreaterThan(value(read, "special_starts") + 2);
    expect(Math.abs(standard(more) - standard(read))).toBeLessThanOrEqual(1);
    expect(value(read, "chain_yield")).toBeCloseTo(30 / (22 / all + 8 / (all * 0.88)), 12);
    // None wanted: their steps count for nothing.
    const none = evaluate(
      afterTyping(afterTyping(smallEdition(1), typed), [["edition", "special_wanted", "value", "0"]]),
    );
    expect(value(none, "starts")).toBe(fewest({ standard: 30, special: 0, all, own: 1 }, 0.9));
  });

  test("the start dialog says the same as the Edition sheet of what it starts", () => {
    for (const [template, wanted] of [
      ["lustre", "120"],
      ["trial", "7"],
    ] as const) {
      const form = { title: "T", wanted, template, currency: "EUR", firstPiece: "1" };
      const plan = planOf(form);
      const book = startFrom(form, "2026-11-28");
      if (!plan || !book.ok) throw new Error("no plan");
      const sheet = evaluate(book.value);
      expect(plan.starts).toBe(value(sheet, "starts"));
      expect(plan.naive).toBe(value(sheet, "naive"));
      expect(plan.chainYield).toBeCloseTo(value(sheet, "chain_yield"), 12);
      expect(plan.naiveChance).toBeCloseTo(value(sheet, "naive_chance"), 12);
      expect(book.value.sheets.pieces.rows).toHaveLength(plan.starts);
    }
  });
});

test("yields during a run count at each step only the pieces that have come so far, and end as plain counts", () => {
  const ids = Array.from({ length: 8 }, (_, at) => `p${at + 1}`);
  const cast = ids.map((piece): Typed => ["pieces", piece, "cast.slip", "900"]);
  const lost: Typed[] = [["pieces", "p8", "lost_at", "fettle"]];
  const fettled = ["p1", "p2"].map((piece): Typed => ["pieces", piece, "fettle.minutes", "9"]);
  const half: Typed[] = [...cast, ...lost, ...fettled, ["pieces", "p1", "grade", "good"]];
  const yieldOf = (typed: readonly Typed[], id: string) =>
    evaluate(afterTyping(smallEdition(8), typed))("results", id, "value");
  // One of the three that came to fettling was lost; of the two decided one is good. Not ½, but ⅔.
  expect(yieldOf(half, "final_yield")).toBeCloseTo(2 / 3, 12);
  const rest = ["p2", "p3", "p4", "p5", "p6"].map((piece): Typed => ["pieces", piece, "grade", "good"]);
  const over: Typed[] = [...half, ...rest, ["pieces", "p7", "grade", "second"]];
  expect(yieldOf(over, "final_yield")).toBeCloseTo(6 / 8, 12);
  expect(yieldOf(over, "saleable")).toBeCloseTo(7 / 8, 12);
  expect(yieldOf([...cast, ...lost], "final_yield")).toBe("");
  expect(
    yieldOf(
      ids.map((piece): Typed => ["pieces", piece, "lost_at", "cast"]),
      "final_yield",
    ),
  ).toBe(0);
});

test("rolled yields keep the tiers apart; a step as needed is held against the pieces that got so far", () => {
  const ids = Array.from({ length: 6 }, (_, at) => `p${at + 1}`);
  const read = evaluate(
    afterTyping(smallEdition(6), [
      ["route", "band", "who", "special"],
      ["route", "firing", "who", "as needed"],
      ...ids.map((piece): Typed => ["pieces", piece, "glaze.coats", "2"]),
      ...["p1", "p2"].map((piece): Typed => ["pieces", piece, "tier", "special"]),
      ...["p1", "p2"].map((piece): Typed => ["pieces", piece, "band.coats", "1"]),
      ["pieces", "p1", "lost_at", "band"],
      ["pieces", "p2", "firing.firing", "F1"],
      ["pieces", "p3", "grade", "good"],
    ]),
  );
  // p1, p2 and p3 have come past the firing, one of them had it; of two special pieces one was lost at the band.
  expect(read("results", "rolled", "value")).toBeCloseTo(2 / 3, 12);
  expect(read("results", "rolled_special", "value")).toBeCloseTo((2 / 3) * (1 / 2), 12);
});
