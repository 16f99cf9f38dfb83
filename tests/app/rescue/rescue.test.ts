import { describe, expect, test } from "vitest";
import { piecesOnSheet } from "../../../src/app/calendar/calendar-pieces";
import { undo } from "../../../src/app/commands/commands";
import { demoEdition } from "../../../src/app/demo/demo";
import type { Session } from "../../../src/app/edition/session";
import { readLoads } from "../../../src/app/loads/loads";
import { benchSheet } from "../../../src/app/paper/bench-sheet";
import { pieceCards } from "../../../src/app/paper/piece-card";
import { recordsOf } from "../../../src/app/plan/kiln-heat";
import { recordPieces, takeEntryBack, waitingGroups } from "../../../src/app/record/record";
import { type RescueTable, type RescueTerms, rescueTable, usualTerms } from "../../../src/app/rescue/rescue";
import { chooseWay, saveRecipe, sayWaits } from "../../../src/app/rescue/rescue-choose";
import { estimateFiring } from "../../../src/app/rescue/rescue-firing";
import { recommendation } from "../../../src/app/rescue/rescue-words";
import { settle } from "../../../src/app/settle/settle";
import { simulateFiring } from "../../../src/ceramics/kiln/simulate";
import { rowOf } from "../../../src/core/document/access";
import type { SheetKey } from "../../../src/core/document/workbook";
import { kilnFrom, loadFrom, programmeFrom } from "../../../src/engine/kiln-records";
import { likelyStep } from "../../../src/ui/record/record-form";
import { must } from "../../accounts/results";
import { openSession } from "../../tools/open-session";

const opened = openSession(demoEdition());
await opened.settled();
const { session } = opened;
// A standard lantern that waits to be packed, and the recipe that covers a flaw with lustre.
const [PIECE, LUSTRE, GLAZE] = ["p112", "r3", "r2"];
const table = (terms: Partial<RescueTerms> = {}, pieces = [PIECE], of: Session = session): RescueTable =>
  must(rescueTable(of, pieces, { ...usualTerms(of), ...terms }));
const column = (of: RescueTable, id: string) => {
  const found = of.columns.find(({ recipe }) => recipe.id === id);
  if (!found) throw new Error(`no recipe ${id}`);
  return found;
};
const way = (of: RescueTable, id: string) => of.weighed.ways.find((one) => one.id === id);
const line = (id: string) => Number(session.result(id, "edition"));
/** A price less tax, fee, fixed fee and packing, by hand. */
const net = (price: number) =>
  price / (1 + line("tax_rate")) - price * line("fee_rate") - line("fee_fixed") - line("packing");
// Inspect and pack: 8 minutes at 22 an hour.
const PACK = (8 / 60) * 22;

describe("what the ways take and bring", () => {
  test("a second is packed first; scrap brings the scrap value; as it is, what a buyer would pay less the cost to sell", () => {
    const { leaving } = table({ asIsPrice: 40 });
    expect(leaving.map(({ brings }) => brings)).toEqual([
      expect.closeTo(net(40), 10),
      expect.closeTo(net(62) - PACK, 10),
      line("scrap_value"),
    ]);
  });

  test("lustre: 110 cm² × 0.0027 ÷ 0.8 g at 112 for 5 g, 12 minutes, and the heat of 1.4 kg", () => {
    const { takes, success, input } = column(table(), LUSTRE);
    expect(takes.material).toBeCloseTo(((110 * 0.0027) / 0.8) * (112 / 5), 10);
    expect(takes.labour).toBeCloseTo((12 / 60) * 22, 10);
    expect(takes.overhead).toBeCloseTo((12 / 60) * 6.5, 10);
    expect(success).toBeCloseTo(net(124) - PACK, 10);
    expect(input.labour).toBeCloseTo(takes.labour, 12);
  });

  test("overhead is counted only where it is asked for, and then for the packing too", () => {
    const [without, counted] = [column(table(), LUSTRE), column(table({ countsOverhead: true }), LUSTRE)];
    expect(counted.input.labour - without.input.labour).toBeCloseTo((12 / 60) * 6.5, 10);
    expect(without.success - counted.success).toBeCloseTo((8 / 60) * 6.5, 10);
  });

  test("what was spent is told and enters nowhere", () => {
    const before = table();
    expect(before.spent).toBeCloseTo(Number(session.value({ sheet: "pieces", row: PIECE, column: "own" })), 12);
    expect(JSON.stringify(before.columns.map(({ input }) => input))).not.toContain(String(before.spent));
  });

  test("room: one place where it rides, the whole kiln where it is fired alone", () => {
    const ride = column(table({ roomEach: 3 }), GLAZE);
    const alone = column(table({ roomEach: 3, rides: false }), GLAZE);
    expect([ride.room, alone.room]).toEqual([3, 3 * 48]);
    expect(column(table({ roomEach: 3, rides: false }, ["p112", "p110"]), GLAZE).room).toBe((3 * 48) / 2);
  });

  test("a firing alone costs what the last one of a single lantern took by the meter, shared by those in it", () => {
    const loading = (40 / 60) * 22;
    const wear = Number(rowOf(session.book.value, "kilns", "k2")?.cells.wear);
    const one = column(table(), GLAZE).takes;
    expect(one.alone).toBeCloseTo(86.9 * 0.29 + wear + loading, 10);
    expect(one.firings[0]?.from).toBe("as G8 took, with 1 in it, by the meter");
    expect(column(table({}, ["p112", "p110"]), GLAZE).takes.alone).toBeCloseTo(one.alone / 2, 10);
  });

  test("the heat of one piece more is what the heat model says a fuller load takes more", () => {
    const kiln = must(kilnFrom(recordsOf(session, "kilns"), "Large kiln"));
    const programme = must(programmeFrom(recordsOf(session, "programmes"), "low lustre"));
    const kwh = (ware: number) =>
      must(simulateFiring(kiln.kiln, programme, loadFrom(ware, 0, 0, kiln.furnitureKg))).kwh;
    const needed = { kiln: "Large kiln", programme: "low lustre", pieceKg: 1.4, pieces: 1 };
    const { marginalKwh } = estimateFiring(session, needed);
    expect(marginalKwh).toBeGreaterThan(0.2);
    // Ware cools with the kiln at the end of a soak, so the model's step is a little off the heat alone.
    expect(Math.abs(kwh(40 * 1.4) - kwh(30 * 1.4)) / 10 / marginalKwh).toBeGreaterThan(0.85);
    expect(Math.abs(kwh(40 * 1.4) - kwh(30 * 1.4)) / 10 / marginalKwh).toBeLessThan(1.15);
  });
});

describe("the recommendation", () => {
  test("names the way, what it gains over which other, from which chance on, and the spread", () => {
    const weighed = table();
    const said = recommendation(session, weighed);
    expect(said).toMatch(
      /^Another glaze coat and firing: it is expected to bring €\s[\d.]+ from now on, €\s[\d.]+ more than “Sell it as it is”/,
    );
    expect(said).toMatch(
      /It pays from a chance of 49\s% on, and you say 70\s%; at best it brings €\s86.57, at worst −€\s1.61\.$/,
    );
  });

  test("leaves it where no chance is good enough, and says from which one it would pay", () => {
    const said = recommendation(session, table({ chances: { r1: 0.1, r2: 0.1, r3: 0.1 } }));
    expect(said).toMatch(/^Sell it as it is: .*it would pay from a chance of \d+\s% on, and you say 10\s%\.$/);
  });

  test("changes when the kiln is short of room", () => {
    expect(table({ roomEach: 200 }).weighed.choice.id).toBe("as is");
  });
});

describe("a way that is chosen", () => {
  const fresh = async () => {
    const other = openSession(demoEdition());
    await other.settled();
    return other;
  };
  const own = (of: Session) => Number(of.value({ sheet: "pieces", row: PIECE, column: "own" }));

  test("adds its steps to the piece; fired alone, the engine then says exactly what was told", async () => {
    const { session: live, settled } = await fresh();
    const [before, put] = [own(live), Number(live.result("put_in"))];
    const shown = table({ rides: false, countsOverhead: true }, [PIECE], live);
    const { takes } = column(shown, GLAZE);
    expect(chooseWay(live, shown, GLAZE)).toBe(true);
    const firing = { kind: "new", name: "R12", kiln: "Large kiln", date: "2026-11-25" } as const;
    expect(recordPieces(live, [PIECE], { kind: "firing", step: "refire", firing })).toBe(true);
    await settled();
    // It takes what the last one alone took.
    const f12 = live.book.value.sheets.firings.rows.at(-1)?.id ?? "";
    live.commit({
      label: "meter",
      operations: [{ kind: "cell", sheet: "firings", row: f12, column: "meter", was: undefined, is: 86.9 }],
    });
    await settled();
    const costs = takes.material + takes.labour + takes.overhead + takes.alone;
    expect(own(live) - before).toBeCloseTo(costs, 9);
    expect(Number(live.result("put_in")) - put).toBeCloseTo(costs, 9);
    const settledBooks = settle(live.book.value, (sheet, row, key) => live.value({ sheet, row, column: key }));
    expect(must(settledBooks).costs.pieces[111]?.own).toBeCloseTo(own(live), 9);
  });

  test("is one step and one line of the log with the reason; undone, nothing of it is left", async () => {
    const { session: live, settled } = await fresh();
    const before = live.book.value;
    const weighed = table({}, [PIECE], live);
    chooseWay(live, weighed, LUSTRE);
    await settled();
    const row = rowOf(live.book.value, "pieces", PIECE);
    expect(row?.cells).toMatchObject({ "lustre_over_the_flaw.coats": 1, to_have: "low_firing_of_the_flaw" });
    expect(row?.cells.grade).toBeUndefined();
    const entry = live.book.value.lists.log.at(-1);
    expect(entry).toMatchObject({ act: "rescue", label: "Cover with lustre: 112", pieces: [PIECE] });
    expect(entry?.note).toMatch(/^Weighed: Another glaze coat and firing/);
    undo(live);
    expect(live.book.value).toEqual(before);
  });

  test("uses the refire that the route has already, and costs no other piece anything", async () => {
    const { session: live, settled } = await fresh();
    const steps = () => live.book.value.sheets.route.rows.map((row) => row.cells.title);
    const others = () =>
      live.book.value.sheets.pieces.rows
        .filter(({ id }) => id !== PIECE)
        .map(({ id }) => live.value({ sheet: "pieces", row: id, column: "own" }));
    const [before, count] = [others(), steps().length];
    chooseWay(live, table({}, [PIECE], live), GLAZE);
    await settled();
    // A coat is added; the refire after it is there already.
    expect(steps().length).toBe(count + 1);
    expect(steps().slice(5, 8)).toEqual(["Glaze firing", "One more coat", "Refire"]);
    expect(others()).toEqual(before);
    const refire = { kind: "there", name: "G8" } as const;
    const again = {
      kind: "extra",
      title: "Refire",
      steps: [{ kind: "firing", title: "Refire", cells: { programme: "glaze, middle fire" }, firing: refire }],
    } as const;
    expect(recordPieces(live, ["p101", "p102"], again)).toBe(true);
    expect(steps().length).toBe(count + 1);
    expect(rowOf(live.book.value, "pieces", "p102")?.cells["refire.firing"]).toBe("G8");
  });

  test("scrapped, it is lost where it stands; as a second, it is passed", async () => {
    const { session: live } = await fresh();
    const weighed = table({}, [PIECE], live);
    chooseWay(live, weighed, "scrap");
    expect(rowOf(live.book.value, "pieces", PIECE)?.cells.lost_at).toBe("glaze_firing");
    undo(live);
    chooseWay(live, weighed, "second");
    expect(rowOf(live.book.value, "pieces", PIECE)?.cells.grade).toBe("second");
    takeEntryBack(live, live.book.value.lists.log.at(-1)?.id ?? "");
    expect(rowOf(live.book.value, "pieces", PIECE)?.cells.grade).toBeUndefined();
  });

  test("it then waits for that step, everywhere, until it has had it", async () => {
    const { session: live, settled } = await fresh();
    chooseWay(live, table({}, [PIECE], live), LUSTRE);
    await settled();
    const step = "low_firing_of_the_flaw";
    expect(sayWaits(live, PIECE)).toBe("waits for Low firing of the flaw");
    const groups = waitingGroups(live);
    expect(groups.find((group) => group.step === step)?.pieces).toEqual([PIECE]);
    expect(likelyStep(live.book.value, "firing", [PIECE], groups)).toBe(step);
    const read = (sheet: SheetKey, row: string, key: string) => live.value({ sheet, row, column: key });
    const source = { book: live.book.value, read, locale: "en-GB" };
    const bench = must(benchSheet(source, new Set([PIECE])));
    expect(bench.map(({ title, pieces }) => [title, pieces.map(({ label }) => label)])).toEqual([
      ["Low firing of the flaw", ["112"]],
    ]);
    expect(JSON.stringify(must(pieceCards(source, new Set([PIECE]))))).toContain(
      '"Waits for","text":"Low firing of the flaw"',
    );
    const loads = readLoads(live, []);
    expect(loads?.waiting.filter(({ row }) => row === PIECE).map((one) => one.step)).toEqual([step]);
    expect(piecesOnSheet(live, [], []).find(({ id }) => id === "112")?.ahead[0]).toBe(step);
    // Weighed again, it is still to come; fired, the piece waits for what comes after.
    expect(table({}, [PIECE], live).toComeTitles).toEqual(["Low firing of the flaw", "Inspect and pack"]);
    recordPieces(live, [PIECE], { kind: "firing", step, firing: { kind: "there", name: "L11" } });
    await settled();
    expect(sayWaits(live, PIECE)).toBe("waits for Inspect and pack");
  });

  test("the price it was weighed with goes to the piece", async () => {
    const { session: live, settled } = await fresh();
    const price = () => Number(live.value({ sheet: "pieces", row: PIECE, column: "price" }));
    chooseWay(live, table({ asIsPrice: 45 }, [PIECE], live), "as is");
    await settled();
    expect([price(), rowOf(live.book.value, "pieces", PIECE)?.cells.own_price]).toEqual([45, 45]);
    undo(live);
    // Finished as a second it has a second's price again, whatever was agreed before.
    live.commit({
      label: "agreed",
      operations: [{ kind: "cell", sheet: "pieces", row: PIECE, column: "own_price", was: undefined, is: 150 }],
    });
    chooseWay(live, table({}, [PIECE], live), "second");
    await settled();
    expect([price(), rowOf(live.book.value, "pieces", PIECE)?.cells.own_price]).toEqual([62, undefined]);
    undo(live);
    undo(live);
    const recipe = live.book.value.lists.recipes.find(({ id }) => id === LUSTRE);
    if (!recipe) throw new Error("no such recipe");
    saveRecipe(live, { ...recipe, fetches: 171 });
    const shown = table({}, [PIECE], live);
    expect(column(shown, LUSTRE).success).toBeCloseTo(net(171) - PACK, 10);
    chooseWay(live, shown, LUSTRE);
    recordPieces(live, [PIECE], { kind: "passed", grade: "good" });
    await settled();
    expect(price()).toBe(171);
    const read = (sheet: SheetKey, row: string, key: string) => live.value({ sheet, row, column: key });
    const { costs } = must(settle(live.book.value, read));
    expect(costs.pieces[111]?.outcome).toBe("good");
  });

  test("a lost piece is not weighed, and a recipe with a material that is gone is named", () => {
    expect(rescueTable(session, ["p57"], usualTerms(session)).ok).toBe(false);
    const gone = openSession({
      ...session.book.value,
      lists: {
        ...session.book.value.lists,
        recipes: session.book.value.lists.recipes.map((recipe) => ({
          ...recipe,
          steps: recipe.steps.map((step) => ({
            ...step,
            cells: { ...step.cells, ...(step.kind === "metal" ? { material: "Gold" } : {}) },
          })),
        })),
      },
    });
    const weighed = must(rescueTable(gone.session, [PIECE], usualTerms(session)));
    expect(weighed.columns.map(({ recipe }) => recipe.id)).toEqual(["r1", "r2"]);
    expect(weighed.refused.map(({ code }) => code)).toEqual(["extra.cell"]);
    expect(way(weighed, "r3")).toBeUndefined();
  });
});
