// Editions side by side: the measures of the demo and its sister by plain loops over their sheets, currencies apart, what can't
// be told of named, reading stopped.
import { describe, expect, test } from "vitest";
import { demoEdition } from "../../../src/app/demo/demo";
import { sisterEdition } from "../../../src/app/demo/sister";
import {
  groupsOf,
  inSideOrder,
  type MeasuredEdition,
  measureOthers,
  othersMeasuredOf,
  sideBySide,
  sideColumns,
  sideRows,
} from "../../../src/app/shelf/edition-comparison";
import { addedSums, EDITION_MEASURES, editionSums } from "../../../src/app/shelf/edition-measures";
import type { Workbook } from "../../../src/core/document/workbook";
import { Engine } from "../../../src/engine/engine";
import { isCellError, type Patch } from "../../../src/engine/values";
import { NOT_YET_STORED } from "../../../src/storage/edition-store";
import { evaluate } from "../../tools/evaluate";
import { recompute } from "../../tools/independent";
import { Device } from "../../tools/open-studio";
import { afterTyping } from "../../tools/small-edition";

const TODAY = "2026-11-25";
const measure = (id: string) => EDITION_MEASURES.find((one) => one.id === id) ?? EDITION_MEASURES[0];

function sumsOf(book: Workbook) {
  const sums = editionSums(book, evaluate(book), TODAY);
  if (!sums) throw new Error("nothing was calculated");
  return sums;
}

/** The sister with four of its beakers passed as good. */
function finishedSister(): Workbook {
  const sister = sisterEdition();
  const waiting = sister.sheets.pieces.rows.filter(({ cells }) => cells.lost_at === undefined).slice(0, 4);
  return afterTyping(
    sister,
    waiting.map(({ id }) => ["pieces", id, "grade", "good"] as const),
  );
}

describe.each([
  ["Marram", demoEdition()],
  ["Samphire", finishedSister()],
])("%s", (_, book) => {
  test("every measure is what plain loops over its sheets give", () => {
    const sums = sumsOf(book);
    const own = recompute(book);
    const line = (id: string) => Number(own.results.get(id)?.value);
    const pieces = [...own.pieces.values()];
    const good = pieces.filter(({ outcome }) => outcome === "good");
    const add = (rows: Iterable<Readonly<Record<string, unknown>>>, key: string) => {
      let sum = 0;
      for (const row of rows) if (typeof row[key] === "number") sum += Number(row[key]);
      return sum;
    };
    const kwh = add(own.firings.values(), "kwh_here");
    const expected = {
      ...{ started: book.sheets.pieces.rows.length, good: good.length, yield: line("final_yield") * 100 },
      ...{ cost: add(good, "full") / good.length, pays: line("pays") },
      ...{ margin: (line("pays") / add(pieces, "net")) * 100, hour: line("pays") / line("hours") },
      ...{ kwh: kwh / good.length, grams: add(own.route.values(), "grams_used") / good.length },
      fine: add(own.route.values(), "fine_used") / good.length,
    };
    for (const [id, value] of Object.entries(expected)) expect(measure(id)?.of(sums), id).toBeCloseTo(value, 9);
  });

  test("age of stock counts from the day on which a piece was recorded as passed", () => {
    const passed = book.sheets.pieces.rows
      .filter(({ cells }) => cells.grade !== undefined && !cells.lost_at)
      .slice(0, 2);
    const entry = (id: string, at: string, row: string) => ({
      ...{ id, at, act: "passed", label: "passed", pieces: [row] },
      writes: [{ sheet: "pieces" as const, row, column: "grade", is: "good" }],
    });
    const log = [
      entry("x1", "2026-11-15T12:00:00.000Z", passed[0]?.id ?? ""),
      entry("x2", "2026-11-21T12:00:00.000Z", passed[1]?.id ?? ""),
    ];
    const sums = sumsOf({ ...book, lists: { ...book.lists, log } });
    expect([sums.agedPieces, measure("age")?.of(sums)]).toEqual([2, 7]);
    expect(measure("age")?.of(sumsOf({ ...book, lists: { ...book.lists, log: [] } }))).toBeUndefined();
  });
});

const marram = sumsOf(demoEdition());
const edition = (id: string, more: Partial<MeasuredEdition> = {}): MeasuredEdition => ({
  ...{ id, title: id, currency: "EUR", began: "2026-01-01", isInvented: false, isOpen: false },
  ...{ sums: marram, why: undefined, ...more },
});

test("of an edition with nothing finished what goes by good pieces is not known, and not 0", () => {
  const sums = sumsOf(sisterEdition());
  const known = EDITION_MEASURES.filter(({ of }) => of(sums) !== undefined).map(({ id }) => id);
  expect(known).toEqual(["started", "good", "pays", "hour"]);
});

describe("several editions", () => {
  test("together are the ratio of their sums; a yield of several is not made up", () => {
    const half = { ...marram, good: marram.good / 2, kwh: marram.kwh * 3 };
    const both = addedSums([marram, half]);
    expect(measure("kwh")?.of(both)).toBeCloseTo((marram.kwh * 4) / (marram.good * 1.5), 12);
    expect(both.yield).toBeUndefined();
    expect(addedSums([marram]).yield).toBe(marram.yield);
  });

  test("of two currencies are never added; the open edition's comes first", () => {
    const found = groupsOf(edition("a", { currency: "GBP", isOpen: true }), [edition("b"), edition("c")]);
    expect(found.groups.map(({ currency, editions }) => [currency, editions.length])).toEqual([
      ["GBP", 1],
      ["EUR", 2],
    ]);
    expect(found.groups[1]?.together.pays).toBeCloseTo(2 * marram.pays, 9);
  });

  test("invented ones are left out beside the studio's own, and those without values are named, not 0", () => {
    const found = groupsOf(edition("a"), [
      edition("b", { isInvented: true }),
      edition("c", { sums: undefined, why: "never calculated here" }),
    ]);
    expect([found.groups[0]?.editions.length, found.invented]).toEqual([1, 1]);
    expect(found.leftOut.map(({ id }) => id)).toEqual(["c"]);
  });

  test("are ordered by any measure, unknown ones last either way; the file has them so", () => {
    const few = edition("few", { sums: { ...marram, good: 1 } });
    const none = edition("none", { sums: { ...marram, good: 0 } });
    const order = (isDown: boolean) =>
      inSideOrder([none, edition("all"), few], { by: "kwh", isDown }).map(({ id }) => id);
    expect([order(true), order(false)]).toEqual([
      ["few", "all", "none"],
      ["all", "few", "none"],
    ]);
    const rows = sideRows(groupsOf(none, [few]), { by: "title", isDown: false });
    expect(rows.map(([title]) => title)).toEqual(["few", "none"]);
    expect(rows.every((row) => row.length === sideColumns.length)).toBe(true);
  });
});

/** Values as programs up to 29 November 2026 stored them. */
const earlierStored = ({ columns, others }: Patch) => ({
  columns: columns.map(({ values: { rows, ...more }, ...column }) => ({
    ...column,
    values: { places: rows, ...more },
  })),
  others: others.map((value) => {
    if (!isCellError(value)) return value;
    const { title, ...more } = value;
    return { trouble: title, ...more };
  }),
});

describe("kept editions", () => {
  test("that an earlier program stored have their sums, and open with their values", async () => {
    const tab = new Device().openTab();
    const { studio } = tab;
    await studio.openNew(demoEdition());
    if (!studio.session.value) throw new Error("nothing is open");
    const { rows } = sisterEdition().sheets.pieces;
    const sister = afterTyping(sisterEdition(), [["pieces", rows[0]?.id ?? "", "own", "=1/0"]], true);
    const values = earlierStored(new Engine(sister).values());
    expect(values.others.some((value) => value !== null && typeof value === "object")).toBe(true);
    await tab.home.editions.write("s1", { book: sister, updatedAt: TODAY, values }, NOT_YET_STORED);
    await measureOthers(studio, studio.session.value, new AbortController().signal);
    const all = sideBySide(studio.session.value).groups.flatMap(({ editions }) => editions);
    const read = evaluate(sister);
    expect(all.find(({ id }) => id === "s1")?.sums).toEqual(editionSums(sister, read, studio.session.value.today()));
    await studio.openStored("s1");
    const { session } = studio;
    for (const { id } of rows)
      expect(session.value?.value({ sheet: "pieces", row: id, column: "own" }), id).toEqual(read("pieces", id, "own"));
  });

  test("are read as stored; one that was never calculated is named; reading can be stopped", async () => {
    const tab = new Device().openTab();
    const { studio } = tab;
    await studio.openNew(demoEdition());
    const { session } = studio;
    if (!session.value) throw new Error("nothing is open");
    const keep = (id: string, book: Workbook, values?: unknown) =>
      tab.home.editions.write(id, { book, updatedAt: TODAY, ...(values ? { values } : {}) }, NOT_YET_STORED);
    const sister = sisterEdition();
    await keep("s1", sister, new Engine(sister).values());
    await keep("s2", { ...sister, meta: { ...sister.meta, title: "Glasswort" } });
    await measureOthers(studio, session.value, new AbortController().signal);
    const found = sideBySide(session.value);
    const samphire = found.groups.flatMap(({ editions }) => editions).find(({ id }) => id === "s1");
    expect(samphire?.sums).toEqual(editionSums(sister, evaluate(sister), session.value.today()));
    expect(found.leftOut.map(({ title, why }) => [title, why])).toContainEqual([
      "Glasswort",
      "never calculated here: open it once",
    ]);
    const stop = new AbortController();
    stop.abort();
    await measureOthers(studio, session.value, stop.signal);
    expect(othersMeasuredOf(session.value).value).toMatchObject({ done: 0, of: 2, isStopped: true, editions: [] });
  });
});
