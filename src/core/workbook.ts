// The document: one workbook is one JSON file. Everything else (engine, grid, storage) follows from it.
import { z } from "zod";

// Without this zod probes for `eval`, which a strict content-security policy reports.
z.config({ jitless: true });

/** The newest document format this code writes. */
export const FORMAT_VERSION = 1;

/** Sheets of an edition, in the order in which they are listed. */
export const SHEET_KEYS = ["edition", "route", "materials", "kilns", "firings", "pieces", "results"] as const;
export type SheetKey = (typeof SHEET_KEYS)[number];

const keyPattern = /^[a-z][a-z0-9_]*(\.[a-z][a-z0-9_]*)?$/;
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
  z.strictObject({ f: z.string().max(8000).startsWith("=") }),
]);

const specShape = {
  kind: z.enum(["input", "computed"]),
  type: z.enum(["number", "text", "choice", "date"]),
  format: z.enum(["plain", "whole", "percent", "money"]).optional(),
  decimals: z.int().min(0).max(9).optional(),
  /** The column formula of a computed cell, or the starting value of an input left blank. */
  formula: z.string().max(4000).startsWith("=").optional(),
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

type DeepReadonly<T> = T extends (infer U)[]
  ? readonly DeepReadonly<U>[]
  : T extends object
    ? { readonly [K in keyof T]: DeepReadonly<T[K]> }
    : T;

/** What a cell holds: text, a number, yes/no, or a formula typed by hand. No entry means blank. */
export type Raw = DeepReadonly<z.infer<typeof rawSchema>>;
export type Column = DeepReadonly<z.infer<typeof columnSchema>>;
export type Row = DeepReadonly<z.infer<typeof rowSchema>>;
export type Sheet = DeepReadonly<z.infer<typeof sheetSchema>>;
export type Meta = DeepReadonly<z.infer<typeof metaSchema>>;
export interface Workbook {
  readonly kind: "saggar edition";
  readonly formatVersion: typeof FORMAT_VERSION;
  readonly meta: Meta;
  readonly template: { readonly id: string; readonly version: number };
  readonly sheets: Readonly<Record<SheetKey, Sheet>>;
  /** What a later version wrote and this one does not know; it is kept. */
  readonly [unknown: string]: unknown;
}
/** What a cell may hold and how it is shown: a column's, or a line's own. */
export type CellSpec = NonNullable<Row["line"]>;

export { columnSchema, rowSchema, specShape, workbookSchema };
