// “Is this the same load?”: the demo and its sister in one kiln, asked, answered, undone and held against each other.
import { describe, expect, test } from "vitest";
import { demoEdition } from "../../../src/app/demo/demo";
import { sisterEdition } from "../../../src/app/demo/sister";
import { readShared, sharedFirings, takeAsSame } from "../../../src/app/shelf/shared-firings";
import { applyChange, invert } from "../../../src/core/document/change";
import { checkCellsOf } from "../../../src/core/document/check-cells";
import { readDocument } from "../../../src/core/document/document-file";
import type { Workbook } from "../../../src/core/document/workbook";
import { writeDocument } from "../../../src/core/document/write-document";
import {
  countTheirs,
  fireAlone,
  inSameLoad,
  isCopyOf,
  mayBeSame,
  partOf,
  sidesOf,
  typedIn,
} from "../../../src/core/record/shared-load";
import { compareSheets } from "../../tools/compare-sheets";
import { errorsOf, evaluate } from "../../tools/evaluate";
import { openSession } from "../../tools/open-session";
import { Device } from "../../tools/open-studio";
import { afterTyping } from "../../tools/small-edition";

const [demo, sister] = [demoEdition(), sisterEdition()];
const sides = (id: string, book: Workbook) => sidesOf(id, book, typedIn(book));
const side = (id: string, book: Workbook, name: string) => sides(id, book).find((one) => one.name === name)!;

describe("Samphire", () => {
  test("says that it is invented, keeps every rule of its sheets and adds up", () => {
    const read = evaluate(sister);
    expect(sister.meta.invented).toBe(true);
    expect(sister.meta.note).toMatch(/^An invented example .* Every name and number in it is made up\.$/);
    expect(sister.sheets.pieces.rows).toHaveLength(12);
    expect(checkCellsOf(sister)).toEqual([]);
    expect(errorsOf(sister, read)).toEqual([]);
    expect(compareSheets(sister, read).differ).toEqual([]);
    expect(readDocument(writeDocument(sister), "samphire.edition.json")).toEqual({ ok: true, value: sister });
  });
});

describe("a kiln of the same name on the same day", () => {
  test("what is typed of an edition that is not open is what its sheets give", () => {
    const read = evaluate(demo);
    for (const one of sides("a", demo)) {
      expect([one.own.count, one.own.kg, one.own.cm2]).toEqual([
        read("firings", one.row, "pieces"),
        expect.closeTo(Number(read("firings", one.row, "load_kg")), 9),
        read("firings", one.row, "load_cm2"),
      ]);
    }
  });

  test("only L11 and S3 are asked about, from both sides", () => {
    const asks = (id: string, book: Workbook, other: Workbook) =>
      sides(id, book).flatMap((one) => mayBeSame(one, sides("other", other)).map((found) => [one.name, found.name]));
    expect(asks("a", demo, sister)).toEqual([["L11", "S3"]]);
    expect(asks("b", sister, demo)).toEqual([["S3", "L11"]]);
  });

  test("one press counts theirs, one undo takes it back, and both together bear the firing once", () => {
    const change = countTheirs(demo, side("a", demo, "L11"), [side("b", sister, "S3")]);
    const here = applyChange(demo, change);
    expect(applyChange(here, invert(change))).toEqual(demo);
    expect(here.sheets.firings.rows.find(({ cells }) => cells.id === "L11")?.cells).toMatchObject({
      ...{ with: "Samphire", with_count: 11, with_kg: 3.52, with_cm2: 682, with_height: 11 },
    });
    // The sister knows its load by what the demo says, and is not asked but told.
    expect(mayBeSame(side("b", sister, "S3"), sides("a", here))).toEqual([]);
    const [known] = inSameLoad(side("b", sister, "S3"), sides("a", here));
    expect(known?.name).toBe("L11");
    const there = applyChange(sister, countTheirs(sister, side("b", sister, "S3"), [known!]));
    const [l11, s3] = [side("a", here, "L11"), side("b", there, "S3")];
    expect(l11.shared).toBe(s3.shared);
    expect([partOf(l11), partOf(s3)]).toEqual([6 / 17, 11 / 17]);
    const [first, second] = [evaluate(here), evaluate(there)];
    const cost = Number(first("firings", "f11", "cost"));
    expect(second("firings", "f3", "cost")).toBeCloseTo(cost, 9);
    const borne = Number(first("firings", "f11", "charged")) + Number(second("firings", "f3", "charged"));
    expect(borne).toBeCloseTo(cost, 9);
    for (const [book, read] of [
      [here, first],
      [there, second],
    ] as const)
      expect(compareSheets(book, read).differ).toEqual([]);
  });

  test("said to be alone, it is asked about no more, and what was counted goes", () => {
    const tied = applyChange(demo, countTheirs(demo, side("a", demo, "L11"), [side("b", sister, "S3")]));
    const alone = applyChange(tied, fireAlone(tied, side("a", tied, "L11")));
    const cells = alone.sheets.firings.rows.find(({ id }) => id === "f11")?.cells ?? {};
    expect(Object.keys(cells).filter((key) => key.startsWith("with"))).toEqual([]);
    expect(mayBeSame(side("a", alone, "L11"), sides("b", sister))).toEqual([]);
    expect(mayBeSame(side("b", sister, "S3"), sides("a", alone))).toEqual([]);
    expect(inSameLoad(side("b", sister, "S3"), sides("a", alone))).toEqual([]);
    expect(evaluate(alone)("firings", "f11", "charged")).toEqual(evaluate(demo)("firings", "f11", "charged"));
  });

  test("other ware that one edition tells of is taken over where nothing was told", () => {
    const other = afterTyping(sister, [["firings", "f3", "other_count", "4"]]);
    const here = applyChange(demo, countTheirs(demo, side("a", demo, "L11"), [side("b", other, "S3")]));
    expect(side("a", here, "L11").other).toEqual({ count: 4, kg: 1.28, cm2: 248, height: 11 });
  });

  test("a copy of an edition is known as one", () => {
    expect(isCopyOf(demo, { ...demo, meta: { ...demo.meta, title: "Marram (copy)" } })).toBe(true);
    expect(isCopyOf(demo, sister)).toBe(false);
  });
});

describe("what is said of a load that both tell of", () => {
  const withS3 = (book: Workbook, cells: Readonly<Record<string, string>>) =>
    afterTyping(
      book,
      Object.entries(cells).map(([column, typed]) => ["firings", "f3", column, typed] as const),
    );

  test("counts, other ware, meter, programme, the way of sharing and the rates that are not the same, and the parts", async () => {
    const { studio } = new Device().openTab();
    const withLoad = withS3(sister, {
      basis: "weight",
      meter: "45",
      programme: "slow bisque",
      other_count: "2",
      loading: "50",
    });
    await studio.openNew(
      afterTyping(withLoad, [
        ["edition", "wage", "value", "25"],
        ["edition", "tariff", "value", "0.31"],
      ]),
    );
    await studio.openNew(demo);
    const { session, settled } = openSession(demo);
    await settled();
    await readShared(studio, session);
    const [asked] = sharedFirings(studio, session) ?? [];
    expect(asked?.asked.map((load) => load.map(({ name }) => name))).toEqual([["S3"]]);
    takeAsSame(session, asked!, asked?.asked[0] ?? []);
    await settled();
    const [one] = sharedFirings(studio, session) ?? [];
    expect(one?.asked).toEqual([]);
    expect(one?.says.map((text) => text.replace(/[\u00a0\u202f]/g, " "))).toEqual([
      "Samphire counts: nothing of this edition. In it: 6 pieces, 8.54 kg, 1 080 cm². Count it there: open Samphire.",
      "Shared by count here, by weight in Samphire.",
      "Meter: not read here, 45.0 kWh in Samphire.",
      "Programme: low lustre here, slow bisque in Samphire.",
      "Wage: 22 EUR/h here, 25 EUR/h in Samphire; each edition bears its part at its own.",
      "Electricity: 0.29 EUR/kWh here, 0.31 EUR/kWh in Samphire; each edition bears its part at its own.",
      "Loading: 40 min here, 50 min in Samphire; each edition bears its part at its own.",
    ]);
    expect(one?.parts.map(({ title }) => title)).toEqual(["Marram", "Samphire", "other ware"]);
  });
});
