// The kiln family in the sheet: it reads the Kilns, Programmes and Tariffs sheets, and names the field that is wrong.
import { describe, expect, it } from "vitest";
import { demoEdition } from "../../src/app/demo/demo";
import { coolingHours } from "../../src/ceramics/kiln/cooling";
import { oneRamp } from "../../src/ceramics/kiln/programme";
import { simulateFiring } from "../../src/ceramics/kiln/simulate";
import { bandedCost } from "../../src/ceramics/kiln/tariff";
import type { Raw, Workbook } from "../../src/core/document/workbook";
import { bandsFrom, kilnFrom, loadFrom, minuteOfWeek, programmeFrom } from "../../src/engine/kiln-records";
import type { Value } from "../../src/engine/values";
import { evaluate as valuesOf } from "../tools/evaluate";

const demo = demoEdition();

function withCells(
  book: Workbook,
  sheet: "kilns" | "programmes" | "tariffs",
  rows: Readonly<Record<string, Readonly<Record<string, Raw>>>>,
): Workbook {
  const old = book.sheets[sheet];
  const changed = old.rows.map((row) => ({ ...row, cells: { ...row.cells, ...rows[row.id] } }));
  const added = Object.entries(rows)
    .filter(([id]) => !old.rows.some((row) => row.id === id))
    .map(([id, cells]) => ({ id, cells }));
  return { ...book, sheets: { ...book.sheets, [sheet]: { ...old, rows: [...changed, ...added] } } };
}

/** What formulas give in a workbook, each in an override of one firing's note-free cell. */
function evaluate(book: Workbook, formula: string): Value | undefined {
  const [first, ...rest] = book.sheets.firings.rows;
  if (!first) throw new Error("no firing");
  const rows = [{ ...first, cells: { ...first.cells, duty: { f: formula } } }, ...rest];
  const asked = { ...book, sheets: { ...book.sheets, firings: { ...book.sheets.firings, rows } } };
  return valuesOf(asked)("firings", first.id, "duty");
}

const message = (book: Workbook, formula: string) => (evaluate(book, formula) as { readonly message: string }).message;

const kiln = kilnFrom(
  [Object.fromEntries(Object.entries(demo.sheets.kilns.rows[1]?.cells ?? {})) as Record<string, number>],
  "Large kiln",
);
if (!kiln.ok) throw new Error(kiln.problems[0]?.message);
const fired = simulateFiring(kiln.value.kiln, oneRamp(1222, 120, 15), loadFrom(50, 2, 0, kiln.value.furnitureKg));
if (!fired.ok) throw new Error(fired.problems[0]?.message);

describe("firings in the sheet", () => {
  it("are the heat model's own, for the kiln of the Kilns sheet", () => {
    expect(evaluate(demo, `=FIRING_KWH("Large kiln",1222,120,15,50,2)`)).toBeCloseTo(fired.value.kwh, 9);
    expect(evaluate(demo, `=FIRING_HOURS("large kiln",1222,120,15,50,2)`)).toBeCloseTo(fired.value.heatingHours, 9);
  });

  it("take their last arguments as none where they are left out", () => {
    const empty = simulateFiring(kiln.value.kiln, oneRamp(1000, 100, 0), loadFrom(0, 0, 0, kiln.value.furnitureKg));
    expect(evaluate(demo, `=FIRING_KWH("Large kiln",1000)`)).toBeCloseTo(empty.ok ? empty.value.kwh : Number.NaN, 9);
  });

  it("cool as the closed kiln does", () => {
    const hot = simulateFiring(kiln.value.kiln, oneRamp(1000, 100, 10), loadFrom(20, 0, 0, kiln.value.furnitureKg), {
      withCooling: true,
    });
    const hours = hot.ok ? coolingHours(hot.value, 150) : hot;
    expect(evaluate(demo, `=COOLING_HOURS("Large kiln",1000,20,150)`)).toBeCloseTo(
      hours.ok ? hours.value : Number.NaN,
      9,
    );
  });

  it("follow a programme of the Programmes sheet, in the order of its ramps", () => {
    const records = demo.sheets.programmes.rows.map((row) => row.cells as Record<string, number | string>);
    const programme = programmeFrom([...records].reverse(), "slow bisque");
    if (!programme.ok) throw new Error(programme.problems[0]?.message);
    // Cone 06 at 80 °C/h lies between 998 °C at 60 and 1013 at 150, by the logarithm of the rate: 1002.7, by hand.
    expect(programme.value.segments.map((segment) => Math.round(segment.targetC))).toEqual([95, 620, 880, 1003]);
    const raw = simulateFiring(kiln.value.kiln, programme.value, loadFrom(60, 1, 0.5, kiln.value.furnitureKg));
    expect(evaluate(demo, `=PROGRAMME_KWH("Large kiln","slow bisque",60,1,0.5)`)).toBeCloseTo(
      raw.ok ? raw.value.kwh : Number.NaN,
      9,
    );
  });
});

describe("bad kilns, programmes and loads name the field", () => {
  it.each([
    [
      { k2: { brick_mm: undefined as unknown as Raw } },
      "Large kiln, hot face thickness: found nothing, but it takes millimetres.",
    ],
    [
      { k2: { width: undefined as unknown as Raw } },
      "Large kiln, width or diameter: found nothing, but it takes a number.",
    ],
  ])("a blank measure: %j", (cells, says) => {
    expect(message(withCells(demo, "kilns", cells), `=FIRING_KWH("Large kiln",1000)`)).toContain(says);
  });

  it.each([
    [`=FIRING_KWH("Tall kiln",1000)`, "Kiln: found “Tall kiln”, but it takes a kiln of the Kilns sheet."],
    [`=FIRING_KWH("Large kiln",1000,-5)`, "FIRING_KWH, rate: found -5, but it takes a number in °C/h, above 0"],
    [
      `=FIRING_KWH("Large kiln",1000,100,0,-1)`,
      "FIRING_KWH, ware_kg: found -1, but it takes a number in kg, 0 or more",
    ],
    [
      `=PROGRAMME_KWH("Large kiln","raku",1)`,
      "Programme: found “raku”, but it takes a programme of the Programmes sheet.",
    ],
  ])("%s", (formula, says) => {
    expect(message(demo, formula)).toContain(says);
  });

  it("a programme above the class of the brick is calculated, by a shipped kiln as it stands", () => {
    const high = evaluate(demo, `=PROGRAMME_KWH("Large kiln","glaze, high fire",60)`);
    expect(high).toBeGreaterThan(Number(evaluate(demo, `=PROGRAMME_KWH("Large kiln","glaze, middle fire",60)`)));
  });

  it("a kiln that is too weak says where it stalls", () => {
    const weak = withCells(demo, "kilns", { k2: { kw: 2 } });
    expect(message(weak, `=FIRING_KWH("Large kiln",1222)`)).toMatch(/\d+ °C/);
  });
});

describe("room in the sheet", () => {
  // Large kiln: room for 48, 9000 cm² on its shelves, 90 cm high; levels not said.
  it.each([
    ["by count", `=KILN_ROOM("large kiln",180,36)`, 48],
    ["by shelf: 9000 ÷ 400", `=KILN_ROOM("Large kiln",400,36)`, 22],
    ["a piece as tall as the chamber", `=KILN_ROOM("Large kiln",400,90)`, 22],
    [
      "of the like of a mixed load: as tall as the tallest, 400 cm² in the mean",
      `=LOAD_ROOM("Large kiln","500 36 1;300 20 1")`,
      22,
    ],
    ["never fewer than are in it", `=LOAD_ROOM("Large kiln","180 36 50")`, 50],
  ])("%s", (_, formula, pieces) => expect(evaluate(demo, formula)).toBe(pieces));

  it.each([
    [
      "levels of 30 cm in 90: three, as many as it has, each 3000 ÷ 180",
      { levels: 3, gap: 2 },
      `=KILN_ROOM("Large kiln",180,28)`,
      48,
    ],
    ["levels of 32 cm: two of them", { levels: 3, gap: 2 }, `=KILN_ROOM("Large kiln",180,30)`, 32],
  ])("%s", (_, cells, formula, pieces) => {
    expect(evaluate(withCells(demo, "kilns", { k2: cells }), formula)).toBe(pieces);
  });

  it("says why a piece goes in nowhere, and names a kiln that is not there", () => {
    expect(message(demo, `=KILN_ROOM("Small kiln",180,36)`)).toContain("pieces up to 32 cm tall");
    expect(message(demo, `=KILN_ROOM("No kiln",180,36)`)).toContain("a kiln of the Kilns sheet");
  });
});

describe("prices by the hour", () => {
  it("even over the hours typed: two at the flat price and six and a quarter at night", () => {
    const banded = withCells(demo, "tariffs", {
      t1: { id: "Night", days: "every day", from: "22:00", to: "06:00", price: 0.12 },
    });
    const price = evaluate(banded, `=BANDED_HOURS(8.25,46000,"20:00",0.29)`);
    expect(price).toBeCloseTo((2 * 0.29 + 6.25 * 0.12) / 8.25, 12);
    // A quarter of a minute counts as one.
    expect(evaluate(banded, `=BANDED_HOURS(1/240,46000,"23:00",0.29)`)).toBeCloseTo(0.12, 12);
  });

  it("without bands a kilowatt-hour costs the flat price", () => {
    expect(evaluate(demo, `=BANDED_PRICE("Large kiln","low lustre",10,0,0,46000,"20:00",0.29)`)).toBeCloseTo(0.29, 12);
  });

  it("a night band is paid for what is drawn in it, and the flat price for the rest", () => {
    const banded = withCells(demo, "tariffs", {
      t1: { id: "Night", days: "every day", from: "22:00", to: "06:00", price: 0.12 },
    });
    const bands = bandsFrom([{ id: "Night", days: "every day", from: "22:00", to: "06:00", price: 0.12 }], 0.29);
    const programme = programmeFrom(
      demo.sheets.programmes.rows.map((row) => row.cells as Record<string, number | string>),
      "low lustre",
    );
    if (!bands.ok || !programme.ok) throw new Error("bands");
    const firing = simulateFiring(kiln.value.kiln, programme.value, loadFrom(10, 0, 0, kiln.value.furnitureKg));
    if (!firing.ok) throw new Error("firing");
    // By hand: minutes before 22:00 at the flat price, the others at the night price.
    let paid = 0;
    firing.value.powerKw.forEach((kw, minute) => {
      const hour = (20 + minute / 60) % 24;
      paid += (kw / 60) * (hour >= 22 || hour < 6 ? 0.12 : 0.29);
    });
    expect(evaluate(banded, `=BANDED_PRICE("Large kiln","low lustre",10,0,0,46000,"20:00",0.29)`)).toBeCloseTo(
      paid / firing.value.kwh,
      9,
    );
    const cost = bandedCost(firing.value.powerKw, minuteOfWeek(46000, 20), bands.value);
    expect(cost.ok ? cost.value.cost : Number.NaN).toBeCloseTo(paid, 9);
  });

  it("day numbers of the engine fall on the right weekday", () => {
    // 2026-11-25 is a Wednesday (calendar); the engine counts it as day 46351.
    expect(minuteOfWeek(46351, 7.5)).toBe(2 * 1440 + 450);
  });

  it("bands that overlap are refused by name", () => {
    const twice = withCells(demo, "tariffs", {
      t1: { id: "Night", days: "every day", from: "22:00", to: "06:00", price: 0.12 },
      t2: { id: "Late", days: "weekdays", from: "23:00", to: "01:00", price: 0.1 },
    });
    const value = evaluate(twice, `=BANDED_PRICE("Large kiln","low lustre",10,0,0,46000,"20:00",0.29)`) as {
      readonly message: string;
    };
    expect(value.message).toContain("Night and Late");
  });
});
