// The document: one workbook is one JSON file. Everything else (engine, grid, storage) follows from it.
import type * as z from "zod/mini";
import type { listsSchema } from "./lists-schema";
import type { raw } from "./schema-parts";
import { FORMAT_VERSION, type ListKey, SHEET_KEYS, type SheetKey } from "./sheet-keys";
import type { columnSchema, metaSchema, rowSchema, sheetSchema } from "./workbook-schema";

type DeepReadonly<T> = T extends (infer U)[]
  ? readonly DeepReadonly<U>[]
  : T extends object
    ? { readonly [K in keyof T]: DeepReadonly<T[K]> }
    : T;

/** What a cell holds: text, a number, yes/no, or a formula typed by hand. No entry means blank. */
export type Raw = DeepReadonly<z.infer<typeof raw>>;
export type Column = DeepReadonly<z.infer<typeof columnSchema>>;
export type Row = DeepReadonly<z.infer<typeof rowSchema>>;
export type Sheet = DeepReadonly<z.infer<typeof sheetSchema>>;
export type Meta = DeepReadonly<z.infer<typeof metaSchema>>;
/** What is kept beside the sheets, list by list. */
export type Lists = DeepReadonly<z.infer<typeof listsSchema>>;
/** An entry of a list, which has an id. */
export type Entry<K extends ListKey = ListKey> = Lists[K][number];
export interface Workbook {
  readonly kind: "saggar edition";
  readonly formatVersion: typeof FORMAT_VERSION;
  readonly meta: Meta;
  readonly template: { readonly id: string; readonly version: number };
  readonly sheets: Readonly<Record<SheetKey, Sheet>>;
  readonly lists: Lists;
  /** What a later version wrote and this one does not know; it is kept. */
  readonly [unknown: string]: unknown;
}
/** What a cell may hold and how it is shown: a column's, or a line's own. */
export type CellSpec = NonNullable<Row["line"]>;

export { FORMAT_VERSION, type ListKey, SHEET_KEYS, type SheetKey };
