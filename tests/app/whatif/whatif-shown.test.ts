// Answers as words, tables, files and pictures.
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import type { Session } from "../../../src/app/edition/session";
import type { AnswerBase, AnswerOf } from "../../../src/app/whatif/whatif-answers";
import {
  type AskCell,
  askCell,
  differenceText,
  fieldText,
  findInputs,
  findResults,
  lineCell,
  lossCell,
  readField,
  USUAL,
  valueText,
} from "../../../src/app/whatif/whatif-cells";
import { answerCsv } from "../../../src/app/whatif/whatif-export";
import { breakEvenPicture, chancePicture, curvesOf, rankingPicture } from "../../../src/app/whatif/whatif-pictures";
import { niceStep, sliderStep, within } from "../../../src/app/whatif/whatif-ranges";
import { stillThere, usualSettings } from "../../../src/app/whatif/whatif-settings";
import { crossingText, tablesOf } from "../../../src/app/whatif/whatif-tables";
import { type CellName, cellKeyOf } from "../../../src/core/document/access";
import { applyChange } from "../../../src/core/document/change";
import { editMeta, removeRows } from "../../../src/core/document/edits";
import type { Chance } from "../../../src/whatif/questions/chance";
import { openSession } from "../../tools/open-session";
import { afterTyping, smallEdition } from "../../tools/small-edition";

let session: Session;
beforeAll(async () => {
  const opened = openSession(smallEdition());
  session = opened.session;
  await opened.settled();
});
afterAll(() => session.close());

const of = (cell: CellName): AskCell => {
  const found = askCell(session.book.value, cell);
  if (!found) throw new Error(`no ${cell.row}`);
  return found;
};
const loss = () => of(lossCell("firing"));
const perGood = () => of(lineCell("edition", "plan_per_good"));
const starts = () => of(lineCell("edition", "starts"));
const answerBase = (): AnswerBase => ({
  results: [perGood(), starts()],
  today: Float64Array.of(20, 49),
  tried: Float64Array.of(22.5, 55),
  how: { kind: "compiled" },
  gaps: [],
});

describe("what can be asked", () => {
  test("usual inputs come first, each once; then every number of every sheet", () => {
    const all = findInputs(session.book.value, "", 10_000);
    expect(all.slice(0, 3).map(({ title }) => title)).toEqual([
      "Cast: planned loss",
      "Fettle: planned loss",
      "Bisque: planned loss",
    ]);
    expect(all.filter(({ group }) => group === USUAL).map(({ title }) => title)).toContain("Gold: pack price");
    expect(new Set(all.map(({ cell }) => cellKeyOf(cell))).size).toBe(all.length);
    const groups = [...new Set(all.map(({ group }) => group))];
    expect(groups).toEqual([USUAL, "Edition", "Route", "Materials", "Kilns", "Programmes", "Firings", "Pieces"]);
    // A cast takes no coats, and what is calculated is no input, but for the starts.
    expect(all.some(({ title }) => title === "Cast: coats")).toBe(false);
    expect(all.filter(({ spec }) => spec.kind === "computed").map(({ title }) => title)).toEqual(["Pieces to start"]);
  });

  test("is found by words, in any order, also by the sheet", () => {
    const titles = (words: string) => findInputs(session.book.value, words, 50).map(({ title }) => title);
    expect(titles("loss glaze")).toEqual(["Glaze: planned loss", "Glaze firing: planned loss"]);
    expect(titles("kilns wear")).toEqual(["Small: wear a firing", "Large: wear a firing"]);
    expect(titles("nothing of that name")).toEqual([]);
    expect(findInputs(session.book.value, "", 7)).toHaveLength(7);
    const [first] = findResults(session.book.value, "");
    expect(first?.title).toBe("Planned cost of a good piece");
    expect(findResults(session.book.value, "kiln energy").map(({ title }) => title)).toEqual([
      "Planned kiln energy",
      "Kiln energy",
    ]);
  });

  test("is shown as its cell is, and read by its rules", () => {
    expect(valueText(session, loss(), 0.125)).toBe("12.5\u202f%");
    expect(valueText(session, perGood(), 1234.5)).toBe("€\u00a01\u202f234.50");
    expect(valueText(session, perGood(), Number.NaN)).toBe("–");
    expect(differenceText(session, loss(), -0.02)).toBe("\u22122\u00a0points");
    expect(differenceText(session, perGood(), 2.5)).toBe("+2.50");
    expect(differenceText(session, perGood(), 0.001)).toBe("–");
    expect(fieldText(session, loss(), 0.125)).toBe("12.5");
    expect(readField(session, loss(), "12.5 %")).toEqual({ ok: true, value: 0.125 });
    expect(readField(session, loss(), "100")).toMatchObject({ ok: false, problems: [{ code: "entry.range" }] });
    expect(readField(session, loss(), "=1/8")).toMatchObject({ ok: false, problems: [{ code: "whatif.number" }] });
    expect(readField(session, starts(), "50.5")).toMatchObject({ ok: false });
    expect(readField(session, starts(), "")).toMatchObject({ ok: false });
  });

  test("temperatures are asked in the maker's degrees", () => {
    const book = applyChange(session.book.value, editMeta(session.book.value, { temperature: "F" }, "°F"));
    const [row] = book.sheets.programmes.rows;
    const peak = askCell(book, { sheet: "programmes", row: row?.id ?? "", column: "celsius" });
    expect([peak?.unit, peak?.scale?.toShown(100)]).toEqual(["°F", 212]);
    if (peak) expect(differenceText(session, peak, 50)).toBe("+90");
  });

  test("no longer asks what an edition has no more", () => {
    const book = session.book.value;
    const settings = {
      ...usualSettings(book),
      ranked: [lossCell("firing"), lossCell("gone")],
      aim: lineCell("edition", "gone"),
    };
    const kept = stillThere(book, { ...settings, sweep: { input: lossCell("gone"), low: 0 } });
    expect(kept.ranked).toEqual([lossCell("firing")]);
    expect(kept.aim).toEqual(lineCell("edition", "plan_pays"));
    expect(kept.sweep).toEqual({ input: lineCell("edition", "wanted") });
  });

  test("an edition without the plan's money is still asked", () => {
    let book = session.book.value;
    for (const id of ["plan_brings", "plan_pays", "plan_margin", "plan_per_good"]) {
      const removed = removeRows(book, "edition", [id], "");
      if (removed.ok) book = applyChange(book, removed.value);
    }
    const settings = usualSettings(book);
    expect(settings.results).toEqual([lineCell("edition", "starts")]);
    expect(settings.aim).toEqual(lineCell("results", "pays"));
  });
});

describe("sliders", () => {
  test("go in round steps, whole where pieces are counted", () => {
    expect([niceStep(0.0025), niceStep(7), niceStep(30), niceStep(1)]).toEqual([0.002, 5, 20, 1]);
    expect(sliderStep(loss(), 0, 0.25)).toBe(0.002);
    expect(sliderStep(starts(), 40, 60)).toBe(1);
    expect(sliderStep(of(lineCell("edition", "wage")), 10, 30)).toBe(0.2);
  });

  test("keep within what a cell takes", () => {
    expect(within(loss(), -0.1, 1.2)).toEqual({ low: 0, high: 0.999 });
    expect(within(of(lineCell("edition", "wanted")), -3, 25_000.4)).toEqual({ low: 0, high: 20_000 });
  });
});

describe("tables and files", () => {
  const sweep = {
    values: Float64Array.of(0, 0.1),
    outputs: [Float64Array.of(20, Number.NaN), Float64Array.of(49, 55)],
    gaps: [],
  };

  test("a sweep as a table, and as CSV with every digit; a gap is a blank", () => {
    const found: AnswerOf<"sweep"> = {
      ...answerBase(),
      kind: "sweep",
      line: { of: loss(), sweep, today: 0.04, tried: 0.04 },
    };
    const [table] = tablesOf(session, found);
    expect(table?.columns).toEqual([
      "Glaze firing: planned loss",
      "Planned cost of a good piece, EUR",
      "Pieces to start, pieces",
    ]);
    expect(table?.rows.map((row) => row.map(({ text }) => text))).toEqual([
      ["0\u202f%", "20.00", "49"],
      ["10\u202f%", "–", "55"],
    ]);
    expect(answerCsv(table ? [table] : [])).toBe(
      'Glaze firing: planned loss,"Planned cost of a good piece, EUR","Pieces to start, pieces"\r\n0,20,49\r\n0.1,,55\r\n',
    );
  });

  test("a text that another program could run is guarded", () => {
    const text = answerCsv([
      {
        title: "=1+1",
        columns: ["=cmd|' /C calc'!A0", "@x"],
        rows: [
          [
            { text: "", value: "-2+3" },
            { text: "", value: -2.5 },
          ],
        ],
      },
    ]);
    expect(text).toBe("'=cmd|'' /C calc'!A0,'@x\r\n'-2+3,-2.5\r\n");
  });

  test("several inputs are one table with a column that says which; unlike tables a line a number", () => {
    const line = (step: string) => ({ of: of(lossCell(step)), sweep, today: 0, tried: 0 });
    const found: AnswerOf<"losses"> = { ...answerBase(), kind: "losses", lines: [line("bisque"), line("firing")] };
    expect(answerCsv(tablesOf(session, found)).split("\r\n").slice(0, 4)).toEqual([
      'Input,set to,"Planned cost of a good piece, EUR","Pieces to start, pieces"',
      "Bisque: planned loss,0,20,49",
      "Bisque: planned loss,0.1,,55",
      "Glaze firing: planned loss,0,20,49",
    ]);
    const cell = (value: number | string) => ({ text: "", value });
    const unlike = [
      { title: "A", columns: ["", "x"], rows: [[cell("r"), cell(1)]] },
      { title: "B", columns: ["", "y", "z"], rows: [[cell(7), cell(2), cell(3)]] },
    ];
    expect(answerCsv(unlike)).toBe("table,line,what,number\r\nA,r,x,1\r\nB,7,y,2\r\nB,7,z,3\r\n");
  });

  test("cases with their differences to today", () => {
    const settings = [{ cell: lossCell("firing"), value: 0.1 }];
    const found: AnswerOf<"cases"> = {
      ...answerBase(),
      kind: "cases",
      cases: [{ id: "c1", title: "Bad kiln", settings, values: [22.5, 49] }],
      inputs: new Map([[cellKeyOf(lossCell("firing")), loss()]]),
    };
    const [table] = tablesOf(session, found);
    expect(table?.columns).toEqual(["", "Today", "Bad kiln", "Bad kiln: against today"]);
    expect(table?.rows[0]?.map(({ text }) => text)).toEqual([
      "Planned cost of a good piece, EUR",
      "20.00",
      "22.50",
      "+2.50",
    ]);
    expect(table?.rows[1]?.at(-1)).toEqual({ text: "–", value: 0 });
  });

  test("what is met, in words", () => {
    const point = (x: number, y: number) => ({ x, y });
    const found = (crossings: AnswerOf<"breakEven">["found"]["crossings"]): AnswerOf<"breakEven"> => ({
      ...{ ...answerBase(), kind: "breakEven", of: loss(), aim: perGood(), target: 21, todayAt: 0.04 },
      found: { crossings, nearest: undefined, tried: [point(0, 20), point(0.2, 25)], hasMore: false },
    });
    const said = (crossing: AnswerOf<"breakEven">["found"]["crossings"][number]) =>
      crossingText(session, found([crossing]), crossing);
    expect(said({ kind: "met", at: point(0.123_44, 21) })).toBe("Glaze firing: planned loss 12.34\u202f%");
    expect(said({ kind: "stretch", from: point(0.1, 21), to: point(0.2, 21) })).toBe("from 10\u202f% to 20\u202f%");
    expect(said({ kind: "step", before: point(0.1, 20), after: point(0.1, 22) })).toBe(
      "between 10\u202f% and 10\u202f%: there it steps from €\u00a020.00 to €\u00a022.00 and is never just that",
    );
    const picture = breakEvenPicture(session, found([{ kind: "met", at: point(0.04, 21) }]));
    expect([picture.domain, picture.charts[0]?.level, picture.charts[0]?.met]).toEqual([[0, 0.2], 21, [[0.04, 21]]]);
  });
});

describe("pictures", () => {
  test("curves have today and the tried value on them, whole results in steps", () => {
    const values = Float64Array.of(0, 0.1, 0.2);
    const sweep = { values, outputs: [Float64Array.of(20, 21, 22), Float64Array.of(49, 52, 55)], gaps: [] };
    const { x, domain, charts } = curvesOf(session, {
      ...answerBase(),
      kind: "losses",
      lines: [{ of: loss(), sweep, today: Number.NaN, tried: 0.1 }],
    });
    expect([x.title, domain, charts.map(({ y }) => y.title)]).toEqual([
      "planned loss at the step",
      [0, 0.2],
      ["Planned cost of a good piece, EUR", "Pieces to start"],
    ]);
    expect(charts[0]?.curves[0]).toMatchObject({
      name: "Glaze firing",
      isStepped: false,
      today: [0, 20],
      tried: [0.1, 22.5],
    });
    expect(charts[1]?.curves[0]?.isStepped).toBe(true);
    expect([x.text(0.1), charts[0]?.y.text(20), charts[0]?.y.text(20.5)]).toEqual(["10\u202f%", "20", "20.50"]);
  });

  test("a ranking leaves out what moves nothing", () => {
    const row = (cell: CellName, effect: number) => ({
      input: cell,
      low: 0.02,
      high: 0.06,
      atLow: 19,
      atHigh: 19 + effect,
      effect,
    });
    const wage = lineCell("edition", "wage");
    const picture = rankingPicture(session, {
      ...answerBase(),
      kind: "ranking",
      aim: perGood(),
      inputs: new Map([
        [cellKeyOf(loss().cell), loss()],
        [cellKeyOf(wage), of(wage)],
      ]),
      ranking: { now: 20, ranked: [row(loss().cell, 3), row(wage, 0)], gaps: [] },
    });
    expect(picture.bars).toEqual([
      { name: "Glaze firing: planned loss", lowText: "2\u202f%", highText: "6\u202f%", atLow: 19, atHigh: 22 },
    ]);
  });

  test("columns of counts never mix pieces short with enough, and add up to everything", () => {
    const chances = Float64Array.from({ length: 400 }, () => 1 / 400);
    const chance = {
      spread: { from: 1000, chances },
      good: { low: 1040, median: 1200, high: 1360 },
      profits: Float64Array.of(-5, 1, 2, 3),
      profit: { low: 0, median: 1, high: 3 },
    } as unknown as Chance;
    const { spreads } = chancePicture(session, {
      ...answerBase(),
      kind: "chance",
      chance: {
        starts: 1400,
        wanted: 1103,
        chance,
        weighed: [],
        best: undefined,
        sure: 0.9,
        unsureChance: 0.8,
        draws: 4,
        seed: 1,
        drawn: [],
        isBestAtEnd: false,
      },
    });
    const [good, money] = spreads;
    const sum = (bars: readonly { readonly share: number }[] = []) =>
      bars.reduce((total, { share }) => total + share, 0);
    expect(sum(good?.bars)).toBeCloseTo(1, 12);
    for (const { from, to, isBad } of good?.bars ?? []) expect(isBad ? to <= 1102.5 : from >= 1102.5).toBe(true);
    expect(good?.bars.filter(({ isBad }) => isBad).reduce((total, { share }) => total + share, 0)).toBeCloseTo(
      103 / 400,
      12,
    );
    expect(sum(money?.bars)).toBeCloseTo(1, 12);
    expect(money?.bars.find(({ isBad }) => isBad)?.share).toBe(0.25);
    expect(money?.mark).toBe(0);
  });
});

test("the plan's money by hand: so many pieces at their price, less what the run costs", async () => {
  const { session: opened, settled } = openSession(
    afterTyping(smallEdition(), [
      ["edition", "wanted", "value", "40"],
      ["edition", "special_wanted", "value", "10"],
      ["edition", "fixed_costs", "value", "300"],
    ]),
  );
  await settled();
  const line = (id: string) => Number(opened.value(lineCell("edition", id)));
  // Standard 80, special 120, tax 20 %, fees 3 % and 0.30, packing 6.
  const brings = 30 * (80 / 1.2 - 2.4 - 0.3 - 6) + 10 * (120 / 1.2 - 3.6 - 0.3 - 6);
  expect(line("plan_brings")).toBeCloseTo(brings, 9);
  expect(line("plan_pays")).toBeCloseTo(brings - line("plan_cost") - 300, 9);
  expect(line("plan_margin")).toBeCloseTo(line("plan_pays") / ((30 * 80 + 10 * 120) / 1.2), 12);
  opened.close();
});
