// How much there may be of everything in a document. The schema and the check of each change both follow from this.

/** Sizes by name: characters of a text, entries of a list, or a list's entries and the size of each. */
export interface Sizes {
  readonly [name: string]: Size;
}
export type Size = number | Sizes | readonly [entries: number, each: Size];

export const KEY_MOST = 60;
export const ROW_ID_MOST = 40;
/** Sheet, row and column with a space between. */
export const CELL_KEY_MOST = KEY_MOST + ROW_ID_MOST + 20;
const TITLE = 300;
const NOTE = 2000;
const DAY = 10;
const CELL = { row: ROW_ID_MOST, column: KEY_MOST };

/** Characters of a text in a cell, and of a formula in a cell. */
export const RAW_MOST = { text: 20_000, f: 8000 } as const;
export const COLUMN_MOST = {
  key: KEY_MOST,
  title: TITLE,
  unit: 40,
  formula: 4000,
  words: 5000,
  choices: [200, TITLE],
  from: 80,
} as const;
/** Each step brings its columns to Pieces: so many columns are 200 to 600 steps. No formula grows with them. */
export const SHEET_MOST = { columns: 2000, rows: 30_000 } as const;
export const META_MOST = {
  title: 200,
  note: 5000,
  started: 30,
  account: 120,
  journal: { date: DAY, reference: 60 },
  reasons: [100, TITLE],
  calendar: { due: DAY, from: DAY, closed: [2000, DAY] },
  order: [2000, 60],
} as const;
const LOG_MOST = {
  at: 30,
  act: 40,
  label: TITLE,
  note: NOTE,
  pieces: [SHEET_MOST.rows, ROW_ID_MOST],
  writes: [300_000, CELL],
  takenBack: 30,
} as const;
const CASE_MOST = { title: TITLE, note: NOTE, changes: [500, CELL] } as const;
const RECIPE_MOST = { title: TITLE, note: NOTE, steps: [20, { title: TITLE }] } as const;
/** Of a kept plan: what its steps may be called, and so many lines, which may be the maker's own too. */
const PLAN_MOST = {
  at: 30,
  steps: [SHEET_MOST.columns, { title: TITLE, who: 40, material: TITLE, kiln: TITLE, programme: TITLE }],
} as const;
export const LISTS_MOST = {
  log: [20_000, LOG_MOST],
  cases: [500, CASE_MOST],
  recipes: [200, RECIPE_MOST],
  ranges: [2000, CELL],
  plans: [2, PLAN_MOST],
  packs: [1000, { from: DAY, to: DAY, at: 30, reference: 60, checksum: 64, pieces: [SHEET_MOST.rows, { state: 20 }] }],
} as const;

/**
 * What the reader takes of something of which there may be `most`: editions saved before changes were held to these
 * sizes open again, and can be made smaller.
 */
export function readable(most: number): number {
  return 4 * most;
}
