// What an edition counted and measured, held to the engine's own counts, and to sums by hand.
import { describe, expect, test } from "vitest";
import { demoEdition } from "../../../src/app/demo/demo";
import { readDocument } from "../../../src/core/document/document-file";
import type { Raw, SeenStep, Workbook } from "../../../src/core/document/workbook";
import { writeDocument } from "../../../src/core/document/write-document";
import { seenBefore, seenIn, seenUntilNow } from "../../../src/core/steps/seen";
import { demoSession } from "../../tools/demo-session";

const { session } = demoSession();
const stepOf = (book: Workbook, step: string): SeenStep | undefined =>
  seenIn(book).steps.find((one) => one.step === step);

/** The demo with some cells of one sheet replaced; undefined blanks one. */
function withCells(
  book: Workbook,
  sheet: "pieces" | "route",
  row: string,
  cells: Readonly<Record<string, Raw | undefined>>,
): Workbook {
  const rows = book.sheets[sheet].rows.map((one) =>
    one.id === row
      ? {
          ...one,
          cells: Object.fromEntries(
            Object.entries({ ...one.cells, ...cells }).filter(
              (entry): entry is [string, Raw] => entry[1] !== undefined,
            ),
          ),
        }
      : one,
  );
  return { ...book, sheets: { ...book.sheets, [sheet]: { ...book.sheets[sheet], rows } } };
}

describe("what an edition has seen", () => {
  test("is what its Route sheet counts, at every step", () => {
    const book = session.book.value;
    const counted = book.sheets.route.rows.map(({ id }) => {
      const at = (column: string) => session.value({ sheet: "route", row: id, column });
      return [id, at("entered"), at("lost")];
    });
    const seen = book.sheets.route.rows.map(({ id }) => {
      const step = stepOf(book, id);
      return [id, step?.entered ?? 0, step?.lost ?? 0];
    });
    expect(seen).toEqual(counted);
    expect(counted.some(([, , lost]) => Number(lost) > 0)).toBe(true);
  });

  test("pieces that came to a step as needed are those that the Route says may have needed it", () => {
    const book = session.book.value;
    for (const { id, cells } of book.sheets.route.rows.filter((row) => row.cells.who === "as needed")) {
      expect(stepOf(book, id)?.needed?.came, String(cells.title)).toBe(
        session.value({ sheet: "route", row: id, column: "come_needed" }),
      );
    }
  });

  test("minutes and slip are the mean of what was entered, with its spread", () => {
    const minutes = session.book.value.sheets.pieces.rows.flatMap(({ cells }) =>
      typeof cells["fettle.minutes"] === "number" ? [cells["fettle.minutes"]] : [],
    );
    const mean = minutes.reduce((sum, one) => sum + one, 0) / minutes.length;
    const square = minutes.reduce((sum, one) => sum + (one - mean) ** 2, 0) / (minutes.length - 1);
    const seen = stepOf(session.book.value, "fettle")?.amounts.minutes;
    expect(seen?.count).toBe(minutes.length);
    expect(seen?.mean).toBeCloseTo(mean, 12);
    expect(seen?.sd).toBeCloseTo(Math.sqrt(square), 12);
    expect(Object.keys(stepOf(session.book.value, "cast")?.amounts ?? {})).toEqual(["grams"]);
  });

  test("an area of a piece's own is averaged with the Route's for the others", () => {
    const book = demoEdition();
    const had = book.sheets.pieces.rows.filter(({ cells, id }) => cells["glaze.coats"] !== undefined && id !== "");
    const first = had[0];
    const planned = Number(book.sheets.route.rows.find(({ id }) => id === "glaze")?.cells.area);
    expect(stepOf(book, "glaze")?.amounts.area).toBeUndefined();
    const own = withCells(book, "pieces", first?.id ?? "", { "glaze.area": planned + 100 });
    const seen = stepOf(own, "glaze")?.amounts.area;
    expect(seen?.mean).toBeCloseTo(planned + 100 / (seen?.count ?? 0), 9);
  });

  test("grams that were weighed say how much is used for each gram on the piece", () => {
    const book = demoEdition();
    const route = book.sheets.route.rows.find(({ id }) => id === "glaze")?.cells ?? {};
    const piece = book.sheets.pieces.rows.find(({ cells }) => cells["glaze.coats"] !== undefined);
    const onPiece = Number(route.area) * Number(piece?.cells["glaze.coats"]) * Number(route.laydown);
    const weighed = withCells(book, "pieces", piece?.id ?? "", { "glaze.used": onPiece * 2 });
    expect(stepOf(weighed, "glaze")?.amounts.usage).toEqual({ count: 1, mean: 2, sd: 0 });
    expect(stepOf(book, "glaze")?.amounts.usage).toBeUndefined();
  });
});

describe("earlier editions", () => {
  test("counts on the Route that no edition accounts for were counted by hand", () => {
    const before = seenBefore(demoEdition());
    expect(before.map(({ title }) => title)).toEqual(["Counted before"]);
    expect(before[0]?.steps.find(({ step }) => step === "cast")).toMatchObject({ entered: 64, lost: 2, amounts: {} });
  });

  test("what the maker corrects on the Route stands in the place of what editions counted", () => {
    const step = { step: "cast", kind: "cast", title: "Cast", entered: 100, lost: 9, amounts: {} } as const;
    const book = { ...demoEdition(), seen: [{ title: "Tide", started: "", steps: [step] }] };
    // 64 entered and 2 lost by the sheet: less than the 100 and 9 of the edition.
    const losses = seenBefore(book).flatMap(({ steps }) => steps.filter((one) => one.step === "cast"));
    expect(losses.map(({ entered, lost }) => [entered, lost])).toEqual([
      [0, 0],
      [64, 2],
    ]);
  });

  test("are kept with the document", () => {
    const book: Workbook = { ...demoEdition(), seen: seenUntilNow(demoEdition()) };
    const read = readDocument(writeDocument(book), "next");
    expect(read.ok && read.value.seen).toEqual(book.seen);
  });

  test("that are none are refused, with the place", () => {
    const text = JSON.stringify({ ...JSON.parse(writeDocument(demoEdition())), seen: [{ title: "x" }] });
    const read = readDocument(text, "next");
    expect(!read.ok && read.problems.map(({ where }) => where).join(" ")).toContain("seen");
  });
});
