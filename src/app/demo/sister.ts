// “Samphire”, a small invented edition beside the demo: its lustre firing is the demo's L11. Neither counts the other until
// the maker says that it is one load.
import lustre from "../../../templates/lustre/template.json";
import { applyChange, type Change } from "../../core/document/change";
import { addRows, type CellEntry, editMeta, writeEntries } from "../../core/document/edits";
import { startEdition } from "../../core/document/start-edition";
import type { Template } from "../../core/document/template-schema";
import type { SheetKey, Workbook } from "../../core/document/workbook";
import { loseAt } from "../../core/record/piece-edits";
import { giveDays, undatedOf } from "../../core/record/undated";
import { KILNS } from "./demo-data";

const STARTS = 12;
const LOST = 7;
const NOTE =
  "An invented example beside Marram: Samphire, a dozen slip-cast beakers with a platinum rim, in the kiln with Marram’s lanterns on 18 November. Every name and number in it is made up.";

type Typed = readonly [sheet: SheetKey, row: string, column: string, typed: string];

const INPUTS: Readonly<Record<string, string>> = {
  ...{ wanted: "10", confidence: "80", wage: "22", overhead_rate: "6.5", tariff: "0.29", loading_minutes: "40" },
  ...{ mould_cost: "26", mould_casts: "40", reclaim: "85", piece_kg: "0.32", piece_foot: "62", piece_height: "11" },
  ...{ price_standard: "46", price_special: "46", price_second: "18", packing: "3.5", fixed_costs: "120" },
};
/** What a beaker takes where it is less than a lantern. */
const ROUTE: readonly (readonly [step: string, column: string, typed: string])[] = [
  ["cast", "grams", "430"],
  ["cast", "minutes", "3"],
  ["fettle", "minutes", "5"],
  ["bisque", "kiln", "Small kiln"],
  ["glaze", "area", "260"],
  ["glaze_firing", "kiln", "Small kiln"],
  ["lustre", "area", "14"],
  ["lustre", "minutes", "4"],
  ["low_firing", "kiln", "Large kiln"],
  ["lustre_2", "who", "as needed"],
  ["low_firing_2", "who", "as needed"],
  ["low_firing_2", "kiln", "Large kiln"],
  ["pack", "minutes", "3"],
];
const FIRINGS: readonly (readonly [name: string, step: string, cells: Readonly<Record<string, string>>])[] = [
  [
    "S1",
    "bisque",
    { kiln: "Small kiln", date: "2026-10-30", programme: "slow bisque", ware: "raw", hours: "9", meter: "41.2" },
  ],
  [
    "S2",
    "glaze_firing",
    { kiln: "Small kiln", date: "2026-11-09", programme: "glaze, middle fire", hours: "9", meter: "47.5" },
  ],
  [
    "S3",
    "low_firing",
    {
      kiln: "Large kiln",
      date: "2026-11-18",
      programme: "low lustre",
      hours: "7",
      duty: "45",
      note: "with Marram’s lanterns; meter not read yet",
    },
  ],
];

/** The sister edition: twelve beakers, eleven of them waiting for the meter of the firing they shared. */
export function sisterEdition(): Workbook {
  const answers = { title: "Samphire", wanted: 10, currency: "EUR", firstPiece: "1", started: "2026-10-12" };
  let book = startEdition(lustre as unknown as Template, answers, STARTS);
  const run = (change: Change) => {
    book = applyChange(book, change);
  };
  const type = (typed: readonly Typed[]) => {
    const entries = typed.map(
      ([sheet, row, column, text]): CellEntry => ({ cell: { sheet, row, column }, typed: text }),
    );
    const marks = { decimal: "." } as const;
    const { change, refused } = writeEntries(book, entries, { label: "Demo", marks, override: false });
    if (refused[0]) throw new Error(`the sister edition is refused: ${refused[0].message}`);
    run(change);
  };
  run(editMeta(book, { note: NOTE, invented: true }, "Mark as invented"));
  type(Object.entries(INPUTS).map(([row, typed]): Typed => ["edition", row, "value", typed]));
  type([...KILNS.map((cell): Typed => ["kilns", ...cell]), ...ROUTE.map((cell): Typed => ["route", ...cell])]);
  const pieces = book.sheets.pieces.rows.map(({ id }) => id);
  type(
    pieces.flatMap((row, at): Typed[] => [
      ["pieces", row, "tier", "standard"],
      ["pieces", row, "cast.slip", String(424 + ((at * 5) % 4) * 6)],
      ["pieces", row, "fettle.minutes", String(4 + (at % 3))],
      ["pieces", row, "dry.minutes", "1"],
      ["pieces", row, "glaze.coats", "3"],
    ]),
  );
  run(loseAt(book, [`p${LOST}`], "glaze_firing", "glaze ran on to the shelf"));
  const kept = pieces.filter((row) => row !== `p${LOST}`);
  type(kept.map((row): Typed => ["pieces", row, "lustre.coats", "1"]));
  FIRINGS.forEach(([name, step, cells], at) => {
    const row = `f${at + 1}`;
    run(addRows(book, "firings", [{ id: row, cells: { basis: "count" } }], name));
    type(Object.entries({ id: name, ...cells }).map(([column, typed]): Typed => ["firings", row, column, typed]));
    const inIt = step === "low_firing" ? kept : pieces;
    type(inIt.map((piece): Typed => ["pieces", piece, `${step}.firing`, name]));
  });
  run(
    giveDays(
      book,
      undatedOf(book, (at) => at.slice(0, 10)),
    ),
  );
  return book;
}
