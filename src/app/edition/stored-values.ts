// Computed values as they were stored beside a document.
import { SHEET_KEYS } from "../../core/document/workbook";
import type { Patch } from "../../engine/values";

/** Stored values if they have the form of a snapshot; they are only shown until the engine has its own. */
export function readSnapshot(stored: unknown): Patch | undefined {
  const { columns, others } = (stored ?? {}) as { readonly columns?: unknown; readonly others?: unknown };
  if (!Array.isArray(columns) || !Array.isArray(others)) return undefined;
  const isColumn = (entry: Partial<Patch["columns"][number]> | null) => {
    const { places, numbers, others: codes } = entry?.values ?? {};
    return (
      (SHEET_KEYS as readonly unknown[]).includes(entry?.sheet) &&
      typeof entry?.column === "number" &&
      places instanceof Int32Array &&
      numbers instanceof Float64Array &&
      codes instanceof Int32Array &&
      numbers.length === places.length &&
      codes.length === places.length
    );
  };
  return columns.every(isColumn) ? { columns, others } : undefined;
}
