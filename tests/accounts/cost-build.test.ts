import { describe, expect, test } from "vitest";
import { buildPieceCosts } from "../../src/accounts/cost-build";
import type { PlainEdition, PlainPiece, PlainStep } from "../../src/accounts/plain-edition";
import { MARRAM } from "./marram";
import { codesOf, must, problemsOf } from "./results";

const costs = must(buildPieceCosts(MARRAM));
const pieceOf = (id: string, of = costs) => of.pieces.find((piece) => piece.id === id)!;
const valueOfFirst = (edition: PlainEdition) => must(buildPieceCosts(edition)).pieces[0]!;
const stepOf = (id: string, of = costs) => of.steps.find((step) => step.id === id)!;

describe("a step of a piece", () => {
  test("cast: slip × price + a mould + minutes × (wage + overhead)", () => {
    const { cast } = pieceOf("1").steps;
    expect(cast).toMatchObject({ gramsUsed: 1000, material: 2, mouldWear: 0.75, labour: 4, overhead: 1 });
    expect(cast?.cost).toBeCloseTo(7.75, 12);
  });

  test("work by hand: its own minutes × (wage + overhead), and nothing else", () => {
    expect(pieceOf("1").steps.fettle).toMatchObject({ minutes: 15, labour: 6, overhead: 1.5, material: 0, cost: 7.5 });
  });

  test("coat: area of the step × coats × laydown ÷ transfer", () => {
    const { glaze } = pieceOf("1").steps;
    expect(glaze).toMatchObject({ gramsOnPiece: 60, gramsUsed: 120, minutes: 9 });
    expect(glaze?.material).toBeCloseTo(1.2, 12);
    expect(glaze?.cost).toBeCloseTo(5.7, 12);
  });

  test("coat: a piece's own area goes before the step's", () => {
    const pieces = [{ ...MARRAM.pieces[0]!, entries: { glaze: { coats: 1, area: 100 } } }];
    const own = valueOfFirst({ ...MARRAM, pieces });
    expect(own.steps.glaze?.gramsOnPiece).toBe(5);
  });

  test("metal: area of the piece × coats × laydown ÷ (1 − waste), fine metal by content and carat", () => {
    const { band } = pieceOf("2").steps;
    expect(band?.gramsOnPiece).toBeCloseTo(0.15, 12);
    expect(band?.gramsUsed).toBeCloseTo(0.2, 12);
    expect(band?.fineGrams).toBeCloseTo((0.2 * 0.1 * 22) / 24, 12);
    expect(band?.cost).toBeCloseTo(7.4, 12);
  });
});

describe("a firing", () => {
  test("costs energy + wear + loading", () => {
    const [bisque, glaze, low, empty] = costs.firings;
    expect(bisque).toMatchObject({ energy: 18, wear: 5, labour: 12, cost: 35, pieces: 5, sharedOver: 5 });
    expect(glaze).toMatchObject({ cost: 49, pieces: 4, sharedOver: 7 });
    expect(low).toMatchObject({ cost: 13.5, pieces: 1, sharedOver: 200 });
    expect(empty).toMatchObject({ cost: 10.5, pieces: 0, sharedOver: 0 });
  });

  test("is shared by count, by weight, by shelf area, and borne alone by one piece alone", () => {
    expect(pieceOf("1").steps.bisque?.firingShare).toBe(7);
    expect(["1", "2", "4", "5"].map((id) => pieceOf(id).steps.fire?.firingShare)).toEqual([7, 14, 7, 21]);
    expect(pieceOf("2").steps.low?.firingShare).toBe(13.5);
  });

  test("with nothing in it is borne by nobody", () => {
    expect(costs.totals.emptyFirings).toBe(10.5);
  });

  test("is shared by shelf area in proportion", () => {
    const firings = MARRAM.firings.map((one) => (one.id === "G1" ? { ...one, basis: "shelf area" as const } : one));
    const pieces = MARRAM.pieces.map((one) => (one.id === "1" ? { ...one, footprintCm2: 380 } : one));
    const shared = must(buildPieceCosts({ ...MARRAM, firings, pieces }));
    expect(["1", "2"].map((id) => pieceOf(id, shared).steps.fire?.firingShare)).toEqual([19, 10]);
  });
});

describe("a piece", () => {
  test.each([
    ["1", "good", 34.95],
    ["2", "good", 62.85],
    ["3", "lost", 10.25],
    ["4", "second", 34.95],
    ["5", "lost", 48.95],
    ["6", "in progress", 22.25],
  ])("%s is %s and has cost %d", (id, outcome, own) => {
    expect(pieceOf(id).outcome).toBe(outcome);
    expect(pieceOf(id).own).toBeCloseTo(own, 10);
  });

  test("lost at a step has that step and nothing after", () => {
    expect(Object.keys(pieceOf("5").steps)).toEqual(["cast", "fettle", "bisque", "glaze", "fire"]);
  });

  test("lost before the first firing gives back its clay, later ones do not", () => {
    expect(costs.pieces.map((piece) => piece.reclaimed)).toEqual([0, 0, 1.6, 0, 0, 0]);
    const atBisque: PlainPiece = { ...MARRAM.pieces[0]!, lostAt: "bisque" };
    const lost = must(buildPieceCosts({ ...MARRAM, pieces: [atBisque] }));
    expect(lost.totals.reclaimed).toBe(0);
  });

  test("lost wins over how it was passed", () => {
    const pieces = [{ ...MARRAM.pieces[0]!, lostAt: "fire" }];
    expect(must(buildPieceCosts({ ...MARRAM, pieces })).pieces[0]).toMatchObject({
      outcome: "lost",
      full: undefined,
    });
  });
});

describe("losses", () => {
  test("up to plan are normal, the excess is abnormal", () => {
    // 6 fettled, 10 % planned = 0.6 of the one lost; 10.25 − 1.60 clay = 8.65.
    expect(stepOf("fettle")).toMatchObject({ had: 6, entered: 6, lost: 1, reclaimed: 1.6 });
    expect(stepOf("fettle").normal).toBeCloseTo(5.19, 10);
    expect(stepOf("fettle").abnormal).toBeCloseTo(3.46, 10);
    // 4 fired, 25 % planned = the one lost.
    expect(stepOf("fire")).toMatchObject({ entered: 4, lost: 1, abnormal: 0 });
    expect(stepOf("fire").normal).toBeCloseTo(48.95, 10);
  });

  test("are shared over the pieces that passed the step; a second takes what its price carries, the others the rest", () => {
    // Fettle 5.19 over four, fire 48.95 over the three finished: a second's due is 1.2975 + 16.3167 = 17.6142, it carries
    // 40 − 34.95 = 5.05. The lacking 12.5642 fall on the others in proportion to their 36.5258.
    const factor = 1 + (1.2975 + 48.95 / 3 - 5.05) / (3 * 1.2975 + (2 * 48.95) / 3);
    expect(pieceOf("4").lossShare).toBeCloseTo(5.05, 10);
    expect(pieceOf("4").full).toBeCloseTo(40, 10);
    for (const id of ["1", "2"]) expect(pieceOf(id).lossShare).toBeCloseTo((1.2975 + 48.95 / 3) * factor, 10);
    expect(pieceOf("6").lossShare).toBeCloseTo(1.2975 * factor, 10);
    expect(costs.totals.unsharedNormal).toBe(0);
  });

  test("a row that never had a step is not started: it bears nothing and is in no count of pieces in progress", () => {
    const blank: PlainPiece = { ...MARRAM.pieces[5]!, id: "7", entries: {} };
    const more = must(buildPieceCosts({ ...MARRAM, pieces: [...MARRAM.pieces, blank] }));
    expect(pieceOf("7", more)).toMatchObject({ outcome: "not started", own: 0, lossShare: 0, full: undefined });
    expect(more.totals.count).toMatchObject({ "in progress": 1, "not started": 1 });
    expect(pieceOf("6", more)).toEqual(pieceOf("6"));
  });

  test("at a step for special pieces are borne by special pieces alone", () => {
    const steps = MARRAM.steps.map((step) =>
      step.id === "band" ? { ...step, isForSpecial: true, plannedLoss: 0.5 } : step,
    );
    const lost: PlainPiece = { ...MARRAM.pieces[1]!, id: "8", lostAt: "band" };
    const more = must(buildPieceCosts({ ...MARRAM, steps, pieces: [...MARRAM.pieces, lost] }));
    const without = must(
      buildPieceCosts({ ...MARRAM, steps, pieces: [...MARRAM.pieces, { ...lost, lostAt: undefined! }] }),
    );
    expect(stepOf("band", more).normal).toBeCloseTo(pieceOf("8", more).own, 10);
    expect(pieceOf("2", more).lossShare - pieceOf("1", more).lossShare).toBeCloseTo(stepOf("band", more).normal, 10);
    expect(pieceOf("1", without).lossShare).toBeCloseTo(pieceOf("2", without).lossShare, 10);
  });

  test("that nobody can bear are told", () => {
    const pieces = MARRAM.pieces.filter(({ id }) => id === "4" || id === "5");
    const alone = must(buildPieceCosts({ ...MARRAM, pieces }));
    const second = pieceOf("4", alone);
    expect(second.full! - second.own).toBeLessThan(alone.totals.normal);
    expect(second.lossShare + alone.totals.unsharedNormal).toBeCloseTo(alone.totals.normal, 10);
    expect(second.full).toBeLessThanOrEqual(Math.max(40, second.own));
  });

  test("a piece lost before its step was entered counts as entered", () => {
    const cracked: PlainPiece = { ...MARRAM.pieces[2]!, id: "7", entries: { cast: { slip: 1000 } } };
    const more = must(buildPieceCosts({ ...MARRAM, pieces: [...MARRAM.pieces, cracked] }));
    expect(stepOf("fettle", more)).toMatchObject({ had: 6, entered: 7, lost: 2 });
    expect(pieceOf("7", more).own).toBeCloseTo(7.75, 12);
  });
});

describe("the edition", () => {
  test("knows what was put in, and on what", () => {
    const { putIn, putInTotal } = costs.totals;
    const expected = { material: 16.8, metal: 2.4, mouldWear: 4.5, labour: 74.4, loadingLabour: 30, overhead: 18.6 };
    for (const [name, amount] of Object.entries({ ...expected, energy: 54, kilnWear: 13.5 }))
      expect(putIn[name as keyof typeof putIn], name).toBeCloseTo(amount, 10);
    expect(putInTotal).toBeCloseTo(214.2, 10);
  });

  test("own, lost and in progress are everything put in; so are full costs and losses", () => {
    const { own, full, putInTotal, abnormal, reclaimed, normal } = costs.totals;
    expect(own.good + own.second + own.lost + own["in progress"]).toBeCloseTo(putInTotal, 10);
    expect(full.good + full.second + full["in progress"] + abnormal + reclaimed).toBeCloseTo(putInTotal, 10);
    expect(own.lost).toBeCloseTo(reclaimed + normal + abnormal, 10);
    expect(full.good).toBeCloseTo(34.95 + 62.85 + 49.09 - 1.7438144235814548, 10);
  });

  test("counts its pieces", () => {
    expect(costs.totals.count).toEqual({ good: 2, second: 1, lost: 2, "in progress": 1, "not started": 0 });
  });

  test("of nothing costs nothing", () => {
    const none = must(buildPieceCosts({ ...MARRAM, pieces: [], firings: [] }));
    expect(none.totals).toMatchObject({ putInTotal: 0, normal: 0, abnormal: 0, unsharedNormal: 0, emptyFirings: 0 });
  });
});

describe("what cannot be costed", () => {
  const withStep = (step: Partial<PlainStep>): PlainEdition => ({
    ...MARRAM,
    steps: MARRAM.steps.map((one) => (one.id === "glaze" ? { ...one, ...step } : one)),
  });
  const withPiece = (piece: Partial<PlainPiece>): PlainEdition => ({
    ...MARRAM,
    pieces: MARRAM.pieces.map((one) => (one.id === "1" ? { ...one, ...piece } : one)),
  });

  test.each<[string, PlainEdition, string, string]>([
    ["a loss of 100 %", withStep({ plannedLoss: 1 }), "number.range", "Step glaze, planned loss"],
    ["a transfer of nothing", withStep({ transfer: 0 }), "number.range", "Step glaze, transfer"],
    ["a transfer above 1", withStep({ transfer: 65 }), "number.range", "Step glaze, transfer"],
    ["waste of everything", withStep({ waste: 1 }), "number.range", "Step glaze, waste"],
    ["25 carat", withStep({ carat: 25 }), "number.range", "Step glaze, carat"],
    [
      "a price that is no number",
      withStep({ pricePerGram: Number.NaN }),
      "number.missing",
      "Step glaze, price per gram",
    ],
    ["a negative laydown", withStep({ laydown: -1 }), "number.range", "Step glaze, laydown"],
    ["a step twice", withStep({ id: "cast" }), "name.twice", "Steps"],
    ["two steps in one place", withStep({ order: 1 }), "name.twice", "Order of steps"],
    ["a step nobody knows", withPiece({ lostAt: "moon" }), "number.range", "Piece 1, lost at"],
    ["a piece twice", withPiece({ id: "2" }), "name.twice", "Pieces"],
    ["negative weight", withPiece({ kg: -1 }), "number.range", "Piece 1, weight"],
    ["an unknown firing", withPiece({ entries: { fire: { firing: "X" } } }), "number.range", "Piece 1, fire, firing"],
    ["an entry at no step", withPiece({ entries: { moon: { coats: 1 } } }), "number.range", "Piece 1, entry"],
    [
      "negative minutes",
      withPiece({ entries: { fettle: { minutes: -1 } } }),
      "number.range",
      "Piece 1, fettle, minutes",
    ],
    ["negative wage", { ...MARRAM, wagePerHour: -1 }, "number.range", "Wage"],
    ["a reclaim in percent", { ...MARRAM, reclaimFraction: 80 }, "number.range", "Reclaim"],
    [
      "a firing that gives energy back",
      { ...MARRAM, firings: MARRAM.firings.map((one) => ({ ...one, kwh: -1 })) },
      "number.range",
      "Firing B1, energy",
    ],
  ])("%s", (_, edition, code, where) => {
    const [first] = problemsOf(buildPieceCosts(edition));
    expect(first).toMatchObject({ code, where });
  });

  test("a load that weighs nothing", () => {
    const pieces = MARRAM.pieces.map((piece) => ({ ...piece, kg: 0 }));
    expect(codesOf(buildPieceCosts({ ...MARRAM, pieces }))).toEqual(["firing.weightless"]);
  });
});
