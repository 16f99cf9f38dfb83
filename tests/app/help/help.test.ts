import { describe, expect, test } from "vitest";
import { tryFormula } from "../../../src/app/edition/try-formula";
import { GLOSSARY } from "../../../src/app/help/glossary";
import { HOW_TO } from "../../../src/app/help/how-to";
import { planOf, startFrom } from "../../../src/app/plan/start";
import { columnOf, rowOf } from "../../../src/core/document/access";
import { FUNCTIONS } from "../../../src/engine/functions/index";
import { openSession } from "../../tools/open-session";
import { smallEdition } from "../../tools/small-edition";

describe("the glossary", () => {
  test("says each word once and something of it", () => {
    const words = GLOSSARY.map(({ word }) => word.toLowerCase());
    expect(new Set(words).size).toBe(words.length);
    for (const { word, meaning } of GLOSSARY) expect(meaning.length, word).toBeGreaterThan(20);
  });
});

describe("how to", () => {
  test("leads only to places that every edition has", () => {
    const book = smallEdition();
    for (const { id, sheet, cell } of HOW_TO) {
      expect(book.sheets[sheet], id).toBeDefined();
      if (!cell) continue;
      expect(rowOf(book, sheet, cell.row), id).toBeDefined();
      expect(columnOf(book, sheet, cell.column), id).toBeDefined();
    }
  });
});

describe("a formula tried out", () => {
  const opened = async () => {
    const { session, settled } = openSession(smallEdition());
    await settled();
    return session;
  };

  test("gives what the declared examples give", async () => {
    const session = await opened();
    for (const one of FUNCTIONS) {
      const [example] = one.examples;
      if (!example || typeof example.gives !== "number" || example.formula.includes("{")) continue;
      const tried = await tryFormula(session, example.formula);
      expect(tried.ok, example.formula).toBe(true);
      if (!tried.ok) continue;
      const shown = Number(tried.value.replace(/\u202f/g, "").replace("\u2212", "-"));
      expect(Math.abs(shown - example.gives), example.formula).toBeLessThanOrEqual(
        Math.max(1e-6, (example.within ?? 1e-9) * Math.abs(example.gives)),
      );
    }
  });

  test("may use the edition's inputs and columns, and changes nothing", async () => {
    const session = await opened();
    const before = session.book.value;
    expect(await tryFormula(session, "wage*2")).toEqual({ ok: true, value: "40" });
    expect(await tryFormula(session, "=COUNT({pieces:own})")).toEqual({ ok: true, value: "5" });
    expect(session.book.value).toBe(before);
  });

  test("says what is wrong", async () => {
    const session = await opened();
    const said = async (typed: string) => {
      const tried = await tryFormula(session, typed);
      return tried.ok ? tried.value : tried.problems.map(({ message }) => message).join(" ");
    };
    expect(await said("wagge*2")).toContain("Did you mean wage?");
    expect(await said("SHRINK(100,2,3)")).toContain("SHRINK");
    expect(await said("B5*2")).toContain("names");
  });
});

describe("the plan of the start dialog", () => {
  const form = { title: "x", wanted: "60", template: "lustre", currency: "EUR", firstPiece: "001", perEuro: "" };

  test("starts as many pieces as it says", () => {
    const plan = planOf(form);
    const made = startFrom(form, "2026-11-25");
    expect(made.ok && made.value.sheets.pieces.rows.length).toBe(plan?.starts);
    expect(plan?.naive).toBeLessThan(plan?.starts ?? 0);
    expect(plan?.naiveChance).toBeLessThan(plan?.confidence ?? 0);
  });

  test("amounts are of the currency's size, and a currency nobody knows is asked about", () => {
    const amounts = (currency: string, perEuro = "") => {
      const made = startFrom({ ...form, currency, perEuro }, "2026-11-25");
      if (!made.ok) return made.problems.map(({ code }) => code);
      const { edition, materials, kilns } = made.value.sheets;
      const line = (id: string) => edition.rows.find((row) => row.id === id)?.cells.value;
      return [
        line("wage"),
        line("tariff"),
        line("confidence"),
        materials.rows[0]?.cells.pack_price,
        kilns.rows[0]?.cells.wear,
      ];
    };
    const [wage, tariff, sure, pack, wear] = amounts("EUR").map(Number);
    const two = (amount = 0) => Number(amount.toPrecision(2));
    expect(amounts("JPY")).toEqual([
      two((wage ?? 0) * 160),
      two((tariff ?? 0) * 160),
      sure,
      two((pack ?? 0) * 160),
      two((wear ?? 0) * 160),
    ]);
    expect(amounts("KWD")[0]).toBe(two((wage ?? 0) * 0.33));
    expect(amounts("GBP")[0]).toBe(wage);
    expect(amounts("ISK")).toEqual(["start.size"]);
    expect(amounts("ISK", "150")[0]).toBe(two((wage ?? 0) * 150));
    expect(amounts("ISK", "none")).toEqual(["start.size"]);
  });

  test("rescue recipes come with it", () => {
    const made = startFrom(form, "2026-11-25");
    expect(made.ok && made.value.lists.recipes.map(({ title }) => title)).toEqual([
      "Strip and recoat",
      "Another glaze coat and firing",
      "Cover with lustre",
    ]);
  });

  test("is silent while there is no number", () => {
    expect(planOf({ ...form, wanted: "sixty" })).toBeUndefined();
    expect(planOf({ ...form, template: "none" })).toBeUndefined();
  });
});
