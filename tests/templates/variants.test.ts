// Editions that go off the planned road, held against the plain recomputation.
import { describe, expect, test } from "vitest";
import { listTemplates } from "../../src/app/plan/templates";
import { applyChange } from "../../src/core/document/change";
import { addRows, type CellEntry, writeEntries } from "../../src/core/document/edits";
import { startEdition } from "../../src/core/document/start-edition";
import type { Template } from "../../src/core/document/template-schema";
import type { SheetKey, Workbook } from "../../src/core/document/workbook";
import { loseAt } from "../../src/core/record/piece-edits";
import { compareSheets } from "../tools/compare-sheets";
import { errorsOf, evaluate } from "../tools/evaluate";
import { passAs } from "../tools/piece-changes";

function lustre(): Template {
  const template = listTemplates().find(({ folder }) => folder === "lustre")?.template;
  if (!template?.ok) throw new Error(template?.problems[0]?.message ?? "there is no such template");
  return template.value;
}

const answers = { title: "Variant", wanted: 8, currency: "EUR", firstPiece: "1", started: "2026-03-02" };

type Typed = readonly [sheet: SheetKey, row: string, column: string, typed: string];

function type(book: Workbook, typed: readonly Typed[]): Workbook {
  const entries = typed.map(([sheet, row, column, text]): CellEntry => ({ cell: { sheet, row, column }, typed: text }));
  const outcome = writeEntries(book, entries, { label: "type", marks: { decimal: "." }, override: false });
  expect(outcome.refused).toEqual([]);
  return applyChange(book, outcome.change);
}

/** Ten pieces cast, bisque and glaze fired in two loads; p3 lost green, p5 lost while it was loaded, p7 a second. */
function runningEdition(): Workbook {
  let book = startEdition(lustre(), answers, 10);
  const firings = ["f1", "f2", "f3"].map((id) => ({
    id,
    cells: { id: id.toUpperCase(), kiln: "Large kiln", basis: "count" },
  }));
  book = applyChange(book, addRows(book, "firings", firings, "firings"));
  const ids = book.sheets.pieces.rows.map((row) => row.id);
  book = type(
    book,
    ids.flatMap((row): Typed[] => [
      ["pieces", row, "cast.slip", "1900"],
      ["pieces", row, "fettle.minutes", "12"],
    ]),
  );
  book = applyChange(book, loseAt(book, ["p3"], "dry", "cracked"));
  book = applyChange(book, loseAt(book, ["p5"], "bisque", "dropped while loading"));
  const kept = ids.filter((id) => id !== "p3" && id !== "p5");
  book = type(
    book,
    kept.flatMap((row, at): Typed[] => [
      ["pieces", row, "bisque.firing", "F1"],
      ["pieces", row, "glaze.coats", "3"],
      ["pieces", row, "glaze_firing.firing", at < 6 ? "F2" : "F3"],
    ]),
  );
  book = applyChange(book, passAs(book, ["p1", "p2"], "good"));
  return applyChange(book, passAs(book, ["p7"], "second"));
}

function expectAgreement(book: Workbook): void {
  const read = evaluate(book);
  expect(errorsOf(book, read)).toEqual([]);
  expect(compareSheets(book, read).differ).toEqual([]);
}

describe("the sheets agree with plain loops", () => {
  const variants: readonly (readonly [string, readonly Typed[]])[] = [
    ["as it runs", []],
    ["without a wage", [["edition", "wage", "value", "0"]]],
    [
      "without wage and overhead",
      [
        ["edition", "wage", "value", "0"],
        ["edition", "overhead_rate", "value", "0"],
      ],
    ],
    [
      "with overhead really paid, loading carrying its part, and idle hours",
      [
        ["edition", "overhead_loading", "value", "yes"],
        ["edition", "overhead_paid", "value", "400"],
        ["edition", "normal_hours", "value", "60"],
      ],
    ],
    ["with less paid than the rate would carry", [["edition", "overhead_paid", "value", "9"]]],
    [
      "without a wage, loading carrying overhead",
      [
        ["edition", "wage", "value", "0"],
        ["edition", "overhead_loading", "value", "yes"],
        ["edition", "overhead_paid", "value", "5"],
      ],
    ],
    [
      "with moulds that fetch something, charged at the end",
      [
        ["edition", "mould_salvage", "value", "6"],
        ["edition", "mould_casts", "value", "4"],
        ["edition", "mould_rest", "value", "charged"],
      ],
    ],
    [
      "with one mould cast more often than it lasts",
      [
        ["edition", "mould_casts", "value", "4"],
        ["edition", "moulds", "value", "1"],
        ["edition", "mould_rest", "value", "charged"],
      ],
    ],
    [
      "with a firing nobody fired and one fired empty",
      [
        ["firings", "f2", "meter_before", "100"],
        ["firings", "f3", "meter_before", "100"],
        ["firings", "f3", "meter_after", "190"],
        ...["p1", "p2", "p4", "p6", "p7", "p8", "p9", "p10"].map(
          (row): Typed => ["pieces", row, "glaze_firing.firing", ""],
        ),
      ],
    ],
    ["with one firing entered at two steps of a piece", [["pieces", "p4", "glaze_firing.firing", "F1"]]],
    [
      "with prices of their own, for a good piece and for a second",
      [
        ["pieces", "p1", "own_price", "95"],
        ["pieces", "p7", "own_price", "21"],
      ],
    ],
    [
      "with a firing shared by weight",
      [
        ["firings", "f2", "basis", "weight"],
        ["pieces", "p1", "kg", "2.2"],
      ],
    ],
    [
      "with a firing shared by shelf area",
      [
        ["firings", "f2", "basis", "shelf area"],
        ["pieces", "p4", "foot", "95"],
      ],
    ],
    [
      "with a meter reading and a tariff of its own",
      [
        ["firings", "f3", "meter", "77.5"],
        ["firings", "f3", "tariff", "0.19"],
      ],
    ],
    ["with an area of its own", [["pieces", "p1", "glaze.area", "1400"]]],
    [
      "with no planned losses",
      [
        ["route", "dry", "loss", ""],
        ["route", "bisque", "loss", "0"],
      ],
    ],
    ["with every loss beyond plan abnormal", [["edition", "loss_runs", "value", ""]]],
    [
      "with losses that chance can't explain",
      [
        ["edition", "loss_runs", "value", "2"],
        ["route", "dry", "loss", "1"],
      ],
    ],
    ["with two tiers", [["edition", "special_wanted", "value", "3"]]],
    ["with a second that fetches nothing", [["edition", "price_second", "value", "0"]]],
    ["with a second that fetches a lot", [["edition", "price_second", "value", "150"]]],
    [
      "with entries after the step of the loss",
      [
        ["pieces", "p3", "glaze.coats", "3"],
        ["pieces", "p3", "bisque.firing", "F1"],
      ],
    ],
    [
      "with a piece alone in a firing",
      [
        ["pieces", "p9", "low_firing.firing", "F1"],
        ["pieces", "p10", "glaze_firing.firing", "F1"],
      ],
    ],
    [
      "with a kiln that is dear to run",
      [
        ["kilns", "k2", "hours", "30"],
        ["kilns", "k2", "wear", "40"],
      ],
    ],
  ];
  test.each(variants)("%s", (_, typed) => {
    expectAgreement(type(runningEdition(), typed));
  });

  test("with firings calculated by the model, raw ware, damp, a read meter and prices by the hour", () => {
    const night = { id: "night", days: "every day", from: "22:00", to: "06:00", price: 0.17 };
    const weekend = { id: "weekend", days: "weekend", from: "06:00", to: "22:00", price: 0.21 };
    const bands = [night, weekend].map((cells, at) => ({ id: `t${at + 1}`, cells }));
    const book = applyChange(runningEdition(), addRows(runningEdition(), "tariffs", bands, "bands"));
    expectAgreement(
      type(book, [
        ["firings", "f1", "programme", "slow bisque"],
        ["firings", "f1", "ware", "raw"],
        ["firings", "f1", "water_kg", "0.4"],
        ["firings", "f1", "date", "2026-03-06"],
        ["firings", "f1", "start", "18:30"],
        ["firings", "f2", "programme", "glaze, middle fire"],
        ["firings", "f2", "date", "2026-03-13"],
        ["firings", "f2", "start", "7:00"],
        ["firings", "f2", "meter_before", "1200.5"],
        ["firings", "f2", "meter_after", "1290"],
        ["firings", "f3", "programme", "glaze, middle fire"],
        ["kilns", "k2", "wall_factor", "1.2"],
      ]),
    );
  });

  test("with every piece lost", () => {
    const book = runningEdition();
    expectAgreement(
      applyChange(
        book,
        loseAt(
          book,
          book.sheets.pieces.rows.map((row) => row.id),
          "glaze_firing",
          "",
        ),
      ),
    );
  });

  test("with every piece a second", () => {
    const book = runningEdition();
    const kept = book.sheets.pieces.rows.filter((row) => row.cells.lost_at === undefined).map((row) => row.id);
    expectAgreement(applyChange(book, passAs(book, kept, "second")));
  });
});
