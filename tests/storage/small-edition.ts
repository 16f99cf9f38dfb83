// A small edition of our own invention: the Marram lantern with one step of each kind.

import { startEdition } from "../../src/core/document/start-edition";
import { readTemplate } from "../../src/core/document/template";
import type { Workbook } from "../../src/core/document/workbook";

const SMALL_TEMPLATE = {
  id: "small",
  version: 1,
  title: "Small",
  summary: "An invented route with one step of each kind, for tests.",
  wanted: 4,
  inputs: { wage: 24.5, confidence: 0.95, reclaim: 0.8, piece_kg: 1.234 },
  materials: [
    { id: "Stoneware slip", sort: "slip", pack_price: 21.5, pack_grams: 20_000 },
    { id: "Dune glaze", sort: "glaze", pack_price: 38, pack_grams: 5000 },
    { id: "Platinum lustre", sort: "lustre", pack_price: 96, pack_grams: 10, fraction: 0.085, carat: 24 },
  ],
  kilns: [{ id: "Big kiln", kw: 9.6, hours: 9.5, duty: 0.62, capacity: 40, wear: 3.2 }],
  route: [
    {
      id: "cast",
      kind: "cast",
      title: "Cast",
      cells: { loss: 0.04, material: "Stoneware slip", minutes: 6, grams: 900 },
    },
    { id: "fettle", kind: "hand", title: "Fettle", cells: { loss: 0.02, minutes: 8 } },
    { id: "bisque", kind: "firing", title: "Bisque", cells: { loss: 0.03, kiln: "Big kiln" } },
    {
      id: "glaze",
      kind: "coat",
      title: "Glaze",
      cells: { loss: 0.01, material: "Dune glaze", minutes: 4, area: 820, coats: 2, laydown: 0.07, transfer: 0.55 },
    },
    {
      id: "band",
      kind: "metal",
      title: "Band",
      cells: { material: "Platinum lustre", minutes: 12, area: 35, coats: 1, laydown: 0.0021, waste: 0.3 },
    },
  ],
};

/** An edition of `pieces` blank pieces numbered from 001. */
export function smallEdition(pieces = 4, title = "Marram"): Workbook {
  const template = readTemplate(SMALL_TEMPLATE, "small");
  if (!template.ok) throw new Error(template.problems.map((found) => found.message).join("\n"));
  return startEdition(
    template.value,
    { title, wanted: 4, currency: "EUR", firstPiece: "001", started: "2026-11-25" },
    pieces,
  );
}
