import { describe, expect, it } from "vitest";
import { applyChange } from "../../../src/core/document/change";
import { writeEntries } from "../../../src/core/document/edits";
import { readEntry } from "../../../src/core/document/entry";
import type { Workbook } from "../../../src/core/document/workbook";
import { scaleOfUnit } from "../../../src/core/units/shown";
import { refusal, smallEdition, type Typed, typing } from "../../tools/small-edition";

const metric = smallEdition();
const us: Workbook = { ...metric, meta: { ...metric.meta, units: "US", temperature: "F" } };
const kept = (book: Workbook, entry: Typed) => {
  const { change, refused, messages } = typing(book, [entry]);
  const [operation] = change.operations;
  if (refused[0] || operation?.kind !== "cell") throw new Error(refused[0]?.message ?? "nothing written");
  return [operation.is, ...messages];
};
const height: readonly [Typed[0], string, string] = ["edition", "piece_height", "value"];

describe("an amount with a unit of its own is kept in the column's", () => {
  it.each([
    [[...height, "12 in"], 30.48, "12 in = 30.48 cm"],
    [[...height, `12"`], 30.48, `12" = 30.48 cm`],
    [[...height, "3/4 in"], 1.905, "3/4 in = 1.905 cm"],
    [[...height, "1 3/4 in"], 4.445, "1 3/4 in = 4.445 cm"],
    [[...height, "1½ in"], 3.81, "1½ in = 3.81 cm"],
    [[...height, `1' 2"`], 35.56, `1' 2" = 35.56 cm`],
    [[...height, "1ft2in"], 35.56, "1ft2in = 35.56 cm"],
    [[...height, "250mm"], 25, "250mm = 25 cm"],
    [[...height, "1e3 mm"], 100, "1e3 mm = 100 cm"],
    [[...height, "1 000 mm"], 100, "1 000 mm = 100 cm"],
    [["edition", "piece_kg", "value", "2 lb 3 oz"], 0.99223330938, "2 lb 3 oz = 0.9922333 kg"],
    [["edition", "piece_foot", "value", "10 sq in"], 64.516, "10 sq in = 64.516 cm²"],
    [["programmes", "r1", "celsius", "2232 F"], 1222.2222222222222, "2232 F = 1222.222 °C"],
    [["programmes", "r1", "rate", "108 °F/h"], 60, "108 °F/h = 60 °C/h"],
    [["route", "fettle", "minutes", "1 h 30 min"], 90, "1 h 30 min = 90 min"],
    [["kilns", "k1", "hours", "90 min"], 1.5, "90 min = 1.5 h"],
    [["kilns", "k1", "vent", "10 cfm"], 4.719474432, "10 cfm = 4.719474 L/s"],
    [["materials", "m1", "pack_grams", "25 kg"], 25_000, "25 kg = 25000 g"],
    [["materials", "m1", "pack_grams", "50 lb"], 22_679.6185, "50 lb = 22679.62 g"],
    [["edition", "wage", "value", "0.5 €/min"], 30, "0.5 €/min = 30 EUR/h"],
  ] as const)("%j → %d", (entry, value, message) => {
    const [number, ...said] = kept(metric, entry);
    expect(number).toBeCloseTo(value, 10);
    expect(said).toEqual([message]);
  });

  it.each([
    [[...height, "12 cm"], 12],
    [[...height, "12cm"], 12],
    [["edition", "wanted", "value", "20 pieces"], 20],
    [["edition", "wage", "value", "€ 21.50"], 21.5],
    [["edition", "price_special", "value", "130 EUR"], 130],
    [[...height, "3/4"], 0.75],
  ] as const)("nothing is told where nothing was converted, or a fraction was calculated out: %j", (entry, value) => {
    expect(kept(metric, entry)[0]).toBe(value);
  });

  it("the decimal comma of a locale is read beside a unit too", () => {
    const entries = [{ cell: { sheet: "edition", row: "piece_kg", column: "value" }, typed: "1,5 lb" }] as const;
    const { change, messages } = writeEntries(metric, entries, {
      label: "",
      marks: { decimal: "," },
      override: false,
    });
    expect(change.operations[0]).toMatchObject({ is: 0.680388555 });
    expect(messages).toEqual(["1,5 lb = 0,6803886 kg"]);
  });
});

describe("in an edition shown in US customary units", () => {
  it("a bare number is in the unit that is shown", () => {
    expect(kept(us, [...height, "12"])).toEqual([30.48]);
    expect(kept(us, ["programmes", "r1", "celsius", "1922"])).toEqual([1050]);
    expect(kept(us, [...height, "30 cm"])).toEqual([30, "30 cm = 11.81102 in"]);
  });

  it("limits are told in the unit that is shown", () => {
    expect(refusal(us, ["programmes", "r1", "celsius", "3000"])).toBe(
      "Programmes slow, to: found “3000”, but it takes a number, 69.8 or more and 2732 or less.",
    );
    expect(refusal(us, ["kilns", "k1", "height", "1"])).toBe(
      "Kilns Small, chamber height: found “1”, but it takes a number, 1.9685 or more and 196.85 or less.",
    );
  });

  it("what a file brings is as it is kept, whatever is shown", () => {
    const cell = { sheet: "edition", row: "piece_height", column: "value" } as const;
    expect(readEntry(us, cell, "12", { decimal: "." })).toEqual({ ok: true, value: 12 });
    expect(readEntry(us, cell, "12 in", { decimal: "." }).ok).toBe(false);
    const low = readEntry(us, { sheet: "kilns", row: "k1", column: "height" }, "1", { decimal: "." });
    expect(low.ok ? "" : low.problems[0]?.allowed).toBe("a number, 5 or more and 500 or less");
  });

  it("a number that took more digits to keep than it shows stays as it is when it is typed again", () => {
    const long = applyChange(us, {
      label: "",
      operations: [{ kind: "cell", sheet: "edition", row: "piece_height", column: "value", was: 20, is: 1 / 3 }],
    });
    const shown = scaleOfUnit("cm", long.meta)?.toShown(1 / 3);
    expect(typing(long, [[...height, String(shown)]])).toMatchObject({ refused: [], change: { operations: [] } });
  });
});

describe("what can't be taken names both units", () => {
  it.each([
    [
      [...height, "2 kg"],
      "Edition, Height of a piece: found “2 kg”, but it takes a number in cm, 0 or more. kg is a unit of weight, and this is a length.",
    ],
    [
      [...height, "2 inn"],
      "Edition, Height of a piece: found “2 inn”, but it takes a number in cm, 0 or more. “inn” is no unit known here. Did you mean in?",
    ],
    [
      ["edition", "wanted", "value", "5 kg"],
      "Edition, Pieces to deliver: found “5 kg”, but it takes a whole number in pieces, 0 or more and 20000 or less. kg is a unit of weight, and this is a plain number.",
    ],
    [
      ["edition", "piece_kg", "value", "8 fl oz"],
      "Edition, A piece weighs: found “8 fl oz”, but it takes a number in kg, 0 or more. A fluid ounce (fl oz) is a volume; a weight is in oz.",
    ],
    [
      ["edition", "piece_kg", "value", "1 ton"],
      "Edition, A piece weighs: found “1 ton”, but it takes a number in kg, 0 or more. A ton is 1000 kg, 2000 lb or 2240 lb: write t, kg or lb.",
    ],
    [
      ["edition", "piece_kg", "value", "2 lb 3"],
      "Edition, A piece weighs: found “2 lb 3”, but it takes a number in kg, 0 or more. Give each part its unit.",
    ],
    [
      ["edition", "piece_kg", "value", "2 lb 3 in"],
      "Edition, A piece weighs: found “2 lb 3 in”, but it takes a number in kg, 0 or more. in is a unit of length, and this is a weight.",
    ],
    [
      ["edition", "piece_kg", "value", "1,234 lb"],
      "Edition, A piece weighs: found “1,234 lb”, but it takes a number, 0 or more. Leave the thousands mark out, so that it can mean only one thing.",
    ],
    [
      ["programmes", "r1", "celsius", "50 Δ°C"],
      "Programmes slow, to: found “50 Δ°C”, but it takes a number in °C, 21 or more and 1500 or less. Δ°C is a difference of temperatures.",
    ],
    [["edition", "wage", "value", "$ 20"], "Edition, Wage: found “$ 20”, but it takes a number, 0 or more."],
    [["edition", "wage", "value", "1/0 €/h"], "Edition, Wage: found “1/0 €/h”, but it takes a number, 0 or more."],
    [[...height, "-3 in"], "Edition, Height of a piece: found “-3 in”, but it takes a number, 0 or more."],
    [
      ["route", "cast", "loss", "3 kg"],
      "Route Cast, planned loss: found “3 kg”, but it takes a percentage, 0 % or more and below 100 %. kg is a unit of weight, and this is a plain number.",
    ],
  ] as const)("%j", (entry, message) => {
    expect(refusal(metric, entry)).toBe(message);
  });

  it("an ounce for a volume is answered with the fluid ounce", () => {
    const column = { key: "pour", title: "pour", unit: "mL", kind: "input", type: "number", own: true } as const;
    const { pieces } = metric.sheets;
    const grown = {
      ...metric,
      sheets: { ...metric.sheets, pieces: { ...pieces, columns: [...pieces.columns, column] } },
    };
    expect(refusal(grown, ["pieces", "p1", "pour", "8 oz"])).toBe(
      "Pieces 01, pour: found “8 oz”, but it takes a number in mL. An ounce (oz) is a weight; a volume is in fl oz.",
    );
    expect(kept(grown, ["pieces", "p1", "pour", "8 fl oz"])).toEqual([236.5882365, "8 fl oz = 236.5882 mL"]);
  });
});
