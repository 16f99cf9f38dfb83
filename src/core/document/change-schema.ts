// The schema of a change, checked where one is read that was kept apart from the page that made it.
import * as z from "zod/mini";
import type { Change } from "./change";
import { KEY_MOST, LISTS_MOST, RAW_MOST, ROW_ID_MOST, SHEET_MOST } from "./limits";
import { listEntry } from "./lists-schema";
import { cellKey, KEY_PATTERN, listOf, ROW_ID_PATTERN, raw, rowId, text } from "./schema-parts";
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
  z.discriminatedUnion("list", [
    inList("log"),
    inList("cases"),
    inList("recipes"),
    inList("ranges"),
    inList("plans"),
    inList("packs"),
  ]),
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
    const { operations } = (found ?? {}) as { readonly operations?: unknown };
    // A paste writes thousands of plain cells, which the checker takes long over; all else is left to it.
    const rest = Array.isArray(operations) ? operations.filter((one) => !isPlainCell(one)) : operations;
    // What was read is given as it stands: the checker would put its names into another order.
    return changeSchema.safeParse({ ...(found as object), operations: rest }).success ? (found as Change) : undefined;
  } catch {
    return undefined;
  }
}

const PLAIN_FIELDS = new Set(["kind", "sheet", "row", "column", "was", "is"]);

/** Whether an operation writes a number or a short text into a cell, by the rules of the schema. */
function isPlainCell(one: unknown): boolean {
  if (typeof one !== "object" || one === null) return false;
  const { kind, sheet: of, row, column, was, is } = one as Readonly<Record<string, unknown>>;
  return (
    kind === "cell" &&
    SHEET_KEYS.some((key) => key === of) &&
    isName(row, ROW_ID_MOST, ROW_ID_PATTERN) &&
    isName(column, KEY_MOST, KEY_PATTERN) &&
    isPlain(was) &&
    isPlain(is) &&
    Object.keys(one).every((field) => PLAIN_FIELDS.has(field))
  );
}

function isName(name: unknown, most: number, pattern: RegExp): boolean {
  return typeof name === "string" && name.length <= most && pattern.test(name);
}

function isPlain(raw: unknown): boolean {
  return raw === undefined || Number.isFinite(raw) || (typeof raw === "string" && raw.length <= RAW_MOST.text);
}
