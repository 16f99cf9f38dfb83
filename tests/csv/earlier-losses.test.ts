import { describe, expect, it } from "vitest";
import { demoEdition } from "../../src/app/demo/demo";
import type { CellName } from "../../src/core/document/access";
import { applyChange, invert, type Operation } from "../../src/core/document/change";
import type { Workbook } from "../../src/core/document/workbook";
import type { CellValue } from "../../src/csv/cell-text";
import type { ImportOptions } from "../../src/csv/import-options";
import { packFiles } from "../../src/csv/pack";
import { planImport } from "../../src/csv/plan";
import { readSheetCsv } from "../../src/csv/read";
import { readWorkbookFiles, workbookFiles } from "../../src/csv/workbook-zip";
import { writeSheetCsv } from "../../src/csv/write";
import { isCellError } from "../../src/engine/values";
import { evaluate } from "../tools/evaluate";

const demo = demoEdition();
const values = evaluate(demo);
const valueAt = ({ sheet, row, column }: CellName): CellValue => {
  const value = values(sheet, row, column);
  return isCellError(value) ? null : value;
};
const FORM = { delimiter: ",", decimal: ".", withComputed: true } as const;

/** The next edition: the same steps, three of which have been seen before. */
const operations = demo.sheets.route.rows.flatMap((row, at): Operation[] =>
  (["seen_entered", "seen_lost"] as const).map((column) => ({
    ...({ kind: "cell", sheet: "route", row: row.id, column } as const),
    was: row.cells[column],
    is: at < 3 ? (column === "seen_entered" ? 100 : 4) : undefined,
  })),
);
const next = applyChange(demo, { label: "x", operations });

const plan = (text: string, options?: ImportOptions, book: Workbook = next) =>
  planImport(book, "route", readSheetCsv(text), options);
const seen = (book: Workbook) =>
  book.sheets.route.rows.map(({ cells }) => [cells.seen_entered ?? null, cells.seen_lost ?? null]);
const seenAfter = (text: string, answer: number) => {
  const [question] = plan(text).questions;
  const planned = plan(text, question?.answers[answer]?.options);
  expect(planned.questions).toEqual([]);
  expect(planned.change.operations.every((one) => one.kind === "cell" && /^seen_/.test(one.column))).toBe(true);
  const changed = applyChange(next, planned.change);
  expect(applyChange(changed, invert(planned.change))).toEqual(next);
  return seen(changed);
};
const counted = (row: string, column: string) => Number(valueAt({ sheet: "route", row, column }) ?? 0);

describe("losses of an earlier edition", () => {
  const route = writeSheetCsv(demo, "route", valueAt, FORM);
  const steps = demo.sheets.route.rows;
  const added = steps.map(({ id }, at) => [
    counted(id, "entered") + (at < 3 ? 100 : 0),
    counted(id, "lost") + (at < 3 ? 4 : 0),
  ]);

  it("are offered, and change nothing until they are taken", () => {
    const planned = plan(route);
    expect(planned.questions.map(({ about }) => about)).toEqual(["losses"]);
    expect(plan(route, { losses: "leave" }).questions).toEqual([]);
    expect(seen(applyChange(next, plan(route, { losses: "leave" }).change))).toEqual(seen(demo));
    expect(planImport(next, "pieces", readSheetCsv("Piece,entered,lost\n001,1,2\n")).questions).toEqual([]);
  });

  it("of its Route file are added to those seen before, by the titles of the steps", () => {
    expect(seenAfter(route, 0)).toEqual(added);
    // By title: the order of the lines means nothing, and a step that is not here is refused.
    const [header, ...lines] = route.trim().split("\r\n");
    const mixed = [header, ...lines.reverse(), lines[0]?.replace(/^[^,]*/, "Raku")].join("\r\n");
    expect(seenAfter(mixed, 0)).toEqual(added);
    expect(plan(mixed).rejected).toMatchObject([{ found: "Raku", code: "csv.row" }]);
  });

  it("of its Route file take their place, with all it had seen itself", () => {
    expect(seenAfter(route, 1)).toEqual(
      steps.map(({ id }) => [counted(id, "known_entered"), counted(id, "known_lost")]),
    );
  });

  it("of losses.csv are added, or take their place", () => {
    const losses = steps.map(({ id, cells }) => ({
      ...{ step: String(cells.title), entered: counted(id, "entered"), lost: counted(id, "lost") },
      ...{ plannedRate: 0.05, seenRate: 1 / 3, costMinor: 1250, reclaimedMinor: 0, scrapMinor: 0 },
      ...{ normalMinor: 1000, abnormalMinor: 250 },
    }));
    const content = {
      ...{ edition: "Marram", currency: "EUR", digits: 2, statement: [], sales: [], processes: [], rules: [], losses },
      inventory: { lines: [] } as never,
      ledger: { lines: [], trial: [], stock: [], accounts: {} as never },
      trail: { parts: [], fired: [], hours: [], lost: [] },
    };
    for (const form of [
      { delimiter: ",", decimal: ".", hasMark: false },
      { delimiter: ";", decimal: ",", hasMark: true },
    ] as const) {
      const text = packFiles(content, form)["losses.csv"] ?? "";
      expect(seenAfter(text, 0)).toEqual(added);
      expect(seenAfter(text, 1)).toEqual(steps.map(({ id }) => [counted(id, "entered"), counted(id, "lost")]));
    }
  });

  it("ask nothing of a whole workbook", () => {
    const files = workbookFiles(demo, valueAt, { ...FORM, hasMark: false });
    expect(readWorkbookFiles(files, "demo.zip")).toEqual({ ok: true, value: demo });
  });
});
