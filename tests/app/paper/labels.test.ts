// Labels and certificates: what stands on them, and sheets divided to the millimetre.
import { describe, expect, it } from "vitest";
import { demoEdition } from "../../../src/app/demo/demo";
import { divideSheet, type LabelSetup, labelSetupOf, onSheets } from "../../../src/app/paper/label-setup";
import { labelsOf, type PieceLabel } from "../../../src/app/paper/piece-label";
import type { PaperSource } from "../../../src/app/paper/source";
import { rowLabel } from "../../../src/core/document/access";
import { evaluate } from "../../tools/evaluate";

const book = demoEdition();
const source: PaperSource = { book, read: evaluate(book), locale: "en-GB" };
const ALL: LabelSetup = { ...labelSetupOf(), without: [] };

function made(setup: LabelSetup, chosen?: ReadonlySet<string>) {
  const labels = labelsOf(source, setup, chosen);
  if (!labels.ok) throw new Error(labels.problems[0]?.message);
  return labels.value;
}
const idOf = (label: string) => book.sheets.pieces.rows.find((row) => rowLabel("pieces", row) === label)?.id ?? "";
const chosenOf = (...labels: string[]) => new Set(labels.map(idOf));
const saidOn = ({ facts, words }: PieceLabel) =>
  [...facts.map(({ label, text }) => `${label}: ${text}`), ...words].join("\n").replace(/[\u00a0\u202f]/g, " ");
const one = (setup: LabelSetup, label: string) => made(setup, chosenOf(label)).labels[0] ?? expect.unreachable();

const isFinished = (id: string) => source.read("pieces", id, "outcome") === "good";

describe("labels", () => {
  it("are of the finished good pieces, or of those chosen, lost ones left out and counted", () => {
    const { rows } = book.sheets.pieces;
    expect(made(ALL).labels.map(({ row }) => row)).toEqual(rows.map(({ id }) => id).filter(isFinished));
    const lost = rows.find(({ cells }) => cells.lost_at !== undefined) ?? expect.unreachable();
    const open =
      rows.find(({ cells }) => cells.lost_at === undefined && cells.grade === undefined) ?? expect.unreachable();
    const both = made(ALL, new Set([lost.id, open.id]));
    expect([both.labels.map(({ row }) => row), both.lost]).toEqual([[open.id], 1]);
    expect(saidOn(both.labels[0] ?? expect.unreachable())).not.toContain("Finished");
  });

  it("number a piece of the edition, and one beyond it by its name", () => {
    expect(one(ALL, "007").number).toBe("7 of 120");
    expect([one(ALL, "120").number, one(ALL, "121").number]).toEqual(["120 of 120", "121, from an edition of 120"]);
    expect(one(ALL, "139").number).toBe("139, from an edition of 120");
    const counted = made({ ...ALL, numbering: "counted" }).labels;
    expect(counted.map(({ number }) => number)).toEqual(counted.map((_, at) => `${at + 1} of 120`));
    expect(one({ ...ALL, numbering: "counted" }, "139").number).toBe("139, from an edition of 120");
  });

  it("say materials, firings with temperature and cone, and the day it was passed", () => {
    const special = book.sheets.pieces.rows.find(({ id, cells }) => cells.tier === "special" && isFinished(id));
    const said = saidOn(one(ALL, special ? rowLabel("pieces", special) : ""));
    expect(said).toMatch(/Made of: .*slip.*lustre/i);
    expect(said).toMatch(/Fired: Bisque.* [\d  ]+ °C · [\d  ]+ °F, cone 0\d; Glaze firing .*cone \d/);
    expect(said).toContain("Finished: 23 Nov 2026");
  });

  it("never call a piece fit for food, and always say that lustre is decoration", () => {
    const finishedOf = (tier: string) => {
      const row = book.sheets.pieces.rows.find(
        ({ id, cells }) => isFinished(id) && (cells.tier ?? "standard") === tier,
      );
      return row ? rowLabel("pieces", row) : "";
    };
    const said = saidOn(one({ ...ALL, without: ["care", "food", "words"] }, finishedOf("special")));
    expect(said).toContain("no food or drink where it is");
    expect(said).toContain("not for the microwave");
    expect(saidOn(one(ALL, finishedOf("standard")))).not.toContain("lustre is decoration");
    expect(saidOn(one(ALL, finishedOf("standard")))).toContain("not meant for food");
    const tested: LabelSetup = { ...ALL, food: "tested", tested: "Lead and cadmium: report 12, 1 Nov 2026" };
    expect(saidOn(one(tested, finishedOf("standard")))).toContain("report 12");
    expect(saidOn(one({ ...tested, tested: " " }, finishedOf("standard")))).not.toMatch(/food|test/i);
    expect(saidOn(one(tested, finishedOf("special")))).toContain("no food or drink where it is");
  });
});

describe("a sheet of labels", () => {
  const measures = { ...labelSetupOf(), columns: 3, rows: 8, sideMm: 7, topMm: 13, gapAcrossMm: 2.5, gapDownMm: 1 };

  // By hand: (210 − 2 × 7 − 2 × 2.5) ÷ 3 and (297 − 2 × 13 − 7 × 1) ÷ 8; ISO 216 and ANSI/ASME Y14.1 give the papers.
  it.each([
    ["A4", 63.6667, 33, 139.3333, 251],
    ["Letter", 65.6333, 30.8, 143.2667, 235.6],
  ] as const)("on %s is divided exactly", (size, width, height, left, top) => {
    const sheet = divideSheet(measures, size);
    if ("code" in sheet) throw new Error(sheet.message);
    expect(sheet.labelWidthMm).toBeCloseTo(width, 4);
    expect(sheet.labelHeightMm).toBeCloseTo(height, 4);
    const last = sheet.places.at(-1) ?? expect.unreachable();
    expect(last.leftMm).toBeCloseTo(left, 3);
    expect(last.topMm).toBeCloseTo(top, 3);
    expect(last.leftMm + sheet.labelWidthMm + 7).toBeCloseTo(sheet.widthMm, 9);
    expect(last.topMm + sheet.labelHeightMm + 13).toBeCloseTo(sheet.heightMm, 9);
  });

  it("is refused where a measure can't be, with what was found", () => {
    const problemOf = (is: Partial<LabelSetup>) => {
      const sheet = divideSheet({ ...measures, ...is }, "A4");
      return "code" in sheet ? sheet.message : "";
    };
    expect(problemOf({ columns: 0 })).toContain("Labels across");
    expect(problemOf({ rows: 2.5 })).toContain("2.5");
    expect(problemOf({ sideMm: Number.NaN })).toContain("Side margins");
    expect(problemOf({ columns: 10, sideMm: 60 })).toMatch(/9|mm for each/);
  });

  it("begins where one in use goes on, on the first sheet only", () => {
    expect(onSheets([1, 2, 3, 4], 3, 3)).toEqual([
      [undefined, undefined, 1],
      [2, 3, 4],
    ]);
    expect(onSheets([], 3, 1)).toEqual([]);
  });

  it("is kept in the browser, and what can't be read there is as it was at first", () => {
    expect(labelSetupOf({ ...measures, food: "yes", care: 4, columns: 99, rows: 5 })).toEqual({
      ...labelSetupOf(),
      ...{ sideMm: 7, topMm: 13, gapAcrossMm: 2.5, gapDownMm: 1, rows: 5 },
    });
  });
});
