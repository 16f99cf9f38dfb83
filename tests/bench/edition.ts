// Editions of any number of pieces that have been through the whole route, for what is measured.
import { startEdition } from "../../src/core/document/start-edition";
import { readTemplate } from "../../src/core/document/template";
import type { Raw, Row, Workbook } from "../../src/core/document/workbook";
import templateJson from "../../templates/lustre/template.json";

const LUSTRE = ["lustre", "low_firing", "lustre_2", "low_firing_2"];
const SHELF = 40;

/** How the pieces fare, by their place on the sheet. */
interface Fate {
  readonly tier: (at: number) => "standard" | "special";
  /** Where a piece is lost, if it is. */
  readonly lostAt: (at: number) => string | undefined;
  readonly grade: (at: number) => "good" | "second";
  /** Whether standard pieces are lustred as well. */
  readonly areAllLustred: boolean;
}

/** Every piece has every step and is good. */
export const ALL_GOOD: Fate = {
  tier: () => "standard",
  lostAt: () => undefined,
  grade: () => "good",
  areAllLustred: true,
};

/** Lustre on special pieces only, some lost on the way, some passed as seconds. */
export const MIXED: Fate = {
  tier: (at) => (at % 5 === 0 ? "special" : "standard"),
  lostAt: (at) => (at % 13 === 3 ? "glaze_firing" : at % 31 === 7 ? "dry" : undefined),
  grade: (at) => (at % 11 === 4 ? "second" : "good"),
  areAllLustred: false,
};

function piece(row: Row, at: number, route: readonly Row[], fate: Fate): Row {
  const tier = fate.tier(at);
  const lost = fate.lostAt(at);
  const cells: Record<string, Raw> = { ...row.cells, tier };
  for (const { id, cells: step } of route) {
    if (LUSTRE.includes(id) && tier !== "special" && !fate.areAllLustred) continue;
    if (step.kind === "cast") cells[`${id}.slip`] = 1800 + (at % 50);
    else if (step.kind === "hand") cells[`${id}.minutes`] = 5 + (at % 7);
    else if (step.kind === "firing") cells[`${id}.firing`] = `${id} ${Math.floor(at / SHELF)}`;
    else cells[`${id}.coats`] = 1 + (at % 3);
    if (id === lost) break;
  }
  return { ...row, cells: { ...cells, ...(lost ? { lost_at: lost } : { grade: fate.grade(at) }) } };
}

/** An edition of `count` pieces, the same for the same number and fate. */
export function runEdition(count: number, fate: Fate): Workbook {
  const template = readTemplate(templateJson, "lustre");
  if (!template.ok) throw new Error(template.problems[0]?.message);
  const answers = {
    title: `${count} pieces`,
    // As many as can be asked for; the rest is started besides.
    wanted: Math.min(count, 20_000),
    currency: "EUR",
    firstPiece: "00001",
    started: "2026-11-25",
  };
  const book = startEdition(template.value, answers, count);
  const route = book.sheets.route.rows;
  const rows = book.sheets.pieces.rows.map((row, at) => piece(row, at, route, fate));
  const loads = new Set(
    rows.flatMap(({ cells }) => Object.keys(cells).flatMap((key) => (key.endsWith(".firing") ? [cells[key]] : []))),
  );
  const firings = [...loads].map((name, at): Row => {
    const id = `f${at}`;
    return { id, cells: { id: String(name), kiln: "Large kiln", basis: "count", meter: 60 + (at % 9) } };
  });
  return {
    ...book,
    sheets: {
      ...book.sheets,
      pieces: { ...book.sheets.pieces, rows },
      firings: { ...book.sheets.firings, rows: firings },
    },
  };
}
