// Prices in an open edition: typed without tax, a rate for a tier and a channel, a one-off's own price, points, the plan's average.
import { describe, expect, test } from "vitest";
import { demoEdition } from "../../../src/app/demo/demo";
import { averageWords } from "../../../src/app/plan/plan-answer";
import { planAsked, recordPieces } from "../../../src/app/record/record";
import { pricesToPay } from "../../../src/app/record/sales";
import { priceKey, rescueTable, usualTerms } from "../../../src/app/rescue/rescue";
import { askedOfWay } from "../../../src/app/rescue/rescue-choose";
import { otherWay, pointAbove, pricesTyped } from "../../../src/app/settle/price-words";
import { rowOf } from "../../../src/core/document/access";
import { must } from "../../accounts/results";
import { openSession } from "../../tools/open-session";
import { afterTyping } from "../../tools/small-edition";

const plain = (text: string) => text.replace(/[\u00a0\u202f]/g, " ");
const net = afterTyping(demoEdition(), [
  ["edition", "prices_are", "value", "without tax"],
  ["edition", "tax_special", "value", "10"],
  ["edition", "price_points", "value", "ends in .90"],
  ["channels", "c1", "tax_rate", "7"],
]);
const channel = String(net.sheets.channels.rows[0]?.cells.id);

describe("typed without tax", () => {
  const { session, settled } = openSession(net);
  const paid = (id: string, typed?: number, of?: string) => pricesToPay(session, [id], typed, of).get(id);

  test("what the buyer pays goes by the channel's rate, else by the tier's", async () => {
    await settled();
    expect(pricesTyped(session)).toBe("without tax");
    expect(paid("p2")).toEqual({ gross: 250.8, net: 228 });
    expect(paid("p2", undefined, channel)).toEqual({ gross: 243.96, net: 228 });
    expect(paid("p1", 100)).toEqual({ gross: 120, net: 100 });
    expect(paid("p1", Number.NaN)?.gross).toBeNaN();
    expect(plain(otherWay(session, "special", 100))).toBe("€ 110.00 with tax");
  });

  test("a price that was found goes up to the next point, and only a price does", () => {
    const line = (row: string) => ({ sheet: "edition", row, column: "value" }) as const;
    expect(pointAbove(session, line("price_standard"), 91.2)).toBe(91.9);
    expect(pointAbove(session, line("price_standard"), 91.9)).toBeUndefined();
    expect(pointAbove(session, line("wage"), 91.2)).toBeUndefined();
  });

  test("a rescued piece is weighed and recorded at a price of its own, other pieces are not", () => {
    const [piece, other] = ["p112", "p113"];
    const terms = { ...usualTerms(session), prices: { [priceKey([piece], "second")]: 90 } };
    const table = must(rescueTable(session, [piece], terms));
    expect(table.prices.get("second")).toEqual({ tier: "second", price: 90, isOwn: true });
    expect(askedOfWay(table, "second")).toEqual({ kind: "passed", grade: "second", price: 90 });
    expect(askedOfWay(must(rescueTable(session, [other], terms)), "second")).toMatchObject({ price: "of its grade" });
  });

  test("a price of its own is said as a piece is passed, or once it is; one that can't be read is refused", async () => {
    const passed = (price: number) => ({ kind: "passed", grade: "second", price }) as const;
    expect(recordPieces(session, ["p112"], passed(90))).toBe(true);
    expect(recordPieces(session, ["p112"], passed(95))).toBe(true);
    await settled();
    expect(rowOf(session.book.value, "pieces", "p112")?.cells).toMatchObject({ grade: "second", own_price: 95 });
    expect(paid("p112")).toEqual({ gross: 114, net: 95 });
    expect(must(planAsked(session, ["p112"], passed(95))).leftOut[0]?.says).toBe("passed as second already");
    expect(planAsked(session, ["p112"], passed(Number.NaN)).ok).toBe(false);
  });
});

test("the plan says what the average beside the cost of a good piece is", async () => {
  const { session, settled } = openSession(demoEdition());
  await settled();
  const words = averageWords(session, true).map((part) => (typeof part === "string" ? part : part.text));
  expect(plain(words.join(""))).toBe(
    "“Plan” beside the cost of a good piece, € 32.50, is an average, of the plan that was kept: planned cost ÷ 127.6 good pieces to expect, with pieces of both tiers and every load that has to be fired.",
  );
});
