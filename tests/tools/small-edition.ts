// A small edition for tests: one step of each kind and a second firing, two kilns, three materials.
import { applyChange, type Change } from "../../src/core/document/change";
import { addRows, type CellEntry, type EntryOutcome, writeEntries } from "../../src/core/document/edits";
import { startEdition } from "../../src/core/document/start-edition";
import { readTemplate } from "../../src/core/document/template";
import type { Template } from "../../src/core/document/template-schema";
import type { SheetKey, Workbook } from "../../src/core/document/workbook";

const TEMPLATE = {
  id: "small",
  version: 1,
  title: "Small",
  summary: "One step of each kind.",
  wanted: 5,
  inputs: { wage: 20, overhead_rate: 6, tariff: 0.3, mould_cost: 30, mould_casts: 60, reclaim: 0.9 },
  materials: [
    { id: "Slip", sort: "slip", pack_price: 20, pack_grams: 20000 },
    { id: "Glaze", sort: "glaze", pack_price: 50, pack_grams: 10000 },
    { id: "Gold", sort: "lustre", pack_price: 90, pack_grams: 2, fraction: 0.1, carat: 22 },
  ],
  kilns: [
    { id: "Small", kw: 5, hours: 8, duty: 0.6, capacity: 10, wear: 4 },
    { id: "Large", kw: 12, hours: 10, duty: 0.6, capacity: 40, wear: 10 },
  ],
  programmes: [
    { programme: "slow", ramp: 1, rate: 80, celsius: 600 },
    { programme: "slow", ramp: 2, rate: 100, cone: "06", soak: 10 },
  ],
  tariffs: [],
  route: [
    { id: "cast", kind: "cast", title: "Cast", cells: { loss: 0.05, material: "Slip", minutes: 6, grams: 900 } },
    { id: "fettle", kind: "hand", title: "Fettle", cells: { loss: 0.02, minutes: 10 } },
    { id: "bisque", kind: "firing", title: "Bisque", cells: { loss: 0.02, kiln: "Large" } },
    {
      id: "glaze",
      kind: "coat",
      title: "Glaze",
      cells: { material: "Glaze", minutes: 2, area: 500, coats: 2, laydown: 0.02, transfer: 0.5 },
    },
    { id: "firing", kind: "firing", title: "Glaze firing", cells: { loss: 0.04, kiln: "Large" } },
    {
      id: "band",
      kind: "metal",
      title: "Band",
      cells: { material: "Gold", minutes: 5, area: 20, coats: 1, laydown: 0.0024, waste: 0.2 },
    },
  ],
};

/** The template behind `smallEdition`, a fresh copy. */
export function smallTemplate(): Template {
  const read = readTemplate(structuredClone(TEMPLATE), "small");
  if (!read.ok) throw new Error(read.problems[0]?.message);
  return read.value;
}

/** An edition of `starts` pieces numbered 01, 02, …, with firings F1 and F2; nothing is recorded yet. */
export function smallEdition(starts = 5): Workbook {
  const answers = { title: "Small", wanted: 4, currency: "EUR", firstPiece: "01", started: "2026-02-03" };
  const book = startEdition(smallTemplate(), answers, starts);
  const firings = [
    { id: "f1", cells: { id: "F1", kiln: "Large", basis: "count" } },
    { id: "f2", cells: { id: "F2", kiln: "Small", basis: "weight" } },
  ];
  return applyChange(book, addRows(book, "firings", firings, "Two firings"));
}

export type Typed = readonly [sheet: SheetKey, row: string, column: string, typed: string];

/** What comes of typing into cells, with a decimal point. */
export function typing(book: Workbook, typed: readonly Typed[], override = false): EntryOutcome {
  const entries = typed.map(([sheet, row, column, text]): CellEntry => ({ cell: { sheet, row, column }, typed: text }));
  return writeEntries(book, entries, { label: "Type", marks: { decimal: "." }, override });
}

/** The change of typing into cells; an entry that is refused is a mistake of the test. */
export function typed(book: Workbook, entries: readonly Typed[], override = false): Change {
  const { change, refused } = typing(book, entries, override);
  if (refused[0]) throw new Error(refused[0].message);
  return change;
}

/** The book after typing into cells. */
export function afterTyping(book: Workbook, entries: readonly Typed[], override = false): Workbook {
  return applyChange(book, typed(book, entries, override));
}

/** The one message of a refused entry. */
export function refusal(book: Workbook, entry: Typed, override = false): string {
  const { change, refused } = typing(book, [entry], override);
  if (change.operations.length > 0 || refused.length !== 1) throw new Error(`not refused: ${JSON.stringify(entry)}`);
  return refused[0]?.message ?? "";
}
