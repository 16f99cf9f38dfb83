// Whether what stands in a workbook's cells keeps the rules of its sheets.

import { type Problem, problem } from "../problem";
import { specOf } from "./access";
import { applyChange, type Change } from "./change";
import { allowedFor, isAllowed } from "./entry";
import { type CellSpec, type Raw, SHEET_KEYS, type Workbook } from "./workbook";

/** Whether every cell of a workbook keeps the rules of its sheet; used when a file is opened. */
export function checkCellsOf(book: Workbook): Problem[] {
  const problems: Problem[] = [];
  for (const key of SHEET_KEYS) {
    const sheet = book.sheets[key];
    const columns = new Map(sheet.columns.map((column) => [column.key, column]));
    // A column's values come again and again, and some are looked up in a list: each is judged once.
    const known = new Map<CellSpec, Map<Raw, boolean>>();
    const keepsRules = (spec: CellSpec, raw: Raw) => {
      const judged = known.get(spec) ?? new Map<Raw, boolean>();
      known.set(spec, judged);
      const isGood = judged.get(raw) ?? isAllowed(book, spec, raw);
      judged.set(raw, isGood);
      return isGood;
    };
    for (const row of sheet.rows)
      for (const [name, raw] of Object.entries(row.cells)) {
        const column = columns.get(name);
        if (column && keepsRules(specOf(column, row), raw)) continue;
        const where = `${sheet.title}, row ${row.id}, ${name}`;
        problems.push(
          column
            ? problem({ code: "cell.value", where, found: raw, allowed: allowedFor(book, specOf(column, row)) })
            : problem({ code: "cell.column", where, found: raw, allowed: "a column of that sheet" }),
        );
      }
  }
  return problems;
}

/** The document after changes that belong to it and leave it in keeping with its rules; undefined where they do not. */
export function soundAfter(book: Workbook, changes: readonly Change[]): Workbook | undefined {
  try {
    const after = changes.reduce(applyChange, book);
    return checkCellsOf(after).length === 0 ? after : undefined;
  } catch {
    // A change names what is not there: it does not belong to this document.
    return undefined;
  }
}
