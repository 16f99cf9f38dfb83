// Lines of a file are found on the sheet by the name of their row: the piece number, the material, the firing.
import { LABEL_COLUMNS } from "../core/document/access";
import type { SheetKey, Workbook } from "../core/document/workbook";

/** What a line's name leads to: rows, nothing, or one row that differs only in noughts before its number. */
export type RowMatch =
  | { readonly kind: "rows"; readonly ids: readonly string[] }
  | { readonly kind: "none" }
  | { readonly kind: "zeros"; readonly ids: readonly string[]; readonly label: string };

/** Finds rows of a sheet by name. Names are unique but on sheets that read line by line. */
export function rowFinder(book: Workbook, sheet: SheetKey): (name: string) => RowMatch {
  const key = LABEL_COLUMNS[sheet];
  const exact = new Map<string, string[]>();
  const loose = new Map<string, { ids: readonly string[]; label: string } | undefined>();
  for (const row of book.sheets[sheet].rows) {
    const raw = row.cells[key];
    if (raw === undefined || typeof raw === "object") continue;
    const label = String(raw);
    const same = exact.get(sameLabel(label));
    if (same) same.push(row.id);
    else exact.set(sameLabel(label), [row.id]);
    const bare = withoutZeros(label);
    loose.set(bare, loose.has(bare) ? undefined : { ids: [row.id], label });
  }
  return (name) => {
    const ids = exact.get(sameLabel(name));
    if (ids) return { kind: "rows", ids };
    const near = loose.get(withoutZeros(name));
    return near ? { kind: "zeros", ...near } : { kind: "none" };
  };
}

/** Labels that differ only in case or in spaces at their ends are one and the same. */
export function sameLabel(label: string): string {
  return label.trim().toLowerCase();
}

function withoutZeros(label: string): string {
  return sameLabel(label).replace(/\d+/g, (digits) => digits.replace(/^0+(?=\d)/, ""));
}
