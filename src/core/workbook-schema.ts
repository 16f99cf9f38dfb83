// The schema of the document, checked whenever an edition comes from outside. Kept apart from the types, so that the
// engine's worker does not carry the checker.
// The small form of zod: it is part of what loads first.
import * as z from "zod/mini";
import { listsSchema } from "./lists-schema";
import { cellKey, cells, entriesOf, formula, rowId, text } from "./schema-parts";
import { FORMAT_VERSION, SHEET_KEYS, type SheetKey } from "./sheet-keys";

const shortText = text(300);
const longText = text(5000);
const columnKey = cellKey;
const finite = z.number();
const flag = z.optional(z.boolean());

const specShape = {
  kind: z.enum(["input", "computed"]),
  type: z.enum(["number", "text", "choice", "date", "time"]),
  format: z.optional(z.enum(["plain", "whole", "percent", "money"])),
  decimals: z.optional(z.int().check(z.minimum(0), z.maximum(9))),
  /** The column formula of a computed cell, or the starting value of an input left blank. */
  formula: z.optional(formula(4000)),
  /** What the formula does, in words. */
  words: z.optional(longText),
  min: z.optional(finite),
  max: z.optional(finite),
  /** Exclusive upper limit. */
  below: z.optional(finite),
  whole: flag,
  required: flag,
  choices: z.optional(z.array(shortText).check(z.maxLength(200))),
  /** `sheet:column` whose values are the choices; renaming one there renames it here. */
  from: z.optional(text(80)),
  /** No other row of the sheet may hold the same text. */
  unique: flag,
};

const columnSchema = z.strictObject({
  key: columnKey,
  title: shortText,
  unit: text(40),
  ...specShape,
  /** Id of the step whose group the column stands in. */
  step: z.optional(rowId),
  /** The column that stays when its step is folded. */
  staysFolded: flag,
  /** Bookkeeping of ours that the grid does not show. */
  hidden: flag,
  width: z.optional(z.int().check(z.minimum(20), z.maximum(600))),
  /** Added by the maker, and so removable. */
  own: flag,
});

const rowSchema = z.strictObject({
  id: rowId,
  cells,
  /** For sheets that read line by line (edition, results): what the row's value is. */
  line: z.optional(z.strictObject(specShape)),
  own: flag,
});

const sheetSchema = z.strictObject({
  title: shortText,
  columns: z.array(columnSchema).check(z.maxLength(2000)),
  rows: z.array(rowSchema).check(z.maxLength(30_000)),
});

const metaSchema = z.strictObject({
  title: text(200).check(z.minLength(1)),
  note: longText,
  currency: z.string().check(z.regex(/^[A-Z]{3}$/, "a three-letter ISO 4217 code")),
  temperature: z.enum(["C", "F"]),
  /** Invented data that must say so. */
  invented: z.boolean(),
  /** Day the edition was started, ISO 8601. */
  started: text(30),
  /** What the maker calls each account of the journal; usual names stand for those left out. */
  accounts: z.optional(entriesOf(text(40), text(120))),
  /** Day and first part of the references of the journal. */
  journal: z.optional(z.strictObject({ date: text(10), reference: text(60) })),
  /** How lengths, areas and weights are shown; what is kept is metric. */
  units: z.optional(z.enum(["metric", "US"])),
  /** Reasons for a loss that the maker chooses from. */
  reasons: z.optional(z.array(shortText).check(z.maxLength(100))),
  /** When the edition is due and when the studio works. Days are ISO 8601, hours are Monday to Sunday. */
  calendar: z.optional(
    z.strictObject({
      due: z.optional(text(10)),
      from: z.optional(text(10)),
      hours: z.array(finite.check(z.minimum(0), z.maximum(24))).check(z.length(7)),
      closed: z.array(text(10)).check(z.maxLength(2000)),
      people: z.int().check(z.minimum(1), z.maximum(100)),
    }),
  ),
  /** What the question of chance is asked with, in the edition's currency a piece. */
  chance: z.optional(
    z.strictObject({
      shortfall: finite.check(z.minimum(0)),
      surplus: finite.check(z.minimum(0)),
      draws: z.int().check(z.minimum(100), z.maximum(1_000_000)),
      seed: z.int(),
    }),
  ),
});

const workbookSchema = z.looseObject({
  kind: z.literal("saggar edition"),
  formatVersion: z.literal(FORMAT_VERSION),
  meta: metaSchema,
  template: z.strictObject({ id: text(60), version: z.int() }),
  sheets: z.strictObject(
    Object.fromEntries(SHEET_KEYS.map((key) => [key, sheetSchema])) as Record<SheetKey, typeof sheetSchema>,
  ),
  lists: listsSchema,
});

export { columnSchema, metaSchema, rowSchema, sheetSchema, workbookSchema };
