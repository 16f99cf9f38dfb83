import { describe, expect, it } from "vitest";
import { demoEdition } from "../../../src/app/demo/demo";
import { listTemplates } from "../../../src/app/plan/templates";
import { unitTextOf } from "../../../src/core/document/access";
import { STEP_KINDS } from "../../../src/core/document/sheet-keys";
import { startEdition } from "../../../src/core/document/start-edition";
import { SHEET_KEYS, type Workbook } from "../../../src/core/document/workbook";
import { columnsOfStep } from "../../../src/core/sheets/pieces-sheet";
import { readOwnUnit } from "../../../src/core/units/own-unit";
import { isOpenUnit, parseUnit } from "../../../src/core/units/parse";
import { scaleOfUnit } from "../../../src/core/units/shown";
import { FUNCTIONS } from "../../../src/engine/functions";
import { smallEdition, typing } from "../../tools/small-edition";

const answers = { title: "a", wanted: 3, currency: "EUR", firstPiece: "1", started: "2026-01-01" };
const books: readonly (readonly [string, Workbook])[] = [
  ["demo", demoEdition()],
  ...listTemplates().flatMap(({ folder, template }) =>
    template.ok ? [[folder, startEdition(template.value, answers, 3)] as const] : [],
  ),
];
const isKnown = (unit: string) => parseUnit(unit) !== undefined || isOpenUnit(unit);

describe("every unit is one of the table or put together from it", () => {
  it.each(books)("%s", (_, book) => {
    const unknown = SHEET_KEYS.flatMap((key) => {
      const { columns, rows } = book.sheets[key];
      const value = columns.find((column) => column.key === "value");
      return [
        ...columns.map(({ unit }) => unit),
        ...rows.flatMap((row) => (value && row.line ? [unitTextOf(value, row)] : [])),
      ].filter((unit) => !isKnown(unit));
    });
    expect(unknown).toEqual([]);
  });

  it("columns of every kind of step", () => {
    const columns = STEP_KINDS.flatMap((kind) => columnsOfStep({ id: "s", cells: { kind } }));
    expect(columns.map(({ unit }) => unit).filter((unit) => !isKnown(unit))).toEqual([]);
    expect(columns.length).toBeGreaterThan(20);
  });

  it("parameters and results of every function, or the parameter that gives it", () => {
    const wrong = FUNCTIONS.flatMap(({ name, parameters, unit }) => {
      const like = /^as the (\w+)$/.exec(unit)?.[1];
      const isResultKnown = like === undefined ? isKnown(unit) : parameters.some((one) => one.name === like);
      const unknown = parameters.filter(({ unit: taken = "" }) => taken !== "any" && !isKnown(taken));
      return [
        ...(isResultKnown ? [] : [`${name}: ${unit}`]),
        ...unknown.map((one) => `${name}, ${one.name}: ${one.unit}`),
      ];
    });
    expect(wrong).toEqual([]);
  });
});

describe("a unit as it is written", () => {
  it.each([
    ["g/cm2", "g/cm²"],
    ["g / cm^2", "g/cm²"],
    ["grams per sq cm", "g/cm²"],
    ["sq in", "in²"],
    ["cu ft", "ft³"],
    ["KG", "kg"],
    ["Litres", "L"],
    ["1/h", "1/h"],
    ["¤/labor hour", "¤/labour h"],
    ["fl. oz.", "fl oz"],
    ["deg F", "°F"],
    ["℃", "°C"],
    ["mm·min", "mm·min"],
    ["", ""],
  ])("%j is %s", (text, symbol) => {
    expect(parseUnit(text)?.text).toBe(symbol);
  });

  it.each(["furlong", "g//cm", "/", "g·", "cm4", "constructor", "toString", "²"])("%j is none", (text) => {
    expect(parseUnit(text)).toBeUndefined();
  });
});

describe("a unit of the maker's own", () => {
  const read = (typed: string) => readOwnUnit(typed, "EUR", "The unit");
  it.each([
    ["grams", "g"],
    ["€/kg", "¤/kg"],
    ["EUR", "¤"],
    ["jars", "jars"],
    ["glue pots", "glue pots"],
    [" ", ""],
  ])("%j is kept as %j", (typed, kept) => {
    expect(read(typed)).toEqual({ ok: true, value: kept });
  });

  it.each([
    [
      "gramms",
      "The unit: found “gramms”, but it takes a unit such as g, cm², min, kWh or ¤/kg, a word for what is counted, or nothing for plain numbers. Did you mean grams?",
    ],
    [
      "kg/%%",
      "The unit: found “kg/%%”, but it takes a unit such as g, cm², min, kWh or ¤/kg, a word for what is counted, or nothing for plain numbers.",
    ],
  ])("%j is refused", (typed, message) => {
    const refused = read(typed);
    expect(refused.ok ? "" : refused.problems[0]?.message).toBe(message);
  });

  it("is read by the same rules where it is typed beside an input", () => {
    const book = smallEdition();
    const rent = {
      id: "rent",
      cells: { label: "Rent", value: 1, unit: "" },
      line: { kind: "input", type: "number" },
      own: true,
    } as const;
    const rows = [...book.sheets.edition.rows, rent];
    const grown: Workbook = { ...book, sheets: { ...book.sheets, edition: { ...book.sheets.edition, rows } } };
    const [kept] = typing(grown, [["edition", "rent", "unit", "€/months"]]).change.operations;
    expect(kept).toBeUndefined();
    const [known] = typing(grown, [["edition", "rent", "unit", "€/day"]]).change.operations;
    expect(known).toMatchObject({ is: "¤/days" });
  });
});

describe("how amounts are shown", () => {
  const us = { units: "US", temperature: "F" } as const;
  it.each([
    ["cm", 30.48, "in", 12],
    ["cm²", 6.4516, "in²", 1],
    ["mm", 114.3, "in", 4.5],
    ["g", 28.349523125, "oz", 1],
    ["kg", 0.45359237, "lb", 1],
    ["L", 3.785411784, "gal", 1],
    ["mL", 29.5735295625, "fl oz", 1],
    ["°C", 1050, "°F", 1922],
    ["°C/h", 60, "°F/h", 108],
    ["¤/g", 1, "¤/oz", 28.349523125],
    ["¤/kg", 2.2046226218487757, "¤/lb", 1],
  ])("%s: %d is shown in US units as %s %d", (kept, value, unit, shown) => {
    const scale = scaleOfUnit(kept, us);
    expect(scale?.unit).toBe(unit);
    expect(scale?.toShown(value)).toBeCloseTo(shown, 12);
  });

  it("a gram on a square centimetre is 0.227 oz on a square inch", () => {
    const scale = scaleOfUnit("g/cm²", us);
    expect(scale?.unit).toBe("oz/in²");
    expect(scale?.toShown(1)).toBeCloseTo(6.4516 / 28.349523125, 14);
  });

  it("fans are in cfm: 1 L/s is 2.1189 cfm (ft³ from 0.3048 m)", () => {
    expect(scaleOfUnit("L/s", us)?.unit).toBe("cfm");
    expect(scaleOfUnit("L/s", us)?.toShown(1)).toBeCloseTo(60 / 0.3048 ** 3 / 1000, 9);
  });

  it.each(["kWh", "kW", "h", "min", "¤", "¤/kWh", "pieces", "", "nm", "as shared", "jars"])("%s stays", (unit) => {
    expect(scaleOfUnit(unit, us)).toBeUndefined();
  });

  it("temperatures have a choice of their own", () => {
    expect(scaleOfUnit("°C", { units: "metric", temperature: "F" })?.unit).toBe("°F");
    expect(scaleOfUnit("°C", { units: "US", temperature: "C" })).toBeUndefined();
    expect(scaleOfUnit("cm", { units: "metric", temperature: "F" })).toBeUndefined();
    expect(scaleOfUnit("cm", { temperature: "C" })).toBeUndefined();
  });
});
