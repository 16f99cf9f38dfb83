// Amounts in fields beside the sheets are read and shown as in the sheets.
import { beforeEach, describe, expect, test } from "vitest";
import type { Session } from "../../../src/app/edition/session";
import { amountText, amountTitle, readAmount } from "../../../src/app/edition/typed-amount";
import { editMeta } from "../../../src/core/document/edits";
import { askedOf, BLANK_FORM, usualText } from "../../../src/ui/record/record-form";
import { openSession } from "../../tools/open-session";
import { smallEdition } from "../../tools/small-edition";

let session: Session;
beforeEach(() => {
  session = openSession(smallEdition()).session;
});
const toUs = () => session.commit(editMeta(session.book.value, { units: "US", temperature: "F" }, "US"));

const GRAMS = { unit: "g" };
/** SP 811: an avoirdupois ounce in grams. */
const OUNCE = 28.349523125;

describe("reading", () => {
  test("in the unit that is kept, or with another of its dimension", () => {
    expect(readAmount(session, GRAMS, "900")).toEqual({ value: 900 });
    expect(readAmount(session, GRAMS, " 0.9 kg ")).toEqual({ value: 900, message: "0.9 kg = 900 g" });
    expect(readAmount(session, GRAMS, "2 lb").value).toBeCloseTo(32 * OUNCE, 10);
    expect(readAmount(session, { unit: "", isPercent: true }, "12")).toEqual({ value: 0.12 });
    expect(readAmount(session, { unit: "", isPercent: true }, "12 %")).toEqual({ value: 0.12 });
  });

  test("in the unit that is shown, where that is another", () => {
    toUs();
    expect(readAmount(session, GRAMS, "32").value).toBeCloseTo(32 * OUNCE, 10);
    expect(readAmount(session, GRAMS, "900 g").value).toBe(900);
  });

  test("what is shown and typed again is what is kept, to the last digit", () => {
    toUs();
    for (const held of [900, 1803, 2100, 1e-3, 777.7]) {
      const text = amountText(session, GRAMS, held);
      expect(readAmount(session, { ...GRAMS, held }, text).value).toBe(held);
    }
  });

  test("what is no amount is said in words, and never a number", () => {
    for (const [typed, message] of [
      ["abc", "“abc” is no number."],
      ["12 min", "“12 min” can't be read in g. min is a unit of time, and this is a weight."],
      ["-1", "“-1” is too little: it takes 0 or more."],
      ["", ""],
    ] as const)
      expect(readAmount(session, { ...GRAMS, least: 0 }, typed)).toEqual({ value: Number.NaN, message });
  });

  test("a comma is never taken for a point: 1,200 is not 1.2", () => {
    expect(readAmount(session, GRAMS, "1,200").value).not.toBe(1.2);
  });
});

test("a title says the unit that is shown", () => {
  expect(amountTitle(session, "Slip kept", GRAMS)).toBe("Slip kept, g");
  expect(amountTitle(session, "Chance", { unit: "", isPercent: true })).toBe("Chance, %");
  expect(amountTitle(session, "Days", { unit: "" })).toBe("Days");
  toUs();
  expect(amountTitle(session, "Slip kept", GRAMS)).toBe("Slip kept, oz");
});

describe("recording slip", () => {
  const slip = (amount: string) => askedOf(session, { ...BLANK_FORM, act: "slip", amount }, "cast");

  test("blank is the usual amount itself, however it is rounded where it is shown", () => {
    expect(usualText(session, "cast")).toMatch(/^900\s+g$/);
    toUs();
    expect(usualText(session, "cast")).toMatch(/^31\.7\d*\s+oz$/);
    expect(slip("")).toEqual({ kind: "slip", step: "cast", amount: 900 });
  });

  test("ounces where ounces are shown", () => {
    toUs();
    expect(slip("32")).toMatchObject({ amount: 32 * OUNCE });
    expect(slip("2 lb 3 oz")).toMatchObject({ amount: expect.closeTo(35 * OUNCE, 9) });
    expect(slip("none")).toMatchObject({ amount: Number.NaN });
  });

  test("coats are a count and minutes are minutes, in every edition", () => {
    toUs();
    const asked = (act: "coats" | "minutes", step: string, amount: string) =>
      askedOf(session, { ...BLANK_FORM, act, amount }, step);
    expect(asked("coats", "glaze", "3")).toMatchObject({ amount: 3 });
    expect(asked("minutes", "fettle", "1 h")).toMatchObject({ amount: 60 });
  });
});
