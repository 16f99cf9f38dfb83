// The page on work in progress: the demo at its stages by hand, what is written down and why, and the books with it.
import { describe, expect, test } from "vitest";
import { type ProcessPeriod, processCosts } from "../../../src/accounts/equivalent-units";
import { processesOf } from "../../../src/accounts/stages";
import { demoEdition } from "../../../src/app/demo/demo";
import { plannedStepsOf } from "../../../src/app/settle/planned-steps";
import { settle } from "../../../src/app/settle/settle";
import { finishMinor, sumMinor, workInProgress } from "../../../src/app/settle/work-in-progress";
import type { Workbook } from "../../../src/core/document/workbook";
import { record } from "../../../src/core/record/record-edits";
import { must } from "../../accounts/results";
import { compareSheets } from "../../tools/compare-sheets";
import { evaluate } from "../../tools/evaluate";
import { afterTyping, smallEdition, type Typed } from "../../tools/small-edition";
import { journalOf } from "../../tools/whole-journal";

/** Equivalent units of the work done in the period itself. */
const workDone = (period: ProcessPeriod) =>
  must(processCosts(period, "first in first out")).elements.map(({ units }) => units);

function page(book: Workbook) {
  const read = evaluate(book);
  const settled = must(settle(book, read));
  return { read, settled, ...workInProgress(book, read, settled) };
}

const book = demoEdition();
const marram = page(book);

describe("Marram at its stages", () => {
  test("49 pieces in seven groups, and together they are the lines of Results", () => {
    expect(marram.stages.map(({ title, isSpecial, pieces }) => [title, isSpecial, pieces.length])).toEqual([
      ["Bisque firing", false, 12],
      ["Glaze", false, 9],
      ["Glaze firing", false, 16],
      ["Glaze firing", true, 2],
      ["Lustre", true, 2],
      ["Low firing", true, 2],
      ["Low firing 2", true, 6],
    ]);
    const all = marram.stages.flatMap(({ pieces }) => pieces);
    const line = (id: string) => Number(marram.read("results", id, "value"));
    expect(finishMinor(all, 2) / 100).toBeCloseTo(line("progress_finish"), 2);
    expect(sumMinor(all, (one) => one.netRealisableMinor ?? 0) / 100).toBeCloseTo(line("progress_fetch"), 0);
    expect(sumMinor(all, (one) => one.carriedMinor)).toBe(marram.settled.ledger.inProgressTotal);
    expect([marram.notes, line("progress_down")]).toEqual([[], 0]);
  });

  test("by hand: a piece with its last firing takes packing alone, and half a hundredth are lost at it", () => {
    const last = marram.stages.at(-1);
    const each = (id: string) => Number(marram.read("route", id, "plan_each"));
    expect(last?.toFinish.cost).toBeCloseTo(each("pack"), 12);
    expect(last?.toFinish.comesThrough).toBeCloseTo(0.995, 12);
    // A standard piece after its glaze firing: a refire of two hundredths of them, then packing.
    const needed = Number(marram.read("route", "refire", "needed"));
    expect(marram.stages[2]?.toFinish.cost).toBeCloseTo(needed * each("refire") + each("pack"), 12);
  });

  test("process costing accounts for every cent that the pieces cost, and both ways agree with nothing open at the start", () => {
    const own = marram.settled.costs.pieces.reduce((sum, piece) => sum + piece.own, 0);
    const sums = marram.processes.map(({ average: one }) => one.completed + one.closing + one.normal + one.abnormal);
    expect(sums.reduce((all, one) => all + one, 0)).toBeCloseTo(own, 6);
    for (const { average, firstIn, process } of marram.processes) {
      expect(firstIn.completed).toBeCloseTo(average.completed, 9);
      const { completed, closing, lost } = process.books;
      expect(completed + closing + lost).toBeCloseTo(
        average.completed + average.closing + average.normal + average.abnormal,
        6,
      );
    }
  });
});

describe("written down", () => {
  const typed = (cells: readonly Typed[]) => page(afterTyping(book, cells));
  const waiting = marram.stages[0]?.pieces[0];
  const row = waiting?.row ?? "";

  test("a price that will not pay for finishing: carried at what it fetches, with the reason, in the journal too", () => {
    const low = typed([["pieces", row, "own_price", "30"]]);
    const [one, ...others] = low.writtenDown.filter(({ group }) => group === "inProgress");
    expect(others).toEqual([]);
    expect(one).toMatchObject({ row, reason: "will not fetch its cost", byHandMinor: 0 });
    const net = 30 / 1.2 - 30 * Number(low.read("edition", "fee_rate", "value"));
    const fixed = Number(low.read("edition", "fee_fixed", "value")) + Number(low.read("edition", "packing", "value"));
    const still = waiting?.stage?.toFinish;
    expect((one?.carriedMinor ?? 0) / 100).toBeCloseTo(
      (net - fixed) * (still?.comesThrough ?? 0) - (still?.cost ?? 0),
      2,
    );
    const posted = journalOf(low.settled).filter(({ memo }) => memo === "Down to net realisable value");
    const credited = posted.find(({ account }) => account === "Work in progress");
    expect(credited?.creditMinor).toBe(one?.writeDownMinor);
    expect(compareSheets(afterTyping(book, [["pieces", row, "own_price", "30"]]), low.read).differ).toEqual([]);
  });

  test("by hand with a reason; both reasons where it will not fetch even that; never below nothing", () => {
    const chipped = typed([
      ["pieces", row, "down_by", "5"],
      ["pieces", row, "down_why", "chipped foot"],
      ["pieces", row, "down_on", "2026-11-20"],
    ]);
    expect(chipped.writtenDown.find((one) => one.row === row)).toMatchObject({
      ...{ byHandMinor: 500, writeDownMinor: 500, reason: "chipped foot", day: "2026-11-20" },
    });
    expect(Number(chipped.read("results", "write_down", "value"))).toBeCloseTo(
      Number(marram.read("results", "write_down", "value")) + 5,
      9,
    );
    const both = typed([
      ["pieces", row, "down_by", "1"],
      ["pieces", row, "own_price", "30"],
    ]);
    expect(both.writtenDown.find((one) => one.row === row)?.reason).toBe(
      "written down by hand; will not fetch its cost",
    );
    const all = typed([["pieces", row, "down_by", "500"]]);
    const one = all.writtenDown.find((piece) => piece.row === row);
    expect([one?.carriedMinor, one?.writeDownMinor]).toEqual([0, one?.costMinor]);
    expect(compareSheets(afterTyping(book, [["pieces", row, "down_by", "500"]]), all.read).differ).toEqual([]);
  });

  test("without a price a piece stays at cost, and that is said; so is a firing without a kiln", () => {
    const none = typed([
      ["edition", "price_standard", "value", "0"],
      ["route", "glaze_firing", "kiln", ""],
    ]);
    expect(none.stages[0]?.pieces.every(({ carriedMinor, costMinor }) => carriedMinor === costMinor)).toBe(true);
    expect(none.notes[0]).toContain("Not in what they still take: Glaze firing.");
    expect(none.notes[1]).toContain("37 pieces carried at cost, since their price is 0");
  });
});

describe("a period that begins with pieces in progress", () => {
  const AT = "2026-03-20T10:00:00.000Z";
  const firings = {
    bisque: { kind: "there", name: "F1" },
    firing: { kind: "there", name: "F2" },
  } as const;
  const all = ["p1", "p2", "p3", "p4", "p5"];
  const before = must(record(smallEdition(5), all.slice(0, 4), { kind: "done", step: "fettle", firings: {} }, AT));
  let after = must(record(before, ["p1", "p2", "p3"], { kind: "done", step: "band", firings }, AT));
  after = must(record(after, ["p1", "p2"], { kind: "passed", grade: "good" }, AT));
  after = must(record(after, ["p5"], { kind: "done", step: "cast", firings: {} }, AT));
  after = must(record(after, ["p4"], { kind: "lost", step: "bisque", reason: "" }, AT));
  const costs = (of: Workbook) => must(settle(of, evaluate(of))).costs;
  const planned = plannedStepsOf(after, evaluate(after));

  test("four were open, one is started, two are finished, two open, one lost; what was open cost what it had cost", () => {
    const [{ period, books } = { period: undefined, books: undefined }] = processesOf(
      planned,
      costs(after),
      costs(before),
    );
    if (!period || !books) throw new Error("no process");
    expect([period.opening.units, period.started, period.completed, period.closing.units]).toEqual([4, 1, 2, 2]);
    expect(period.normal.units + period.abnormal.units).toBeCloseTo(1, 12);
    const own = (of: Workbook) => costs(of).pieces.reduce((sum, piece) => sum + piece.own, 0);
    expect(period.elements.reduce((sum, { opening }) => sum + opening, 0)).toBeCloseTo(own(before), 9);
    expect(period.elements.reduce((sum, { added }) => sum + added, 0)).toBeCloseTo(own(after) - own(before), 9);
    for (const method of ["weighted average", "first in first out"] as const) {
      const { completed, closing, normal, abnormal } = must(processCosts(period, method));
      expect(completed + closing + normal + abnormal).toBeCloseTo(books.completed + books.closing + books.lost, 9);
    }
    const [first] = processesOf(planned, costs(before));
    const [whole] = processesOf(planned, costs(after));
    if (!first || !whole) throw new Error("no process");
    for (const [at, done] of workDone(whole.period).entries())
      expect((workDone(first.period)[at] ?? 0) + (workDone(period)[at] ?? 0)).toBeCloseTo(done, 9);
  });
});
