// Sales in an open edition: what the page says, what the figures and the papers make of it, and sales from a CSV.
import { describe, expect, test } from "vitest";
import { demoEdition } from "../../../src/app/demo/demo";
import { figuresOf } from "../../../src/app/edition/figures";
import { planAsked, recordPieces } from "../../../src/app/record/record";
import { pricesToPay, stockGroups } from "../../../src/app/record/sales";
import { accountantPack } from "../../../src/app/settle/accountant-pack";
import { settle } from "../../../src/app/settle/settle";
import { type StoryNumber, sentencesOf } from "../../../src/app/settle/story";
import { applyChange } from "../../../src/core/document/change";
import type { SaleAsked } from "../../../src/core/record/sale-edits";
import { planImport } from "../../../src/csv/plan";
import { readSheetCsv } from "../../../src/csv/read";
import { must } from "../../accounts/results";
import { checkCsvw } from "../../csv/csvw";
import { compareSheets } from "../../tools/compare-sheets";
import { evaluate } from "../../tools/evaluate";
import { openSession } from "../../tools/open-session";
import { afterTyping } from "../../tools/small-edition";

const textOf = (parts: readonly (string | StoryNumber)[]) =>
  parts.map((part) => (typeof part === "string" ? part : part.text)).join("");
const TERMS = { from: "2026-09-01", to: "2026-11-25", reference: "MAR" };

describe("Marram at a fair", () => {
  const { session, settled } = openSession(demoEdition());
  const paidFor = (pieces: readonly string[], typed: number | undefined, channel?: string) =>
    new Map([...pricesToPay(session, pieces, typed, channel)].map(([id, { gross }]) => [id, gross]));
  const sell = (pieces: readonly string[], more: Partial<SaleAsked> = {}): SaleAsked => ({
    ...{ kind: "sale", became: "sold", day: "2026-11-24", today: "2026-11-25", paid: paidFor(pieces, undefined) },
    ...more,
  });
  const pays = () => textOf(sentencesOf(session)[2]?.parts ?? []);

  test("before anything is sold it says so, and what the stock may bring", async () => {
    await settled();
    expect(pays()).toMatch(/^Nothing has been sold yet\. 75 finished pieces are in stock, carried at /);
    expect(figuresOf(session).map(({ id }) => id)).not.toContain("earned");
    expect(stockGroups(session).map(({ name, pieces }) => [name, pieces.length])).toEqual([
      ["In stock, standard", 63],
      ["In stock, special", 11],
      ["In stock, seconds", 1],
    ]);
  });

  test("the plan says what a sale brings under the terms of its channel before it is recorded", () => {
    const plan = must(
      planAsked(
        session,
        ["p1"],
        sell(["p1"], { paid: paidFor(["p1"], 120), channel: { kind: "there", name: "Tidemark gallery" } }),
      ),
    );
    // 120 at 20 % tax is 100, of which the gallery keeps 40; packing costs 3.
    expect(plan.says.at(-1)).toMatch(
      /^Together €\s120\.00, with €\s20\.00 of tax in it\. After tax, fees and packing €\s57\.00; the pieces cost/,
    );
  });

  test("figures and story then speak of what was sold, and of the stock beside it", async () => {
    const gallery = { kind: "there", name: "Tidemark gallery" } as const;
    recordPieces(session, ["p1", "p2", "p3"], sell(["p1", "p2", "p3"]));
    recordPieces(session, ["p4", "p6"], sell(["p4", "p6"], { became: "consigned", channel: gallery }));
    recordPieces(session, ["p7"], sell(["p7"], { became: "broken" }));
    await settled();
    expect(pays()).toMatch(/^Not yet: on what was sold it is €\s[\d.\s]+ short\. 3 sold for €/);
    expect(pays()).toContain("; 1 given away, kept or broken had cost ");
    expect(pays()).toContain(" 71 finished pieces are in stock");
    expect(figuresOf(session).map(({ id }) => id)).toEqual(expect.arrayContaining(["sold", "earned", "pays"]));
    expect(stockGroups(session).map(({ name, pieces }) => [name, pieces.length])).toContainEqual([
      "Consigned, Tidemark gallery",
      2,
    ]);
  });

  test("the sheets agree with plain loops, the papers with the sheets, and every table of the pack with its description", () => {
    const book = session.book.value;
    const read = evaluate(book);
    expect(compareSheets(book, read).differ).toEqual([]);
    const { inventory, sales } = must(settle(book, read));
    expect(inventory.lines.filter(({ group }) => group === "consigned").map(({ piece }) => piece)).toEqual([
      "004",
      "006",
    ]);
    expect(sales.map(({ piece, became }) => `${piece} ${became}`)).toEqual([
      ...["001 sold", "002 sold", "003 sold", "004 consigned", "006 consigned", "007 broken"],
    ]);
    const files = must(accountantPack(book, read, TERMS, { delimiter: ",", decimal: ".", hasMark: false })).files;
    expect(checkCsvw(JSON.parse(files["csv-metadata.json"] ?? "{}"), files)).toEqual([]);
    expect(files["sales.csv"]?.split("\r\n")[1]).toMatch(/^001,sold,2026-11-24,,,[\d.]+,124\.00,103\.33,20\.67,/);
  });
});

test("a piece that is said to be sold and is not finished holds the papers back, by name", () => {
  const book = afterTyping(demoEdition(), [["pieces", "p141", "became", "sold"]]);
  const read = evaluate(book);
  expect(read("pieces", "p141", "stock")).toBe("not finished");
  expect(read("results", "sold", "value")).toBe(0);
  const result = settle(book, read);
  expect(result.ok ? "" : result.problems[0]?.message).toContain("Piece 141: found “sold, and not finished”");
});

test("sales come in from a CSV by piece number; a channel that is not there is refused with its line", () => {
  const book = demoEdition();
  const text = [
    "Piece,what became of it,on the day,channel,price paid (EUR),document",
    "001,sold,2026-11-20,Harbour fair,186,R-12",
    "002,sold,2026-11-21,Moon market,150,",
    "003,given away,2026-11-21,,,",
  ].join("\r\n");
  const plan = planImport(book, "pieces", readSheetCsv(text));
  expect(plan.questions).toEqual([]);
  const { rows } = applyChange(book, plan.change).sheets.pieces;
  expect(rows[0]?.cells).toMatchObject({
    ...{ became: "sold", became_on: "2026-11-20", channel: "Harbour fair", paid: 186, document: "R-12" },
  });
  expect(rows[2]?.cells).toMatchObject({ became: "given away", became_on: "2026-11-21" });
  expect(rows[1]?.cells.channel).toBeUndefined();
  expect(JSON.stringify(plan)).toContain("Moon market");
});
