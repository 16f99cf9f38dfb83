// The loss story as the page tells it, what was seen becoming the plan, and what is said of bad input.
import { describe, expect, test } from "vitest";
import { demoEdition } from "../../../src/app/demo/demo";
import { planWhatWasSeen } from "../../../src/app/plan/learn";
import { setAccount } from "../../../src/app/settle/account-terms";
import { setJournalReference } from "../../../src/app/settle/settle-commands";
import { cautionsOf, lossesOf, numberAt, type StoryNumber, sentencesOf, tiersOf } from "../../../src/app/settle/story";
import { applyChange } from "../../../src/core/document/change";
import { editMeta } from "../../../src/core/document/edits";
import { errorsOf, evaluate } from "../../tools/evaluate";
import { openSession } from "../../tools/open-session";
import { afterTyping, refusal, smallEdition, type Typed } from "../../tools/small-edition";

const textOf = (parts: readonly (string | StoryNumber)[]) =>
  parts.map((part) => (typeof part === "string" ? part : part.text)).join("");
const line = (sheet: "edition" | "results", row: string) => ({ sheet, row, column: "value" }) as const;

describe("the story of Marram", () => {
  const { session, settled } = openSession(demoEdition());

  test("answers three questions, and every number leads to a cell that holds it", async () => {
    await settled();
    const sentences = sentencesOf(session);
    expect(sentences.map(({ question }) => question)).toEqual([
      "What did a piece cost?",
      "What did the losses cost?",
      "Did the edition pay?",
    ]);
    for (const { parts } of sentences)
      for (const part of parts)
        if (typeof part !== "string") {
          expect(part.text).not.toMatch(/…|–|NaN/);
          expect(session.value(part.cell)).toEqual(expect.any(Number));
        }
    expect(textOf(sentences[1]?.parts ?? [])).toMatch(/^17 of 141 pieces were lost, with €\u00a0[\d.]+ in them\./);
  });

  test("losses by step add up to normal and abnormal loss", () => {
    const sum = lossesOf(session).reduce((total, { money }) => total + money, 0);
    const both =
      (numberAt(session, line("results", "normal")) ?? 0) + (numberAt(session, line("results", "abnormal")) ?? 0);
    expect(sum).toBeCloseTo(both, 9);
    expect(lossesOf(session).reduce((total, { lost }) => total + lost, 0)).toBe(17);
  });

  test("a tier's parts add up to what its pieces cost on the sheet", () => {
    const tiers = tiersOf(session);
    expect(tiers.map(({ tier }) => tier)).toEqual(["standard", "special", "second"]);
    for (const { tier, cost, count } of tiers) {
      expect(cost).toBeCloseTo(numberAt(session, line("results", `cost_${tier}`)) ?? 0, 9);
      expect(count).toBe(numberAt(session, line("results", `sold_${tier}`)));
    }
  });

  test("says by how much finished pieces are carried below cost", () => {
    expect(cautionsOf(session).map(({ parts }) => textOf(parts))).toEqual([
      expect.stringMatching(
        /^Stock is carried €\u00a0[\d.]+ below cost, at what it will fetch or as it was written down/,
      ),
    ]);
  });

  test("what was seen becomes the plan in one step of the history, and goes back in one", async () => {
    const before = session.book.value;
    const steps = session.history.value.done.length;
    const seen = numberAt(session, { sheet: "route", row: "dry", column: "known_rate" }) ?? 0;
    planWhatWasSeen(session);
    await settled();
    expect(session.history.value.done.length).toBe(steps + 1);
    expect(session.value({ sheet: "route", row: "dry", column: "loss" })).toBeCloseTo(seen, 4);
    // Refire has nothing planned and nothing lost: two entered it.
    expect(session.value({ sheet: "route", row: "refire", column: "loss" })).toBe(0);
    session.undo();
    await settled();
    expect(session.book.value.sheets).toEqual(before.sheets);
  });

  test("accounts and what references begin with are kept in the document and can be undone", () => {
    setAccount(session, "energy", "code", " 6100 ");
    setAccount(session, "energy", "name", "Power");
    setJournalReference(session, "MAR");
    expect(session.book.value.meta.accounts).toEqual({ energy: "Power", "energy.code": "6100" });
    expect(session.book.value.meta.journal).toEqual({ date: "2026-11-25", reference: "MAR" });
    setAccount(session, "energy", "code", "");
    setAccount(session, "energy", "name", "Kiln energy applied");
    expect(session.book.value.meta.accounts).toEqual({});
    session.undo();
    session.undo();
    session.undo();
    session.undo();
    session.undo();
    expect(session.book.value.meta.accounts).toBeUndefined();
    session.close();
  });
});

describe("an edition of which nothing is known yet", () => {
  test("is told from the plan, without a number that is none", async () => {
    const { session, settled } = openSession(smallEdition(3));
    await settled();
    const [piece, loss] = sentencesOf(session);
    expect(textOf(piece?.parts ?? [])).toMatch(/^No piece has been passed as good yet\. The plan says €/);
    expect(textOf(loss?.parts ?? [])).toBe("Nothing has been lost so far of 3 pieces started.");
    expect(tiersOf(session)).toEqual([]);
    planWhatWasSeen(session);
    expect(session.notices.value.at(-1)?.text).toBe("Nothing has been seen yet: no piece has entered a step.");
    session.close();
  });

  test("a step at which every piece was lost is not made a plan", async () => {
    const seen: readonly Typed[] = [
      ["route", "cast", "seen_entered", "4"],
      ["route", "cast", "seen_lost", "4"],
      ["route", "fettle", "seen_entered", "8"],
      ["route", "fettle", "seen_lost", "1"],
    ];
    const { session, settled } = openSession(afterTyping(smallEdition(3), seen));
    await settled();
    planWhatWasSeen(session);
    expect(session.value({ sheet: "route", row: "cast", column: "loss" })).toBe(0.05);
    expect(session.value({ sheet: "route", row: "fettle", column: "loss" })).toBe(0.125);
    expect(session.notices.value.at(-1)?.details[0]).toMatch(/^Cast: every piece so far was lost there/);
    session.close();
  });
});

describe("bad input gets a clear answer", () => {
  const book = smallEdition(3);

  test("a loss of everything and a certainty of everything are refused, with what is allowed", () => {
    expect(refusal(book, ["route", "cast", "loss", "100"])).toMatch(/below 100/);
    expect(refusal(book, ["edition", "confidence", "value", "100"])).toMatch(/below 100/);
    expect(refusal(book, ["edition", "wanted_margin", "value", "100"])).toMatch(/below 100/);
    expect(refusal(book, ["route", "cast", "seen_lost", "1.5"])).toMatch(/whole/);
  });

  test("nothing wanted starts nothing and divides by nothing", () => {
    const none = afterTyping(book, [["edition", "wanted", "value", "0"]]);
    const read = evaluate(none);
    expect(errorsOf(none, read)).toEqual([]);
    expect(read("edition", "starts", "value")).toBe(0);
    expect(read("edition", "plan_cost", "value")).toBe(0);
    expect(read("edition", "plan_per_delivered", "value")).toBe("");
  });

  test("more lost than entered says so where it was typed, and nowhere as a number", () => {
    const odd = afterTyping(book, [
      ["route", "cast", "seen_entered", "3"],
      ["route", "cast", "seen_lost", "5"],
    ]);
    const errors = errorsOf(odd, evaluate(odd));
    expect(errors.find((text) => text.startsWith("route cast known_low"))).toMatch(/found 5/);
  });

  test("a price below its own fees is told of, and no number of pieces pays", async () => {
    const sold = afterTyping(smallEdition(2), [
      ["pieces", "p1", "cast.slip", "900"],
      ["pieces", "p1", "grade", "good"],
      ["edition", "price_standard", "value", "2"],
      ["edition", "packing", "value", "6"],
    ]);
    const { session, settled } = openSession(sold);
    await settled();
    expect(textOf(cautionsOf(session)[0]?.parts ?? [])).toMatch(
      /^The standard price of €\u00a02\.00 is below its own tax, fees and packing: each sale would cost €\u00a0\d/,
    );
    expect(session.result("break_even")).toBe("never");
    expect(textOf(sentencesOf(session)[2]?.parts ?? [])).toMatch(/No number of pieces would pay/);
    session.close();
  });

  // ISO 4217: the yen has no minor unit, the Kuwaiti dinar a thousandth.
  test.each([
    ["JPY", /¥\u00a0[\d\u202f]+$/],
    ["KWD", /KWD\u00a0[\d\u202f]+\.\d{3}$/],
  ])("%s is shown in its own digits", async (currency, form) => {
    const { session, settled } = openSession(applyChange(book, editMeta(book, { currency }, "currency")));
    await settled();
    const part = sentencesOf(session)[0]?.parts.find((one) => typeof one !== "string");
    expect(typeof part === "object" ? part.text : "").toMatch(form);
    session.close();
  });
});
