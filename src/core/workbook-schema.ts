// The schema of the document, checked whenever an edition comes from outside. Kept apart from the types, so that the
// engine's worker does not carry the checker.
import { z } from "zod";
import { FORMAT_VERSION, SHEET_KEYS, type SheetKey } from "./sheet-keys";

// Without this zod probes for `eval`, which a strict content-security policy reports.
z.config({ jitless: true });

// “constructor” is left out because every object answers to it.
const keyPattern = /^(?!constructor$)[a-z][a-z0-9_]*(\.[a-z][a-z0-9_]*)?$/;
const rowIdPattern = /^[a-z][a-z0-9_]*$/;
const shortText = z.string().max(300);
const longText = z.string().max(5000);
const columnKey = z.string().max(60).regex(keyPattern, "a key of small letters, digits and _");
const rowId = z.string().max(40).regex(rowIdPattern, "an id of small letters, digits and _");
const finite = z.number();

const rawSchema = z.union([
  z.string().max(20_000),
  finite,
  z.boolean(),
  z.strictObject({ f: z.string().max(8000).startsWith("=", "a formula, which begins with =") }),
]);

const specShape = {
  kind: z.enum(["input", "computed"]),
  type: z.enum(["number", "text", "choice", "date", "time"]),
  format: z.enum(["plain", "whole", "percent", "money"]).optional(),
  decimals: z.int().min(0).max(9).optional(),
  /** The column formula of a computed cell, or the starting value of an input left blank. */
  formula: z.string().max(4000).startsWith("=", "a formula, which begins with =").optional(),
  /** What the formula does, in words. */
  words: longText.optional(),
  min: finite.optional(),
  max: finite.optional(),
  /** Exclusive upper limit. */
  below: finite.optional(),
  whole: z.boolean().optional(),
  required: z.boolean().optional(),
  choices: z.array(shortText).max(200).optional(),
  /** `sheet:column` whose values are the choices; renaming one there renames it here. */
  from: z.string().max(80).optional(),
  /** No other row of the sheet may hold the same text. */
  unique: z.boolean().optional(),
};

const columnSchema = z.strictObject({
  key: columnKey,
  title: shortText,
  unit: z.string().max(40),
  ...specShape,
  /** Id of the step whose group the column stands in. */
  step: rowId.optional(),
  /** The column that stays when its step is folded. */
  staysFolded: z.boolean().optional(),
  /** Bookkeeping of ours that the grid does not show. */
  hidden: z.boolean().optional(),
  width: z.int().min(20).max(600).optional(),
  /** Added by the maker, and so removable. */
  own: z.boolean().optional(),
});

const rowSchema = z.strictObject({
  id: rowId,
  cells: z.record(columnKey, rawSchema),
  /** For sheets that read line by line (edition, results): what the row's value is. */
  line: z.strictObject(specShape).optional(),
  own: z.boolean().optional(),
});

const sheetSchema = z.strictObject({
  title: shortText,
  columns: z.array(columnSchema).max(2000),
  rows: z.array(rowSchema).max(30_000),
});

const metaSchema = z.strictObject({
  title: z.string().min(1).max(200),
  note: longText,
  currency: z.string().regex(/^[A-Z]{3}$/, "a three-letter ISO 4217 code"),
  temperature: z.enum(["C", "F"]),
  /** Invented data that must say so. */
  invented: z.boolean(),
  /** Day the edition was started, ISO 8601. */
  started: z.string().max(30),
  /** What the maker calls each account of the journal; usual names stand for those left out. */
  accounts: z.record(z.string().max(40), z.string().max(120)).optional(),
  /** Day and first part of the references of the journal. */
  journal: z.strictObject({ date: z.string().max(10), reference: z.string().max(60) }).optional(),
});

const workbookSchema = z.looseObject({
  kind: z.literal("saggar edition"),
  formatVersion: z.literal(FORMAT_VERSION),
  meta: metaSchema,
  template: z.strictObject({ id: z.string().max(60), version: z.int() }),
  sheets: z.strictObject(
    Object.fromEntries(SHEET_KEYS.map((key) => [key, sheetSchema])) as Record<SheetKey, typeof sheetSchema>,
  ),
});

export { columnSchema, metaSchema, rawSchema, rowSchema, sheetSchema, workbookSchema };
