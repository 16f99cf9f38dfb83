// The schema of a change, checked where one is read that was kept apart from the page that made it.
import * as z from "zod/mini";
import type { Change } from "./change";
import { LISTS_MOST, SHEET_MOST } from "./limits";
import { listEntry } from "./lists-schema";
import { cellKey, listOf, raw, rowId, text } from "./schema-parts";
import { SHEET_KEYS } from "./sheet-keys";
import { columnSchema, metaSchema, rowSchema } from "./workbook-schema";

const sheet = z.enum(SHEET_KEYS);
const at = z.int().check(z.minimum(0));
const rows = listOf(rowSchema, SHEET_MOST.rows);
const columns = listOf(columnSchema, SHEET_MOST.columns);

function inList<Name extends keyof typeof listEntry>(name: Name) {
  const entry = z.optional(listEntry[name]);
  return z.strictObject({ kind: z.literal("list"), list: z.literal(name), at, was: entry, is: entry });
}

const operation = z.discriminatedUnion("kind", [
  z.strictObject({
    kind: z.literal("cell"),
    sheet,
    row: rowId,
    column: cellKey,
    was: z.optional(raw),
    is: z.optional(raw),
  }),
  z.strictObject({ kind: z.literal("add rows"), sheet, at, rows }),
  z.strictObject({ kind: z.literal("remove rows"), sheet, at, rows }),
  z.strictObject({ kind: z.literal("add columns"), sheet, at, columns }),
  z.strictObject({ kind: z.literal("remove columns"), sheet, at, columns }),
  z.strictObject({ kind: z.literal("column"), sheet, was: columnSchema, is: columnSchema }),
  z.strictObject({ kind: z.literal("meta"), was: metaSchema, is: metaSchema }),
  z.discriminatedUnion("list", [inList("log"), inList("cases"), inList("recipes"), inList("ranges")]),
]);

const changeSchema = z.strictObject({
  label: z.string(),
  operations: z.array(operation),
  at: z.optional(text(LISTS_MOST.log[1].at)),
});

/** The change in a text; undefined where there is none, or something else stands in it as well. */
export function readChange(written: string): Change | undefined {
  try {
    const found: unknown = JSON.parse(written);
    // What was read is given as it stands: the checker would put its names into another order.
    return changeSchema.safeParse(found).success ? (found as Change) : undefined;
  } catch {
    return undefined;
  }
}
