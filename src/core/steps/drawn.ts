// What an edition has really taken of each material, by the day it was recorded, and what it will still need: for the studio's
// shelf. From what was entered, by plain loops, so that a kept edition need not be calculated first.
import { rowOf } from "../document/access";
import type { Raw, Row, Workbook } from "../document/workbook";
import type { Grams } from "../sheets/kinds/kind";
import { amountOf, isFiringStep, rulesOf } from "../sheets/step-kinds";
import { hasHad, isStepFor } from "./piece-steps";

/** Grams of a material that pieces took at a step on a day, or that came back from them. */
export interface MaterialDraw {
  readonly material: string;
  readonly step: string;
  readonly isBack: boolean;
  /** Whether the pieces were lost. */
  readonly isLost: boolean;
  /** ISO 8601; empty where nobody wrote it down. */
  readonly day: string;
  readonly grams: number;
  /** Those of the grams that are on the pieces; the rest is overspray, or left in the brush and the dish. */
  readonly gramsOnPiece: number;
  /** Row ids of the pieces. */
  readonly pieces: readonly string[];
}

/** A step of a route with what it uses, as numbers. */
interface UsingStep {
  readonly row: Row;
  readonly order: number;
  readonly material: string;
  readonly amount: string;
  readonly used: string;
  /** Grams for an amount of a piece that may have an area of its own. */
  readonly grams: (amount: number, own: { readonly area?: number }) => Grams;
}

const numberIn = (raw: Raw | undefined): number | undefined => (typeof raw === "number" ? raw : undefined);

function usingSteps(book: Workbook): readonly UsingStep[] {
  return book.sheets.route.rows.flatMap((row): UsingStep[] => {
    const rules = rulesOf(row);
    const amount = rules && amountOf(rules);
    const { material } = row.cells;
    if (!rules?.material || !amount || typeof material !== "string") return [];
    const { grams, usedColumn } = rules.material;
    const numbers = Object.entries(row.cells).filter(([, raw]) => typeof raw === "number");
    const step = Object.fromEntries(numbers);
    return [
      {
        ...{ row, material, order: Number(row.cells.order) },
        ...{ amount: `${row.id}.${amount.column}`, used: `${row.id}.${usedColumn}` },
        grams: (of, own) => grams(of, step, own),
      },
    ];
  });
}

/** The day of each cell of Pieces that a recording wrote, the last one counts; those taken back do not. */
export function recordedDays(book: Workbook, dayOf: (at: string) => string): ReadonlyMap<string, string> {
  const days = new Map<string, string>();
  for (const { at, writes, takenBack } of book.lists.log) {
    if (takenBack !== undefined) continue;
    const day = dayOf(at);
    for (const { sheet, row, column, is } of writes)
      if (sheet === "pieces" && is !== undefined) days.set(`${row} ${column}`, day);
  }
  return days;
}

/** What an edition has taken; `dayOf` says on which day a moment of the run log was where the maker is. */
export function drawsOf(book: Workbook, dayOf: (at: string) => string): readonly MaterialDraw[] {
  const steps = usingSteps(book);
  const orders = new Map(book.sheets.route.rows.map((row) => [row.id, Number(row.cells.order)]));
  const fired = book.sheets.route.rows.filter(isFiringStep).map((row) => Number(row.cells.order));
  const firstFiring = fired.length === 0 ? undefined : Math.min(...fired);
  const reclaim = numberIn(rowOf(book, "edition", "reclaim")?.cells.value) ?? 0;
  const days = recordedDays(book, dayOf);
  const found = new Map<string, MaterialDraw & { readonly pieces: string[] }>();
  const add = (draw: Omit<MaterialDraw, "pieces">, piece: string) => {
    const key = `${draw.step} ${draw.isBack} ${draw.isLost} ${draw.day}`;
    const { grams = 0, gramsOnPiece = 0, pieces = [] } = found.get(key) ?? {};
    pieces.push(piece);
    const sums = { grams: grams + draw.grams, gramsOnPiece: gramsOnPiece + draw.gramsOnPiece };
    found.set(key, { ...draw, ...sums, pieces });
  };
  for (const piece of book.sheets.pieces.rows) {
    const { lost_at: lostAt } = piece.cells;
    const lost = typeof lostAt === "string" ? orders.get(lostAt) : undefined;
    const day = (column: string) => days.get(`${piece.id} ${column}`) ?? "";
    for (const step of steps) {
      const amount = numberIn(piece.cells[step.amount]);
      if (amount === undefined || (lost !== undefined && lost < step.order)) continue;
      const taken = gramsTaken(step, piece, amount);
      const isLost = lost !== undefined;
      const draw = { material: step.material, step: step.row.id, isLost };
      add({ ...draw, ...taken, isBack: false, day: day(step.amount) }, piece.id);
      const isUnfired = lost !== undefined && firstFiring !== undefined && lost < firstFiring;
      if (!isUnfired || reclaim === 0 || !rulesOf(step.row)?.isMaking) continue;
      add({ ...draw, isBack: true, grams: taken.grams * reclaim, gramsOnPiece: 0, day: day("lost_at") }, piece.id);
    }
  }
  return [...found.values()].filter(({ grams }) => grams > 0);
}

function gramsTaken(step: UsingStep, piece: Row, amount: number): Pick<MaterialDraw, "grams" | "gramsOnPiece"> {
  const area = numberIn(piece.cells[`${step.row.id}.area`]);
  const { gramsOnPiece, gramsUsed } = step.grams(amount, area === undefined ? {} : { area });
  // Weighed, and written over what is calculated.
  const grams = numberIn(piece.cells[step.used]) ?? gramsUsed;
  return { grams, gramsOnPiece: Math.min(gramsOnPiece, grams) };
}

/** Grams that the pieces still to come to a step are expected to take there. */
export interface Need {
  readonly material: string;
  readonly step: string;
  readonly grams: number;
}

/** What an edition will still need: usual grams a piece × pieces to come, less those that the planned losses take before. */
export function needsOf(book: Workbook): readonly Need[] {
  const route = book.sheets.route.rows;
  const steps = new Map(usingSteps(book).map((step) => [step.row.id, step]));
  const needs = new Map<string, number>();
  for (const piece of book.sheets.pieces.rows) {
    if (piece.cells.lost_at !== undefined || piece.cells.grade !== undefined) continue;
    let chance = 1;
    for (const row of route.slice(route.findLastIndex((one) => hasHad(piece, one)) + 1)) {
      const share = isStepFor(row, piece) ? 1 : row.cells.who === "as needed" ? (numberIn(row.cells.needed) ?? 0) : 0;
      const step = steps.get(row.id);
      const usual = step && numberIn(row.cells[amountOfStep(row) ?? ""]);
      if (step && usual !== undefined) {
        const { gramsUsed } = step.grams(usual, {});
        needs.set(row.id, (needs.get(row.id) ?? 0) + chance * share * gramsUsed);
      }
      chance *= 1 - share * (numberIn(row.cells.loss) ?? 0);
    }
  }
  return route.flatMap(({ id }): Need[] => {
    const [material, grams] = [steps.get(id)?.material, needs.get(id) ?? 0];
    return material === undefined || grams === 0 ? [] : [{ material, step: id, grams }];
  });
}

/** The Route column that says how much of its amount a step usually takes. */
function amountOfStep(row: Row): string | undefined {
  const rules = rulesOf(row);
  return rules && amountOf(rules)?.usual;
}
