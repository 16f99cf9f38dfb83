// The schema of what an edition keeps beside its sheets.
import * as z from "zod/mini";
import { LISTS_MOST } from "./limits";
import { cellKey, cells, entriesOf, listOf, raw, rowId, text } from "./schema-parts";
import { SHEET_KEYS, STEP_KINDS } from "./sheet-keys";

const [LOG_MOST, { at, act, label, note, pieces, writes, takenBack }] = LISTS_MOST.log;
const [CASES_MOST, CASE] = LISTS_MOST.cases;
const [RECIPES_MOST, RECIPE] = LISTS_MOST.recipes;
const [RANGES_MOST] = LISTS_MOST.ranges;
const [PLANS_MOST, PLAN] = LISTS_MOST.plans;
const [PACKS_MOST, PACK] = LISTS_MOST.packs;
const share = z.number().check(z.minimum(0), z.maximum(1));
const cell = { sheet: z.enum(SHEET_KEYS), row: rowId, column: cellKey };

/** What was recorded at the bench: when, what, for which pieces, and the cells it wrote, so that it can be taken back. */
const logEntry = z.strictObject({
  id: rowId,
  /** When it was recorded, ISO 8601 with the hour. */
  at: text(at),
  /** What kind of thing was done: one of the page's own words, such as `lost`. */
  act: text(act),
  /** In words: “Lost at Glaze firing: 041, 044”. */
  label: text(label),
  note: z.optional(text(note)),
  /** Row ids of the pieces. */
  pieces: listOf(rowId, pieces[0]),
  writes: listOf(z.strictObject({ ...cell, was: z.optional(raw), is: z.optional(raw) }), writes[0]),
  /** When it was taken back, ISO 8601. */
  takenBack: z.optional(text(takenBack)),
});

/** A named set of changed inputs for a what-if. */
const caseEntry = z.strictObject({
  id: rowId,
  title: text(CASE.title),
  note: z.optional(text(CASE.note)),
  changes: listOf(z.strictObject({ ...cell, value: z.number() }), CASE.changes[0]),
});

/** Extra steps for a flawed piece, kept to be used again. */
const recipeEntry = z.strictObject({
  id: rowId,
  title: text(RECIPE.title),
  note: z.optional(text(RECIPE.note)),
  steps: listOf(
    z.strictObject({ kind: z.enum(STEP_KINDS), title: text(RECIPE.steps[1].title), cells }),
    RECIPE.steps[0],
  ).check(z.minLength(1)),
  /** How likely the piece comes out well. */
  chance: share,
  /** What it is then passed as. */
  grade: z.enum(["good", "second"]),
  /** What it fetches if it comes out well, where it is not the price of its tier. */
  fetches: z.optional(z.number().check(z.minimum(0))),
  /** What it fetches if it fails. */
  failed: z.number().check(z.minimum(0)),
  /** Days it takes, waiting for kilns included. */
  days: z.number().check(z.minimum(0), z.maximum(1000)),
});

/** Between what an input may plausibly lie. */
const rangeEntry = z.strictObject({ id: rowId, ...cell, low: z.number(), high: z.number() });

/** What the Route planned of a step: who it was for and with what, and its planned numbers by Route column. */
const plannedStep = z.strictObject({
  step: rowId,
  title: text(PLAN.steps[1].title),
  kind: z.enum(STEP_KINDS),
  who: z.optional(text(PLAN.steps[1].who)),
  material: z.optional(text(PLAN.steps[1].material)),
  kiln: z.optional(text(PLAN.steps[1].kiln)),
  programme: z.optional(text(PLAN.steps[1].programme)),
  /** By Route column, in its unit; `kiln_wear` is what the kiln wears off a firing. */
  numbers: entriesOf(cellKey, z.number()),
});

/** The plan as it stood on a day, with all that it hung on: what a run is held against. */
const planEntry = z.strictObject({
  id: rowId,
  /** When it was kept, ISO 8601. */
  at: text(PLAN.at),
  /** As the run began; in its place, on purpose; or afterwards, by what the sheets planned then. */
  why: z.enum(["run began", "kept anew", "kept afterwards"]),
  /** Whether loading a kiln carried overhead. */
  loadingCarries: z.boolean(),
  /** Every number of the Edition sheet, by line. */
  lines: entriesOf(rowId, z.number()),
  steps: listOf(plannedStep, PLAN.steps[0]),
});

/** Books of a period that were given out: what was in them, so that the next ones go on from there. Money in minor units. */
const packEntry = z.strictObject({
  id: rowId,
  /** First and last day, ISO 8601, and when it was given out. */
  from: text(PACK.from),
  to: text(PACK.to),
  at: text(PACK.at),
  /** References were this and a number, from the first to the last; first − 1 where there was none. */
  reference: text(PACK.reference),
  first: z.int().check(z.minimum(1)),
  last: z.int().check(z.minimum(0)),
  /** The sum of the debits of its journal, and of the credits. */
  total: z.int(),
  /** SHA-256 of its files, in hexadecimal digits. */
  checksum: text(PACK.checksum),
  /** What each account held at its end: debits above 0. */
  balances: entriesOf(text(40), z.int()),
  /** How each piece stood: kept of the last one only, to name the pieces of a correction. */
  pieces: z.optional(
    listOf(z.strictObject({ piece: rowId, own: z.int(), state: text(PACK.pieces[1].state) }), PACK.pieces[0]),
  ),
});

export const listsSchema = z.strictObject({
  log: listOf(logEntry, LOG_MOST),
  cases: listOf(caseEntry, CASES_MOST),
  recipes: listOf(recipeEntry, RECIPES_MOST),
  ranges: listOf(rangeEntry, RANGES_MOST),
  /** The first plan that was kept and the one that holds; none in an edition from before. */
  plans: z._default(listOf(planEntry, PLANS_MOST), []),
  packs: z._default(listOf(packEntry, PACKS_MOST), []),
});

/** What one entry of each list is. */
export const listEntry = {
  log: logEntry,
  cases: caseEntry,
  recipes: recipeEntry,
  ranges: rangeEntry,
  plans: planEntry,
  packs: packEntry,
} as const;
