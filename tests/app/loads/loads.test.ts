// Loads of an open edition: what waits, what is proposed, what is moved, and the firings made of it in one step.
import { describe, expect, test } from "vitest";
import { readCalendar } from "../../../src/app/calendar/calendar";
import { demoEdition } from "../../../src/app/demo/demo";
import { Session } from "../../../src/app/edition/session";
import { readLoads } from "../../../src/app/loads/loads";
import { arrange, type LoadsBoard, loadsBoard, makeTheseFirings, moveTo } from "../../../src/app/loads/loads-board";
import { dropLoad, editLoad } from "../../../src/app/loads/loads-draft";
import { loadsState } from "../../../src/app/loads/loads-state";
import { editMeta } from "../../../src/core/document/edits";
import { demoSession } from "../../tools/demo-session";

const { session, settled, type } = demoSession((opened) => {
  const { again, draft, kilnsLeftOut, firingsChosen } = loadsState(opened);
  again.value = [];
  draft.value = undefined;
  kilnsLeftOut.value = new Set();
  firingsChosen.value = new Map();
});

function boardOf(): LoadsBoard {
  const board = loadsBoard(session);
  if (!board) throw new Error("the sheets are not computed yet");
  return board;
}

const textsOf = (board: LoadsBoard) =>
  board.views.map(
    ({ load, pieces }) => `${load.name} ${load.kiln} ${load.firing}: ${pieces.map(({ id }) => id).join(" ")}`,
  );

const GLAZE = "120 121 122 123 124 125 126 127 128";

describe("the loads of Marram", () => {
  test("propose the lanterns that wait into the large kiln, since they are taller than the small one", () => {
    // Glazed up to 128 and fired up to 119; lustred up to 27 and fired up to 24: 025 and 027 are special.
    expect(textsOf(boardOf())).toEqual([
      `L12 Large kiln low lustre: 025 027`,
      `G13 Large kiln glaze, middle fire: ${GLAZE}`,
    ]);
    expect(boardOf().refused).toEqual([]);
    expect(boardOf().views.map(({ problems }) => problems)).toEqual([[], []]);
  });

  test("cost what energy, wear and loading come to", () => {
    const [, glaze] = boardOf().views;
    // Wear 14 and 40 minutes at 22 an hour are 28.67; the rest is energy at 0.29, and pieces add a little of it.
    const energy = (glaze?.cost ?? 0) - 14 - (40 / 60) * 22;
    expect(energy / 0.29).toBeGreaterThan(40);
    expect(energy / 0.29).toBeLessThan(110);
    expect(glaze?.costEach).toBeCloseTo((glaze?.cost ?? 0) / 9, 9);
    expect(glaze?.company?.pieces).toBe(48);
  });

  test("name pieces that go into no kiln that may be used, with the heights", () => {
    loadsState(session).kilnsLeftOut.value = new Set(["Large kiln"]);
    const { refused, views, left } = boardOf();
    expect(views).toEqual([]);
    expect(left).toHaveLength(11);
    expect(refused).toHaveLength(11);
    expect(refused[0]?.reasons[0]?.message).toContain("a height of 36 cm”, but it takes pieces up to 32 cm tall");
  });

  test("fill a firing that the maker says may take more, before a new one is made", () => {
    loadsState(session).firingsChosen.value = new Map([["f11", true]]);
    const [low] = boardOf().views;
    // L11 holds 15, 16, 18, 19, 21 and 22: six of the specials from 15 to 22 that were there; low lustre as well.
    expect([low?.load.tops, low?.load.name, low?.before]).toEqual(["f11", "L11", 6]);
    expect(makeTheseFirings(session, boardOf())).toBe(true);
    const rows = session.book.value.sheets.pieces.rows;
    expect(rows.filter((row) => row.cells["low_firing.firing"] === "L11").map((row) => row.cells.piece)).toEqual([
      "025",
      "027",
    ]);
    expect(session.book.value.sheets.firings.rows.map((row) => row.cells.id).slice(-2)).toEqual(["L11", "G12"]);
  });

  test("become firings in one change, and one step takes them back", () => {
    const before = session.book.value;
    expect(makeTheseFirings(session, boardOf())).toBe(true);
    const { firings, pieces } = session.book.value.sheets;
    expect(firings.rows.slice(-2).map(({ cells }) => cells)).toEqual([
      { id: "L12", kiln: "Large kiln", basis: "count", programme: "low lustre", date: "2026-11-25" },
      // 28 November is a Saturday: the next open day is Monday.
      { id: "G13", kiln: "Large kiln", basis: "count", programme: "glaze, middle fire", date: "2026-11-30" },
    ]);
    const inIt = (step: string, name: string) =>
      pieces.rows.filter((row) => row.cells[`${step}.firing`] === name).map((row) => row.cells.piece);
    expect(inIt("low_firing", "L12")).toEqual(["025", "027"]);
    expect(inIt("glaze_firing", "G13").join(" ")).toBe(GLAZE);
    expect(session.history.value.done).toHaveLength(1);
    expect(session.undo()?.label).toBe("Firings L12, G13: 025, 027, 120–128");
    expect(session.book.value.sheets).toEqual(before.sheets);
  });

  test("can be moved, renamed, given another kiln, and dropped", () => {
    const rows = new Set(["p120", "p121"]);
    expect(moveTo(session, boardOf(), rows, "new")).toBe(true);
    expect(textsOf(boardOf())).toEqual([
      "L12 Large kiln low lustre: 025 027",
      "G13 Large kiln glaze, middle fire: 122 123 124 125 126 127 128",
      "G14 Large kiln glaze, middle fire: 120 121",
    ]);
    // The small kiln is too low for them, and says so; no firing is made of that.
    arrange(session, editLoad(boardOf().draft, 2, { kiln: "Small kiln" }));
    expect(boardOf().views[2]?.problems[0]).toContain("pieces up to 32 cm tall");
    expect(makeTheseFirings(session, boardOf())).toBe(false);
    expect(session.notices.value.at(-1)).toMatchObject({ tone: "refused" });
    arrange(session, editLoad(boardOf().draft, 2, { kiln: "Large kiln", name: "G20", date: "" }));
    arrange(session, dropLoad(boardOf().draft, 0));
    expect(boardOf().left.map(({ id }) => id)).toEqual(["025", "027"]);
    expect(makeTheseFirings(session, boardOf())).toBe(true);
    expect(session.book.value.sheets.firings.rows.slice(-2).map(({ cells }) => [cells.id, cells.date])).toEqual([
      ["G13", "2026-11-30"],
      ["G20", undefined],
    ]);
  });

  test("are not mixed: a lustred piece does not go into a glaze firing", () => {
    expect(moveTo(session, boardOf(), new Set(["p25"]), 1)).toBe(false);
    expect(session.notices.value.at(-1)?.text).toContain("programmes are the same");
    expect(loadsState(session).draft.value).toBeUndefined();
  });

  test("warn of one piece alone, with what company would save", () => {
    expect(moveTo(session, boardOf(), new Set(["p27"]), "wait")).toBe(true);
    const { company, cost, pieces } = boardOf().views[0] ?? {};
    expect(pieces?.map(({ id }) => id)).toEqual(["025"]);
    expect(company?.here).toBeCloseTo(cost ?? 0, 9);
    expect(company?.full).toBeLessThan(2);
  });

  test("refuse a name that is taken or given twice, and a day that is none", () => {
    for (const is of [{ name: "g8" }, { name: "G13" }, { name: " " }, { date: "2026-02-30" }]) {
      arrange(session, editLoad(boardOf().draft, 0, is));
      expect(makeTheseFirings(session, boardOf())).toBe(false);
      arrange(session, undefined);
    }
    expect(session.history.value.done).toHaveLength(0);
  });

  test("take pieces that are to be fired once more along", () => {
    loadsState(session).again.value = [{ row: "p110", step: "refire" }];
    const glaze = boardOf().views.find(({ load }) => load.firing === "glaze, middle fire");
    expect(glaze?.pieces.map(({ id }) => id)).toEqual(["110", ...GLAZE.split(" ")]);
    expect(makeTheseFirings(session, boardOf())).toBe(true);
    const row = session.book.value.sheets.pieces.rows.find(({ id }) => id === "p110");
    expect(row?.cells["refire.firing"]).toBe("G13");
    expect(row?.cells["glaze_firing.firing"]).toBe("G6");
  });

  test("keep an arrangement when pieces leave it", async () => {
    expect(moveTo(session, boardOf(), new Set(["p120"]), "wait")).toBe(true);
    await type([["pieces", "p128", "lost_at", "Glaze"]]);
    const board = boardOf();
    expect(board.views[1]?.pieces.map(({ id }) => id)).toEqual("121 122 123 124 125 126 127".split(" "));
    expect(board.left.map(({ id }) => id)).toEqual(["120"]);
  });
});

describe("amounts", () => {
  test("are said in the units the edition is shown in", async () => {
    session.commit(editMeta(session.book.value, { units: "US" }, "US"));
    await settled();
    loadsState(session).kilnsLeftOut.value = new Set(["Large kiln"]);
    // 36 ÷ 2.54 = 14.17 and 32 ÷ 2.54 = 12.60, with one place.
    expect(boardOf().refused[0]?.reasons[0]?.message).toMatch(
      /a height of 14\.2 in”, but it takes pieces up to 12\.6 in tall/,
    );
  });
});

describe("kilns with levels", () => {
  test("hold less than they have room for, and the page says why", async () => {
    // Two levels of 36 + 3 cm in 90: 4 on each of two levels of 750 cm², so nine lanterns need two firings.
    await type([
      ["kilns", "k2", "levels", "3"],
      ["kilns", "k2", "gap", "3"],
      ["kilns", "k2", "shelf", "2250"],
    ]);
    const glaze = boardOf().views.filter(({ load }) => load.firing === "glaze, middle fire");
    expect(glaze.map(({ pieces }) => pieces.length)).toEqual([8, 1]);
    expect(glaze[0]?.state?.levels.map((level) => level.pieces.length)).toEqual([4, 4]);
    expect(glaze[1]?.company).toMatchObject({ pieces: 8 });
    expect(moveTo(session, boardOf(), new Set(["p128"]), glaze[0]?.load.key ?? 0)).toBe(true);
    expect(boardOf().views.flatMap(({ problems }) => problems)[0]).toContain("do not all go on its shelves");
  });

  test("wait until the sizes are computed", () => {
    const unsettled = new Session(demoEdition(), {
      startEngine: () => ({
        open: () => new Promise(() => {}),
        apply: async () => ({ columns: [], others: [] }),
        calculate: () => new Promise(() => {}),
        model: async () => undefined,
        source: () => new Promise(() => {}),
        close: () => undefined,
      }),
      keep: () => undefined,
      locale: "en-GB",
      now: () => new Date("2026-11-25T09:00:00Z"),
    });
    expect(readLoads(unsettled, [])).toBeUndefined();
    expect(readCalendar(unsettled)).toBeUndefined();
  });
});
