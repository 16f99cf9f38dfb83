// The schema of the document, checked whenever an edition comes from outside. Kept apart from the types, so that the
// engine's worker does not carry the checker.
// The small form of zod: it is part of what loads first.
import * as z from "zod/mini";
import { FORMAT_VERSION, SHEET_KEYS, type SheetKey } from "./sheet-keys";

// Without this zod probes for `eval`, which a strict content-security policy reports.
z.config({ jitless: true });

// “constructor” is left out because every object answers to it.
const keyPattern = /^(?!constructor$)[a-z][a-z0-9_]*(\.[a-z][a-z0-9_]*)?$/;
const rowIdPattern = /^[a-z][a-z0-9_]*$/;
/** Text of at most so many characters. */
const text = (most: number) => z.string().check(z.maxLength(most));
const formula = (most: number) => text(most).check(z.startsWith("=", "a formula, which begins with ="));
const shortText = text(300);
const longText = text(5000);
const columnKey = text(60).check(z.regex(keyPattern, "a key of small letters, digits and _"));
const rowId = text(40).check(z.regex(rowIdPattern, "an id of small letters, digits and _"));
const finite = z.number();
const flag = z.optional(z.boolean());

const rawSchema = z.union([text(20_000), finite, z.boolean(), z.strictObject({ f: formula(8000) })]);

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
  cells: z.record(columnKey, rawSchema),
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
  accounts: z.optional(z.record(text(40), text(120))),
  /** Day and first part of the references of the journal. */
  journal: z.optional(z.strictObject({ date: text(10), reference: text(60) })),
});

const workbookSchema = z.looseObject({
  kind: z.literal("saggar edition"),
  formatVersion: z.literal(FORMAT_VERSION),
  meta: metaSchema,
  template: z.strictObject({ id: text(60), version: z.int() }),
  sheets: z.strictObject(
    Object.fromEntries(SHEET_KEYS.map((key) => [key, sheetSchema])) as Record<SheetKey, typeof sheetSchema>,
  ),
});

export { columnSchema, metaSchema, rawSchema, rowSchema, sheetSchema, workbookSchema };
