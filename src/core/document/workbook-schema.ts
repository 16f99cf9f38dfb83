// The schema of the document, checked whenever an edition comes from outside. Kept apart from the types, so that the
// engine's worker does not carry the checker.
// The small form of zod: it is part of what loads first.
import * as z from "zod/mini";
import { CELL_KEY_MOST, COLUMN_MOST, META_MOST, SHEET_MOST } from "./limits";
import { listsSchema } from "./lists-schema";
import { cellKey, cells, entriesOf, formula, listOf, rowId, text } from "./schema-parts";
import { seenSchema } from "./seen-schema";
import { FORMAT_VERSION, SHEET_KEYS, type SheetKey, STOCK_METHODS } from "./sheet-keys";

const finite = z.number();
const flag = z.optional(z.boolean());

const specShape = {
  kind: z.enum(["input", "computed"]),
  type: z.enum(["number", "text", "choice", "date", "time"]),
  format: z.optional(z.enum(["plain", "whole", "percent", "money"])),
  decimals: z.optional(z.int().check(z.minimum(0), z.maximum(9))),
  /** The column formula of a computed cell, or the starting value of an input left blank. */
  formula: z.optional(formula(COLUMN_MOST.formula)),
  /** What the formula does, in words. */
  words: z.optional(text(COLUMN_MOST.words)),
  min: z.optional(finite),
  max: z.optional(finite),
  /** Exclusive upper limit. */
  below: z.optional(finite),
  whole: flag,
  required: flag,
  choices: z.optional(listOf(text(COLUMN_MOST.choices[1]), COLUMN_MOST.choices[0])),
  /** `sheet:column` whose values are the choices; renaming one there renames it here. */
  from: z.optional(text(COLUMN_MOST.from)),
  /** No other row of the sheet may hold the same text. */
  unique: flag,
};

const width = z.int().check(z.minimum(20), z.maximum(600));

const columnSchema = z.strictObject({
  key: cellKey,
  title: text(COLUMN_MOST.title),
  unit: text(COLUMN_MOST.unit),
  ...specShape,
  /** Id of the step whose group the column stands in. */
  step: z.optional(rowId),
  /** The column that stays when its step is folded. */
  staysFolded: flag,
  /** Bookkeeping of ours that the grid does not show. */
  hidden: flag,
  width: z.optional(width),
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

/** What the maker made different of a column that every edition has. */
const changedColumn = z.strictObject({
  key: cellKey,
  title: z.optional(text(COLUMN_MOST.title)),
  formula: z.optional(formula(COLUMN_MOST.formula)),
  width: z.optional(width),
});

/** A sheet as it is kept: what is the maker's. The columns and lines every edition has come from the code. */
const storedSheet = z.strictObject({
  /** Columns of the maker's own; in formats before 3 every column. */
  columns: listOf(columnSchema, SHEET_MOST.columns),
  changed: z.optional(listOf(changedColumn, SHEET_MOST.columns)),
  /** A line that every edition has is kept without its rules and its words, where the maker left them. */
  rows: listOf(
    z.extend(rowSchema, {
      /** Columns of a line that the maker blanked. */
      blanked: z.optional(listOf(cellKey, SHEET_MOST.columns)),
    }),
    SHEET_MOST.rows,
  ),
});

const metaSchema = z.strictObject({
  title: text(META_MOST.title).check(z.minLength(1)),
  note: text(META_MOST.note),
  currency: z.string().check(z.regex(/^[A-Z]{3}$/, "a three-letter ISO 4217 code")),
  temperature: z.enum(["C", "F"]),
  /** Invented data that must say so. */
  invented: z.boolean(),
  /** Day the edition was started, ISO 8601. */
  started: text(META_MOST.started),
  /** What the maker calls each account of the journal; usual names stand for those left out. */
  accounts: z.optional(entriesOf(text(40), text(META_MOST.account))),
  /** Day and first part of the references of the journal. */
  journal: z.optional(
    z.strictObject({ date: text(META_MOST.journal.date), reference: text(META_MOST.journal.reference) }),
  ),
  /** How lengths, areas and weights are shown; what is kept is metric. */
  units: z.optional(z.enum(["metric", "US"])),
  /** Reasons for a loss that the maker chooses from. */
  reasons: z.optional(listOf(text(META_MOST.reasons[1]), META_MOST.reasons[0])),
  /** When the edition is due and when the studio works. Days are ISO 8601, hours are Monday to Sunday. */
  calendar: z.optional(
    z.strictObject({
      due: z.optional(text(META_MOST.calendar.due)),
      from: z.optional(text(META_MOST.calendar.from)),
      hours: z.array(finite.check(z.minimum(0), z.maximum(24))).check(z.length(7)),
      closed: listOf(text(META_MOST.calendar.closed[1]), META_MOST.calendar.closed[0]),
      people: z.int().check(z.minimum(1), z.maximum(100)),
    }),
  ),
  /** On the studio's shelf: ids of editions in the order in which the maker wants them done; without it, by due date. */
  order: z.optional(listOf(text(META_MOST.order[1]), META_MOST.order[0])),
  /** How the studio's shelf prices what is used; the average where nothing is said. */
  stock: z.optional(z.enum(STOCK_METHODS)),
  /** Amounts that came with the template, by cell, as long as the maker has neither given others nor said that they hold. */
  examples: z.optional(entriesOf(text(CELL_KEY_MOST), finite)),
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

const storedSchema = z.looseObject({
  kind: z.literal("saggar edition"),
  formatVersion: z.literal(FORMAT_VERSION),
  /** Which of the standard sheets the program had that wrote it: an index in `SHEET_CHANGES`. */
  sheetsVersion: z.optional(z.int()),
  meta: metaSchema,
  template: z.strictObject({ id: text(60), version: z.int() }),
  sheets: z.strictObject(
    Object.fromEntries(SHEET_KEYS.map((key) => [key, storedSheet])) as Record<SheetKey, typeof storedSheet>,
  ),
  lists: listsSchema,
  seen: z.optional(seenSchema),
});

export { changedColumn, columnSchema, metaSchema, rowSchema, storedSchema, storedSheet };
