// What earlier editions counted and measured, as the next one keeps it. It stands beside the sheets of a document, where
// programs that do not know it let it be.
import * as z from "zod/mini";
import { META_MOST, SHEET_MOST } from "./limits";
import { cellKey, entriesOf, listOf, rowId, text } from "./schema-parts";
import { STEP_KINDS } from "./sheet-keys";

/** Editions one behind the other; the oldest are given up. */
export const SEEN_MOST = 60;
const count = z.int().check(z.minimum(0));

/** So many measured, with their mean and how far they spread: the standard deviation of a sample, 0 for one alone. */
const sample = z.strictObject({ count, mean: z.number(), sd: z.number().check(z.minimum(0)) });

const seenStep = z.strictObject({
  /** The step's id in that edition. */
  step: rowId,
  kind: z.enum(STEP_KINDS),
  title: text(200),
  entered: count,
  lost: count,
  /** Of a step as needed: pieces that came to it or beyond, and those of them that had it. */
  needed: z.optional(z.strictObject({ came: count, had: count })),
  /** By the Route column that plans it, in its unit; `usage` is grams used per gram on the piece, where it was weighed. */
  amounts: entriesOf(cellKey, sample),
});

const seenEdition = z.strictObject({
  /** The id under which that edition was kept, whatever it is called by now; absent where it is not known. */
  id: z.optional(text(64)),
  title: text(META_MOST.title),
  /** The day that edition was started, ISO 8601; blank where it is not known. */
  started: text(META_MOST.started),
  /** Each had a column on Pieces. */
  steps: listOf(seenStep, SHEET_MOST.columns),
});

export const seenSchema = listOf(seenEdition, SEEN_MOST);
