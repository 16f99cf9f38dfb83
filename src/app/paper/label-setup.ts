// What stands on labels and certificates, and how a sheet of labels is divided; kept in the browser, since the sheets in the
// drawer and the studio's own words are the same for every edition.
import { type Problem, problem } from "../../core/problem";
import type { PAPER_SIZES, PaperSetup } from "../../storage/preferences";

/** What may be left off, in the order in which it stands there. */
export const LABEL_PARTS = ["materials", "firings", "finished", "words", "care", "food"] as const;
export type LabelPart = (typeof LABEL_PARTS)[number];

/** How pieces are numbered: by their own numbers, or the finished ones counted from one. */
const NUMBERINGS = ["own", "counted"] as const;
/** What is said of food: that it is not meant for it, what a laboratory found in the maker's words, or nothing. */
const FOOD_WORDS = ["decoration", "tested", "unsaid"] as const;

/** The measures of a sheet: counts, and millimetres; margins are alike on both sides. */
export interface SheetMeasures {
  readonly columns: number;
  readonly rows: number;
  readonly sideMm: number;
  readonly topMm: number;
  readonly gapAcrossMm: number;
  readonly gapDownMm: number;
}

export interface LabelSetup extends SheetMeasures {
  readonly numbering: (typeof NUMBERINGS)[number];
  readonly without: readonly LabelPart[];
  readonly words: string;
  readonly care: string;
  readonly food: (typeof FOOD_WORDS)[number];
  /** What a laboratory found, in the maker's own words. */
  readonly tested: string;
}

/** Longest text of the maker's own. */
export const WORDS_MOST = 600;

/** The least and the most of each measure, and what it is called. */
export const MEASURES: Readonly<Record<keyof SheetMeasures, readonly [least: number, most: number, title: string]>> = {
  columns: [1, 10, "Labels across"],
  rows: [1, 30, "Labels down"],
  sideMm: [0, 60, "Side margins, mm"],
  topMm: [0, 60, "Top and bottom margins, mm"],
  gapAcrossMm: [0, 40, "Gap across, mm"],
  gapDownMm: [0, 40, "Gap down, mm"],
};
export const MEASURE_NAMES = Object.keys(MEASURES) as (keyof SheetMeasures)[];

const FIRST_SETUP: LabelSetup = {
  ...{ columns: 3, rows: 8, sideMm: 7, topMm: 13, gapAcrossMm: 2.5, gapDownMm: 0 },
  ...{
    numbering: "own",
    without: ["firings", "finished"],
    words: "",
    care: "Wash by hand.",
    food: "decoration",
    tested: "",
  },
};

/** What is kept in the browser, each part that can be read; the others as they are at first. */
export function labelSetupOf(held: Readonly<Record<string, unknown>> = {}): LabelSetup {
  const first = FIRST_SETUP;
  const oneOf = <T extends string>(options: readonly T[], is: unknown, otherwise: T) =>
    options.find((option) => option === is) ?? otherwise;
  const text = (is: unknown, otherwise: string) => (typeof is === "string" ? is.slice(0, WORDS_MOST) : otherwise);
  const without = Array.isArray(held.without) ? held.without : first.without;
  const measures = MEASURE_NAMES.map((name) => [name, isMeasure(name, held[name]) ? held[name] : first[name]]);
  return {
    ...(Object.fromEntries(measures) as unknown as SheetMeasures),
    numbering: oneOf(NUMBERINGS, held.numbering, first.numbering),
    without: LABEL_PARTS.filter((part) => without.includes(part)),
    words: text(held.words, first.words),
    care: text(held.care, first.care),
    food: oneOf(FOOD_WORDS, held.food, first.food),
    tested: text(held.tested, first.tested),
  };
}

function isMeasure(name: keyof SheetMeasures, is: unknown): is is number {
  const [least, most] = MEASURES[name];
  const isWhole = name !== "columns" && name !== "rows" ? true : Number.isInteger(is);
  return typeof is === "number" && is >= least && is <= most && isWhole;
}

// ISO 216: 210 × 297 mm. ANSI/ASME Y14.1: 8.5 × 11 inches, an inch being 25.4 mm (ISO 80000-3).
const PAPERS_MM: Readonly<Record<(typeof PAPER_SIZES)[number], readonly [width: number, height: number]>> = {
  A4: [210, 297],
  Letter: [215.9, 279.4],
};

/** A label smaller than this holds no words; common practice, no source. */
const LEAST_MM = { width: 15, height: 8 };

/** A sheet divided: millimetres from its upper left corner. */
export interface DividedSheet {
  readonly widthMm: number;
  readonly heightMm: number;
  readonly labelWidthMm: number;
  readonly labelHeightMm: number;
  readonly places: readonly { readonly leftMm: number; readonly topMm: number }[];
}

/** Divides a sheet into labels of one size, row by row from the upper left; or says which measure can't be. */
export function divideSheet(setup: SheetMeasures, size: PaperSetup["size"]): DividedSheet | Problem {
  const wrong = MEASURE_NAMES.find((name) => !isMeasure(name, setup[name]));
  if (wrong) {
    const [least, most, title] = MEASURES[wrong];
    const found = Number.isNaN(setup[wrong]) ? "" : setup[wrong];
    return problem({ code: "label.measure", where: title, found, allowed: `a number from ${least} to ${most}` });
  }
  const { columns, rows, sideMm, topMm, gapAcrossMm, gapDownMm } = setup;
  const [widthMm, heightMm] = PAPERS_MM[size];
  const labelWidthMm = (widthMm - 2 * sideMm - (columns - 1) * gapAcrossMm) / columns;
  const labelHeightMm = (heightMm - 2 * topMm - (rows - 1) * gapDownMm) / rows;
  if (labelWidthMm < LEAST_MM.width || labelHeightMm < LEAST_MM.height)
    return problem({
      code: "label.small",
      where: `Labels, ${columns} across and ${rows} down on ${size}`,
      found: `${mm(labelWidthMm)} × ${mm(labelHeightMm)} mm for each`,
      allowed: `${LEAST_MM.width} × ${LEAST_MM.height} mm or more`,
      fix: "Take fewer labels, or smaller margins and gaps.",
    });
  const places = Array.from({ length: columns * rows }, (_, at) => ({
    leftMm: sideMm + (at % columns) * (labelWidthMm + gapAcrossMm),
    topMm: topMm + Math.floor(at / columns) * (labelHeightMm + gapDownMm),
  }));
  return { widthMm, heightMm, labelWidthMm, labelHeightMm, places };
}

const mm = (length: number) => Math.round(length * 10) / 10;

/** Labels on sheets, the first of them at a place counted from one: places before it are left blank on the first sheet only. */
export function onSheets<T>(
  labels: readonly T[],
  perSheet: number,
  start: number,
): readonly (readonly (T | undefined)[])[] {
  const all = [...Array.from({ length: start - 1 }, () => undefined), ...labels];
  return Array.from({ length: Math.ceil(all.length / perSheet) }, (_, at) =>
    all.slice(at * perSheet, (at + 1) * perSheet),
  );
}
