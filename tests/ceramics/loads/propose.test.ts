// The load builder against every way there is, on small cases, and on cases worked by hand.
import { describe, expect, it } from "vitest";
import type { LoadKiln, WaitingPiece } from "../../../src/ceramics/loads/kiln-room";
import { fitsKiln } from "../../../src/ceramics/loads/load";
import {
  companyFor,
  type LoadCost,
  type LoadPlan,
  loadsInTurn,
  proposeLoads,
} from "../../../src/ceramics/loads/propose";
import { bestLoads } from "../../tools/all-loads";

/** Numbers from 0 to 1 that are the same every time. */
function seeded(seed: number): () => number {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state / 2 ** 32;
  };
}

const piece = (id: string, footCm2: number, heightCm: number, firing = "glaze"): WaitingPiece => ({
  id,
  footCm2,
  heightCm,
  kg: 1,
  firing,
});
const pieces = (count: number, footCm2: number, heightCm: number, firing?: string) =>
  Array.from({ length: count }, (_, at) => piece(String(at + 1), footCm2, heightCm, firing));

interface Priced extends LoadKiln, LoadCost {}
const planOf = (kilns: readonly Priced[], open: LoadPlan["open"] = []): LoadPlan => ({
  kilns,
  open,
  costOf: (id) => kilns.find((kiln) => kiln.id === id),
});
const LARGE: Priced = { id: "large", capacity: 48, shelfCm2: 9000, heightCm: 90, empty: 40, each: 0.5 };
const SMALL: Priced = { id: "small", capacity: 16, shelfCm2: 3600, heightCm: 32, empty: 15, each: 0.5 };

const counts = (proposal: ReturnType<typeof proposeLoads>) =>
  proposal.loads.map((load) => `${load.kiln} ${load.pieces.length}`).sort();

describe("loads worked by hand", () => {
  it("takes the small kiln for few low pieces, since it is the cheaper of two single firings", () => {
    expect(counts(proposeLoads(pieces(9, 180, 20), planOf([LARGE, SMALL])))).toEqual(["small 9"]);
  });

  it("takes one large firing rather than two small ones: 20 pieces go into the large, 16 into the small", () => {
    expect(counts(proposeLoads(pieces(20, 180, 20), planOf([LARGE, SMALL])))).toEqual(["large 20"]);
  });

  it("takes a large and a small one where one large is not enough and the rest is few", () => {
    // 60 = 48 + 12: two firings at least, and 40 + 15 is less than 40 + 40.
    expect(counts(proposeLoads(pieces(60, 180, 20), planOf([LARGE, SMALL])))).toEqual(
      expect.arrayContaining([expect.stringMatching(/^large /), expect.stringMatching(/^small /)]),
    );
  });

  it("looks at what pieces add, not only at what a firing costs: 20 is less than 10 and 5 × 5", () => {
    const thrifty: Priced = { id: "thrifty", capacity: 9, empty: 20, each: 0 };
    const greedy: Priced = { id: "greedy", capacity: 9, empty: 10, each: 5 };
    expect(counts(proposeLoads(pieces(5, 100, 10), planOf([greedy, thrifty])))).toEqual(["thrifty 5"]);
    // 15 are less than 20.
    expect(counts(proposeLoads(pieces(1, 100, 10), planOf([greedy, thrifty])))).toEqual(["greedy 1"]);
  });

  it("sends the tall piece to the tall kiln and refuses one that is taller than both, with both heights", () => {
    const { loads, refused } = proposeLoads(
      [piece("a", 180, 36), piece("b", 180, 20), piece("c", 180, 95)],
      planOf([LARGE, SMALL]),
    );
    expect(loads.find((load) => load.pieces.some(({ id }) => id === "a"))?.kiln).toBe("large");
    expect(refused.map((one) => one.piece.id)).toEqual(["c"]);
    expect(refused[0]?.reasons.map(({ message }) => message)).toEqual([
      "Piece c in large: found “a height of 95 cm”, but it takes pieces up to 90 cm tall.",
      "Piece c in small: found “a height of 95 cm”, but it takes pieces up to 32 cm tall.",
    ]);
  });

  it("keeps different firings apart and puts steps of one firing together", () => {
    const mixed = [...pieces(3, 100, 10, "glaze"), ...pieces(2, 100, 10, "low"), piece("x", 100, 10, "glaze")];
    const { loads } = proposeLoads(mixed, planOf([SMALL]));
    expect(loads.map((load) => [load.firing, load.pieces.length])).toEqual([
      ["glaze", 4],
      ["low", 2],
    ]);
  });

  it("fills a planned firing first, and starts a new one only for what is left", () => {
    // 16 places, 10 taken: 6 of the 9 go along, 3 need a firing.
    const open = [{ id: "f1", kiln: "small", firing: "glaze", pieces: pieces(10, 100, 10) }];
    const { loads } = proposeLoads(pieces(9, 100, 10), planOf([SMALL], open));
    expect(loads.map((load) => [load.tops, load.pieces.length])).toEqual([
      ["f1", 6],
      [undefined, 3],
    ]);
    const few = proposeLoads(pieces(5, 100, 10), planOf([SMALL], open));
    expect(few.loads.map((load) => load.tops)).toEqual(["f1"]);
    // Even where a lower kiln stands beside it.
    const large = [{ id: "f2", kiln: "large", firing: "glaze", pieces: [] }];
    expect(proposeLoads(pieces(5, 100, 10), planOf([LARGE, SMALL], large)).loads.map((load) => load.tops)).toEqual([
      "f2",
    ]);
  });

  it("counts two levels of 38 cm in 90, sixteen lanterns a level: 141 need five firings, not three", () => {
    // 36 + 2 = 38; 90 ÷ 38 = 2.4, so 2 levels; 9000 ÷ 3 ÷ 180 = 16.7, so 16 a level; 141 ÷ 32 = 4.4.
    const kiln = { ...LARGE, levels: 3, gapCm: 2 };
    expect(proposeLoads(pieces(141, 180, 36), planOf([kiln])).loads).toHaveLength(5);
    expect(fitsKiln(pieces(32, 180, 36), kiln)).toBe(true);
    expect(fitsKiln(pieces(33, 180, 36), kiln)).toBe(false);
  });

  it("passes over a kiln that can't fire by the programme", () => {
    const plan: LoadPlan = { ...planOf([LARGE, SMALL]), costOf: (id) => (id === "small" ? undefined : LARGE) };
    expect(counts(proposeLoads(pieces(3, 100, 10), plan))).toEqual(["large 3"]);
    const none = proposeLoads(pieces(1, 100, 10), { ...plan, costOf: () => undefined });
    expect([none.loads, none.refused.map(({ reasons }) => reasons)]).toEqual([[], [[]]]);
  });

  it("says what waiting for company saves: 40.50 alone, 40 ÷ 48 + 0.50 in a full load", () => {
    const lantern = piece("a", 180, 36);
    expect(companyFor([lantern], LARGE, LARGE)).toEqual({ here: 40.5, full: 40 / 48 + 0.5, pieces: 48 });
    expect(companyFor(Array(10).fill(lantern), LARGE, LARGE)).toEqual({ here: 4.5, full: 40 / 48 + 0.5, pieces: 48 });
    expect(companyFor(Array(48).fill(lantern), LARGE, LARGE)).toBeUndefined();
    expect(companyFor([piece("a", 9000, 36)], LARGE, LARGE)).toBeUndefined();
  });

  it("builds loads for two thousand pieces", () => {
    const { loads } = proposeLoads(pieces(2000, 180, 36), planOf([LARGE, SMALL]));
    // ⌈2000 ÷ 48⌉ = 42
    expect(loads).toHaveLength(42);
    expect(loads.flatMap((load) => load.pieces)).toHaveLength(2000);
  });
});

describe("against every way there is", () => {
  const random = seeded(20_261_125);
  const between = (low: number, high: number) => Math.round(low + random() * (high - low));
  const kilnNamed = (id: string) => ({
    id,
    capacity: between(2, 6),
    shelfCm2: between(4, 14) * 100,
    levels: between(1, 3),
    gapCm: between(1, 4),
    heightCm: between(30, 70),
    empty: between(10, 60),
    each: between(0, 3),
  });
  const cases = Array.from({ length: 400 }, () => ({
    kilns: Array.from({ length: between(1, 3) }, (_, at) => kilnNamed(`k${at}`)),
    waiting: Array.from({ length: between(1, 8) }, (_, at) => piece(String(at), between(1, 5) * 60, between(5, 26))),
  }));

  it("is never worse than 1.25 times the fewest firings, and usually equal in firings and in cost", () => {
    let [asFew, asCheap, tried] = [0, 0, 0];
    for (const { kilns, waiting } of cases) {
      const best = bestLoads(waiting, kilns);
      const { loads, refused } = proposeLoads(waiting, planOf(kilns));
      if (!best) {
        expect(refused.length).toBeGreaterThan(0);
        continue;
      }
      expect(refused).toEqual([]);
      expect(loads.flatMap((load) => load.pieces.map(({ id }) => id)).sort()).toEqual(
        waiting.map(({ id }) => id).sort(),
      );
      for (const load of loads)
        expect(fitsKiln(load.pieces, kilns.find(({ id }) => id === load.kiln) ?? LARGE)).toBe(true);
      const cost = loads.reduce((sum, load) => {
        const kiln = kilns.find(({ id }) => id === load.kiln);
        return sum + (kiln ? kiln.empty + kiln.each * load.pieces.length : 0);
      }, 0);
      expect(loads.length).toBeGreaterThanOrEqual(best.count);
      expect(loads.length).toBeLessThanOrEqual(1.25 * best.count);
      tried += 1;
      if (loads.length === best.count) asFew += 1;
      if (loads.length === best.count && Math.abs(cost - best.cost) < 1e-9) asCheap += 1;
    }
    console.info(`loads: ${asFew} of ${tried} cases with the fewest firings, ${asCheap} of them also the cheapest`);
    expect(tried).toBeGreaterThan(200);
    expect(asFew).toBeGreaterThan(0.98 * tried);
    expect(asCheap).toBeGreaterThan(0.9 * tried);
  });
});

describe("loads of one kiln in turn", () => {
  const KILN: LoadKiln = { id: "K", capacity: 12, shelfCm2: 1800, levels: 3, gapCm: 3, heightCm: 75 };
  const alone = { kilns: [KILN], open: [], costOf: () => ({ empty: 1, each: 0 }) };

  it("are as many as are proposed, go in, and hold each piece once, the first in the first", () => {
    const random = seeded(61);
    for (let turn = 0; turn < 200; turn += 1) {
      const group = Array.from({ length: 1 + Math.floor(random() * 40) }, (_, at) =>
        piece(String(at), [90, 130, 300][Math.floor(random() * 3)] ?? 90, [8, 22, 40][Math.floor(random() * 3)] ?? 8),
      );
      const loads = loadsInTurn(group, KILN);
      expect(loads.length).toBe(proposeLoads(group, alone).loads.length);
      expect(loads.every((load) => fitsKiln(load, KILN))).toBe(true);
      const held = loads.flat().map(({ id }) => Number(id));
      expect([...held].sort((a, b) => a - b)).toEqual(group.map((_, at) => at));
      expect(loads[0]?.some(({ id }) => id === "0")).toBe(true);
    }
  });

  it("hold alike pieces in their order, and are filled in turn where there are very many", () => {
    expect(loadsInTurn(pieces(14, 130, 22), KILN).map((load) => load.map(({ id }) => Number(id)))).toEqual([
      [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12],
      [13, 14],
    ]);
    // Eight of the last load leave no height for a tall one.
    const many = loadsInTurn([...pieces(500, 130, 22), piece("501", 300, 40)], KILN);
    expect(many.length).toBe(43);
    expect(many.every((load) => fitsKiln(load, KILN))).toBe(true);
    expect(many.flat()).toHaveLength(501);
    expect(many[0]?.map(({ id }) => Number(id))).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12]);
    expect(loadsInTurn([], KILN)).toEqual([]);
  });

  it("hold the first pieces first even where their order alone would take a load more", () => {
    // Room for two of 900 or six of 300 on the levels: 900, 300 × 3 and 900, 300 × 3 in turn would leave places that no 900 fills.
    const sizes = [300, 300, 900, 300, 900, 300, 900, 300, 900, 300];
    const wide: LoadKiln = { id: "W", capacity: 99, shelfCm2: 900, levels: 1, gapCm: 0, heightCm: 30 };
    const loads = loadsInTurn(
      sizes.map((foot, at) => piece(String(at), foot, 10)),
      wide,
    );
    expect(loads.map((load) => load.map(({ id }) => Number(id)))).toEqual([[0, 1, 3], [2], [4], [5, 7, 9], [6], [8]]);
  });
});
