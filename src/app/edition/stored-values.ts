// Computed values as they were stored beside a document.
import { SHEET_KEYS } from "../../core/document/workbook";
import type { ColumnPatch, Patch, Value } from "../../engine/values";

// Until 30 November 2026 the row indices of a column were stored as `places`, and the title of an error as `trouble`.

/** A column as it may be stored. */
type StoredColumn = Omit<ColumnPatch, "values"> & {
  readonly values: Partial<ColumnPatch["values"]> & { readonly places?: Int32Array };
};

/** Stored values if they have the form of a snapshot; they are only shown until the engine has its own. */
export function readSnapshot(stored: unknown): Patch | undefined {
  const { columns: listed, others } = (stored ?? {}) as { readonly columns?: unknown; readonly others?: unknown };
  if (!Array.isArray(listed) || !Array.isArray(others)) return undefined;
  const columns = listed.flatMap((entry: Partial<StoredColumn> | null) => readColumn(entry) ?? []);
  return columns.length === listed.length ? { columns, others: others.map(readOther) } : undefined;
}

function readOther(stored: Value & { readonly trouble?: string }): Value {
  if (typeof stored !== "object" || stored === null) return stored;
  const { trouble, title = trouble ?? "", ...rest } = stored;
  return { title, ...rest };
}

function readColumn(entry: Partial<StoredColumn> | null): ColumnPatch | undefined {
  const { sheet, column } = entry ?? {};
  const { places, rows = places, numbers, others } = entry?.values ?? {};
  const isWhole =
    sheet !== undefined &&
    SHEET_KEYS.includes(sheet) &&
    typeof column === "number" &&
    rows instanceof Int32Array &&
    numbers instanceof Float64Array &&
    others instanceof Int32Array &&
    numbers.length === rows.length &&
    others.length === rows.length;
  return isWhole ? { sheet, column, values: { rows, numbers, others } } : undefined;
}
