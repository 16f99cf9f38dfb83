// The schema of what an edition keeps beside its sheets.
import * as z from "zod/mini";
import { cellKey, cells, raw, rowId, text } from "./schema-parts";
import { SHEET_KEYS, STEP_KINDS } from "./sheet-keys";

const shortText = text(300);
const share = z.number().check(z.minimum(0), z.maximum(1));
const cell = { sheet: z.enum(SHEET_KEYS), row: rowId, column: cellKey };

/** What was recorded at the bench: when, what, for which pieces, and the cells it wrote, so that it can be taken back. */
const logEntry = z.strictObject({
  id: rowId,
  /** When it was recorded, ISO 8601 with the hour. */
  at: text(30),
  /** What kind of thing was done: one of the page's own words, such as `lost`. */
  act: text(40),
  /** In words: “Lost at Glaze firing: 041, 044”. */
  label: shortText,
  note: z.optional(text(2000)),
  /** Row ids of the pieces. */
  pieces: z.array(rowId).check(z.maxLength(30_000)),
  writes: z.array(z.strictObject({ ...cell, was: z.optional(raw), is: z.optional(raw) })).check(z.maxLength(300_000)),
  /** When it was taken back, ISO 8601. */
  takenBack: z.optional(text(30)),
});

/** A named set of changed inputs for a what-if. */
const caseEntry = z.strictObject({
  id: rowId,
  title: shortText,
  note: z.optional(text(2000)),
  changes: z.array(z.strictObject({ ...cell, value: z.number() })).check(z.maxLength(500)),
});

/** Extra steps for a flawed piece, kept to be used again. */
const recipeEntry = z.strictObject({
  id: rowId,
  title: shortText,
  note: z.optional(text(2000)),
  steps: z
    .array(z.strictObject({ kind: z.enum(STEP_KINDS), title: shortText, cells }))
    .check(z.minLength(1), z.maxLength(20)),
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

export const listsSchema = z.strictObject({
  log: z.array(logEntry).check(z.maxLength(20_000)),
  cases: z.array(caseEntry).check(z.maxLength(500)),
  recipes: z.array(recipeEntry).check(z.maxLength(200)),
  ranges: z.array(rangeEntry).check(z.maxLength(2000)),
});
