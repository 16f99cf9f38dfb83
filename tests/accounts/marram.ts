// A handful of pieces of the invented edition "Marram", small enough to be calculated by hand. Every figure is invented.
import type { PlainEdition, PlainEntry, PlainPiece } from "../../src/accounts/plain-edition";

const usual: Readonly<Record<string, PlainEntry>> = {
  cast: { slip: 1000 },
  fettle: { minutes: 15 },
  bisque: { firing: "B1" },
  glaze: { coats: 3 },
  fire: { firing: "G1" },
};

function piece(id: string, kg: number, more: Partial<PlainPiece>): PlainPiece {
  return { id, kg, footprintCm2: 200, entries: usual, ...more };
}

export const MARRAM: PlainEdition = {
  wagePerHour: 24,
  overhead: { ratePerHour: 6 },
  moulds: { cost: 30, lifeCasts: 40 },
  reclaimFraction: 0.8,
  secondNetRealisable: 40,
  steps: [
    { id: "cast", kind: "cast", order: 1, minutesEach: 10, pricePerGram: 0.002 },
    { id: "fettle", kind: "hand", order: 2, plannedLoss: 0.1 },
    { id: "bisque", kind: "firing", order: 3 },
    {
      id: "glaze",
      kind: "coat",
      order: 4,
      minutesEach: 3,
      pricePerGram: 0.01,
      area: 400,
      laydown: 0.05,
      transfer: 0.5,
    },
    { id: "fire", kind: "firing", order: 5, plannedLoss: 0.25 },
    {
      id: "band",
      kind: "metal",
      order: 6,
      minutesEach: 5,
      pricePerGram: 12,
      laydown: 0.0015,
      waste: 0.25,
      fraction: 0.1,
      carat: 22,
    },
    { id: "low", kind: "firing", order: 7 },
  ],
  firings: [
    { id: "B1", kwh: 60, pricePerKwh: 0.3, wear: 5, loadingMinutes: 30, basis: "count" },
    { id: "G1", kwh: 100, pricePerKwh: 0.3, wear: 7, loadingMinutes: 30, basis: "weight" },
    { id: "L1", kwh: 20, pricePerKwh: 0.3, wear: 1.5, loadingMinutes: 15, basis: "shelf area" },
    { id: "L2", isMetered: true, kwh: 10, pricePerKwh: 0.3, wear: 1.5, loadingMinutes: 15, basis: "count" },
  ],
  pieces: [
    piece("1", 1, { grade: "good", tier: "standard" }),
    piece("2", 2, {
      grade: "good",
      tier: "special",
      entries: { ...usual, band: { coats: 2, area: 50 }, low: { firing: "L1" } },
    }),
    piece("3", 1, { lostAt: "fettle", entries: { cast: { slip: 1000 }, fettle: { minutes: 5 } } }),
    piece("4", 1, { grade: "second" }),
    // What was entered after the loss must cost nothing.
    piece("5", 3, { lostAt: "fire", entries: { ...usual, band: { coats: 9, area: 500 }, low: { firing: "L1" } } }),
    piece("6", 1, { entries: { cast: { slip: 1000 }, fettle: { minutes: 15 }, bisque: { firing: "B1" } } }),
  ],
};
