// Whether what stands in a workbook's cells keeps the rules of its sheets.
import { specOf } from "./access";
import { allowedFor, isAllowed } from "./entry";
import { type Problem, problem } from "./problem";
import { SHEET_KEYS, type Workbook } from "./workbook";

/** Whether every cell of a workbook keeps the rules of its sheet; used when a file is opened. */
export function checkCellsOf(book: Workbook): Problem[] {
  const problems: Problem[] = [];
  for (const key of SHEET_KEYS) {
    const sheet = book.sheets[key];
    const columns = new Map(sheet.columns.map((column) => [column.key, column]));
    for (const row of sheet.rows)
      for (const [name, raw] of Object.entries(row.cells)) {
        const column = columns.get(name);
        const where = `${sheet.title}, row ${row.id}, ${name}`;
        if (!column)
          problems.push(problem({ code: "cell.column", where, found: raw, allowed: "a column of that sheet" }));
        else if (!isAllowed(book, specOf(column, row), raw))
          problems.push(
            problem({ code: "cell.value", where, found: raw, allowed: allowedFor(book, specOf(column, row)) }),
          );
      }
  }
  return problems;
}
