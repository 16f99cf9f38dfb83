// Columns of a file that the sheet does not have and the maker wants to keep: they become columns of the maker's own.
import { applyChange, type Operation } from "../core/document/change";
import { addOwnColumn } from "../core/document/own-edits";
import type { SheetKey, Workbook } from "../core/document/workbook";

const TYPES: Readonly<Record<string, "text" | "number">> = { "+text": "text", "+number": "number" };

export interface OwnColumns {
  /** The workbook with the new columns in it. */
  readonly book: Workbook;
  readonly operations: readonly Operation[];
  /** Column keys for headers, with those of the new columns. */
  readonly columns: Readonly<Record<string, string>>;
}

/** Makes the columns that were asked for; a header that can't be a title is left as an unknown column. */
export function makeOwnColumns(
  book: Workbook,
  sheet: SheetKey,
  header: readonly string[],
  chosen: Readonly<Record<string, string>> = {},
): OwnColumns {
  const columns: Record<string, string> = {};
  const operations: Operation[] = [];
  let grown = book;
  for (const [name, key] of Object.entries(chosen)) {
    const type = TYPES[key];
    if (type === undefined) {
      columns[name] = key;
      continue;
    }
    if (!header.includes(name)) continue;
    const added = addOwnColumn(grown, sheet, { title: name, unit: "", type, formula: "" });
    const [operation] = added.ok ? added.value.operations : [];
    if (!added.ok || operation?.kind !== "add columns") continue;
    grown = applyChange(grown, added.value);
    operations.push(operation);
    columns[name] = operation.columns[0]?.key ?? "";
  }
  return { book: grown, operations, columns };
}
