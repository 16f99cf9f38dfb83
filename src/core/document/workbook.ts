// The document: one workbook is one JSON file. Everything else (engine, grid, storage) follows from it.
import type * as z from "zod/mini";
import type { listsSchema } from "./lists-schema";
import type { raw } from "./schema-parts";
import type { seenSchema } from "./seen-schema";
import { FORMAT_VERSION, type ListKey, SHEET_KEYS, type SheetKey } from "./sheet-keys";
import type { changedColumn, columnSchema, metaSchema, rowSchema, storedSheet } from "./workbook-schema";

type DeepReadonly<T> = T extends (infer U)[]
  ? readonly DeepReadonly<U>[]
  : T extends object
    ? { readonly [K in keyof T]: DeepReadonly<T[K]> }
    : T;

/** What a cell holds: text, a number, yes/no, or a formula typed by hand. No entry means blank. */
export type Raw = DeepReadonly<z.infer<typeof raw>>;
export type Column = DeepReadonly<z.infer<typeof columnSchema>>;
export type Row = DeepReadonly<z.infer<typeof rowSchema>>;
export interface Sheet {
  readonly title: string;
  readonly columns: readonly Column[];
  readonly rows: readonly Row[];
}
export type Meta = DeepReadonly<z.infer<typeof metaSchema>>;
/** What is kept beside the sheets, list by list. */
export type Lists = DeepReadonly<z.infer<typeof listsSchema>>;
/** An entry of a list, which has an id. */
export type ListEntry<K extends ListKey = ListKey> = Lists[K][number];
/** What one edition counted and measured at each step. */
export type SeenEdition = DeepReadonly<z.infer<typeof seenSchema>>[number];
export type SeenStep = SeenEdition["steps"][number];
/** So many measured, their mean and standard deviation. */
export type Sample = SeenStep["amounts"][string];
interface BesideSheets {
  readonly kind: "saggar edition";
  readonly formatVersion: typeof FORMAT_VERSION;
  readonly meta: Meta;
  readonly template: { readonly id: string; readonly version: number };
  readonly lists: Lists;
  /** What was seen in the editions that this one was started from, the oldest first. */
  readonly seen?: readonly SeenEdition[];
  /** What a later version wrote and this one does not know; it is kept. */
  readonly [unknown: string]: unknown;
}
export interface Workbook extends BesideSheets {
  readonly sheets: Readonly<Record<SheetKey, Sheet>>;
}
/** A workbook as it is kept: what is the maker's, without what follows from the code. */
export interface StoredBook extends BesideSheets {
  readonly sheetsVersion?: number;
  readonly sheets: Readonly<Record<SheetKey, StoredSheet>>;
}
export type StoredSheet = DeepReadonly<z.infer<typeof storedSheet>>;
export type ChangedColumn = DeepReadonly<z.infer<typeof changedColumn>>;
/** What a cell may hold and how it is shown: a column's, or a line's own. */
export type CellSpec = NonNullable<Row["line"]>;

export { FORMAT_VERSION, type ListKey, SHEET_KEYS, type SheetKey };
