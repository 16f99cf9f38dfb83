// The same pieces and the same kiln: Route's plan, its cost, Loads, Ready when, Record and Firings count the same loads.
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { readCalendar } from "../../../src/app/calendar/calendar";
import type { Session } from "../../../src/app/edition/session";
import { loadOf } from "../../../src/app/help/trace";
import { readLoads } from "../../../src/app/loads/loads";
import { loadsBoard } from "../../../src/app/loads/loads-board";
import { planAsked, recordPieces } from "../../../src/app/record/record";
import { readyWhen } from "../../../src/ceramics/calendar/ready";
import { tasksAhead } from "../../../src/ceramics/calendar/route-tasks";
import { startEdition } from "../../../src/core/document/start-edition";
import { readTemplate } from "../../../src/core/document/template";
import type { FiringWish } from "../../../src/core/record/firing-wish";
import { must } from "../../accounts/results";
import { openSession } from "../../tools/open-session";
import { afterTyping, type Typed } from "../../tools/small-edition";

const text = readFileSync("templates/two-firing/template.json", "utf8");
const template = must(readTemplate(JSON.parse(text) as unknown, "two-firing"));
const ANSWERS = { title: "Room", wanted: 20, currency: "EUR", firstPiece: "1", started: "2026-02-03" };
const newFiring: FiringWish = { kind: "new", name: "B1", kiln: "Kiln", date: "2026-11-26" };

/** Twenty pieces with nothing lost, cast, fettled and dry, in a kiln with these limits. */
async function waitingForBisque(kiln: Readonly<Record<string, string>>, pieces: readonly Typed[] = []) {
  const book = startEdition(template, ANSWERS, 20);
  const ofKiln = Object.entries(kiln).map(
    ([column, typed]): Typed => ["kilns", book.sheets.kilns.rows[0]?.id ?? "", column, typed],
  );
  const losses = book.sheets.route.rows.map(({ id }): Typed => ["route", id, "loss", "0"]);
  const { session, settled } = openSession(afterTyping(book, [...ofKiln, ...losses, ...pieces]));
  await settled();
  const before = book.sheets.route.rows.findIndex(({ id }) => id === "bisque") - 1;
  const step = book.sheets.route.rows[before]?.id ?? "";
  recordPieces(session, idsOf(session), { kind: "done", step, firings: {} });
  await settled();
  return { session, settled };
}

const idsOf = (session: Session) => session.book.value.sheets.pieces.rows.map(({ id }) => id);
const route = (session: Session, column: string) => session.value({ sheet: "route", row: "bisque", column });

function calendarOf(session: Session) {
  const calendar = readCalendar(session);
  if (!calendar) throw new Error("not computed yet");
  return must(calendar).input;
}

function bisqueLoads(session: Session) {
  const read = readLoads(session, []);
  if (!read) throw new Error("not computed yet");
  return {
    plan: route(session, "plan_loads"),
    loads: loadsBoard(session)?.views.length,
    calendar: tasksAhead(calendarOf(session)).filter((task) => task.step === "bisque").length,
  };
}

describe("loads of the same twenty pieces", () => {
  // 130 cm² each, 22 cm tall, in a chamber of 75 cm.
  test.each([
    ["by shelf area: four on 600 cm²", { shelf: "600" }, 5],
    ["by count", { capacity: "7" }, 3],
    [
      "by height and levels: three levels of 26 cm stay in 78 cm, not in 75",
      { levels: "3", gap: "4", shelf: "1170" },
      4,
    ],
    ["by what a level takes: two of each 300 cm²", { levels: "2", gap: "2", shelf: "600" }, 5],
    ["all in one", { shelf: "5200" }, 1],
  ] as const)("%s", async (_, kiln, loads) => {
    const { session } = await waitingForBisque(kiln);
    expect(bisqueLoads(session)).toEqual({ plan: loads, loads, calendar: loads });
    const cost = route(session, "plan_cost");
    const each = ["wear"].map((column) =>
      Number(session.value({ sheet: "kilns", row: session.book.value.sheets.kilns.rows[0]?.id ?? "", column })),
    );
    expect(Number(cost)).toBeGreaterThan(loads * (each[0] ?? 0));
    expect(route(session, "plan_kwh")).toBeCloseTo(loads * Number(route(session, "load_kwh")), 9);
  });

  test("pieces of several sizes: Ready when parts them into as many loads as Loads does, one by one", async () => {
    const tall = Array.from({ length: 6 }, (_, at): Typed => ["pieces", `p${at + 1}`, "height", "40"]);
    const wide = Array.from({ length: 5 }, (_, at): Typed => ["pieces", `p${at + 9}`, "foot", "300"]);
    const { session } = await waitingForBisque({ levels: "3", gap: "3", shelf: "1800" }, [...tall, ...wide]);
    const { loads, calendar } = bisqueLoads(session);
    // A mean piece as tall as the tallest would ask for seven loads.
    expect([loads, calendar]).toEqual([3, 3]);
    const ready = must(readyWhen(calendarOf(session)));
    const bisque = ready.slots.filter(({ task }) => task.step === "bisque").flatMap(({ task }) => task.pieces);
    expect(bisque.map(Number).sort((a, b) => a - b)).toEqual(Array.from({ length: 20 }, (_, at) => at + 1));
  });

  test("a kiln that takes none of them is an error in the plan, in words", async () => {
    const { session } = await waitingForBisque({ height: "20" });
    expect(JSON.stringify(route(session, "plan_loads"))).toContain("pieces up to 20 cm tall");
  });
});

describe("recording into a firing", () => {
  test("tells of a piece taller than the chamber before it is recorded, by the piece's own height", async () => {
    const { session, settled } = await waitingForBisque({}, []);
    const [tall = "", other = ""] = idsOf(session);
    recordPieces(session, [other], { kind: "note", note: "x" });
    const book = afterTyping(session.book.value, [["pieces", tall, "height", "80"]]);
    const again = openSession(book);
    await again.settled();
    const asked = { kind: "firing", step: "bisque", firing: newFiring } as const;
    const warned = must(planAsked(again.session, [tall, other], asked)).warnings;
    expect(warned).toContainEqual({
      says: "B1: a height of 80 cm; the Kiln takes pieces up to 75 cm tall",
      pieces: [tall],
    });
    expect(must(planAsked(again.session, [other], asked)).warnings.filter(({ says }) => says.startsWith("B1"))).toEqual(
      [],
    );
    recordPieces(again.session, [tall, other], asked);
    await again.settled();
    const firing = again.session.book.value.sheets.firings.rows[0]?.id ?? "";
    expect(again.session.value({ sheet: "firings", row: firing, column: "warning" })).toBe(
      "a piece is taller than the chamber",
    );
    await settled();
  });

  test("tells of a load that does not go in by count, shelf or levels, as Firings does afterwards", async () => {
    const found: (readonly [string, unknown])[] = [];
    for (const kiln of [
      { capacity: "19" },
      { shelf: "2500" },
      { levels: "3", gap: "4", shelf: "2600" },
      { capacity: "20", shelf: "2600" },
    ]) {
      const { session, settled } = await waitingForBisque(kiln);
      const asked = { kind: "firing", step: "bisque", firing: newFiring } as const;
      const warned = must(planAsked(session, idsOf(session), asked)).warnings.map(({ says }) => says);
      recordPieces(session, idsOf(session), asked);
      await settled();
      const row = session.book.value.sheets.firings.rows[0]?.id ?? "";
      found.push([
        warned.find((says) => says.startsWith("B1")) ?? "",
        session.value({ sheet: "firings", row, column: "warning" }),
      ]);
    }
    expect(found).toEqual([
      ["B1 would hold 20 pieces; the Kiln takes 19 pieces", "more pieces than there is room for"],
      [
        expect.stringMatching(/^B1 would hold 2.600.cm² of ware; the Kiln takes 2.500.cm² on all its shelves$/),
        "more shelf than there is",
      ],
      [
        expect.stringContaining("pieces that do not all go on its shelves"),
        "its pieces do not go on the shelves together",
      ],
      ["", ""],
    ]);
  });

  test("a share is held against one full load, on card, Firings and notes alike", async () => {
    const { session, settled } = await waitingForBisque({ shelf: "1300" });
    const asked = { kind: "firing", step: "bisque", firing: newFiring } as const;
    recordPieces(session, idsOf(session).slice(0, 4), asked);
    await settled();
    const row = session.book.value.sheets.firings.rows[0]?.id ?? "";
    const read = (column: string) => session.value({ sheet: "firings", row, column });
    const [piece = ""] = idsOf(session);
    const card = loadOf(session, { sheet: "pieces", row: piece, column: "bisque.cost" });
    expect(read("full")).toBe(10);
    expect(card).toEqual({ count: 4, capacity: 10, share: read("each"), full: read("each_full") });
    expect(Number(read("each_full"))).toBeCloseTo(
      (Number(read("cost")) + (Number(read("full_kwh")) - Number(read("kwh"))) * Number(read("tariff"))) / 10,
      9,
    );
    // Six more pieces take more heat.
    expect(Number(read("full_kwh"))).toBeGreaterThan(Number(read("kwh")));
  });
});
