// Where the numbers of the cost statement stand on the sheets.
import type { CellName } from "../../core/document/access";
import type { Workbook } from "../../core/document/workbook";

/** The row for steps done as needed more often than plan and chance say; it is shown, and stays within the pieces. */
export const REWORK_BEYOND = "Rework beyond plan and chance, within the pieces";

/** The line of Results that shows each row of the statement; rows of materials are shown on Materials. */
export const STATEMENT_LINES: Readonly<Record<string, string>> = {
  Materials: "in_material",
  Moulds: "in_wear",
  "Labour on pieces": "in_labour",
  "Labour at the kiln": "kiln_labour",
  Overhead: "in_overhead",
  "Overhead of loading": "kiln_overhead",
  "Kiln energy": "kiln_energy",
  "Kiln wear": "kiln_wear",
  "Everything put in": "put_in",
  "Clay won back": "reclaimed",
  "Scrap of lost pieces": "scrap",
  "Abnormal loss, a cost of the period": "abnormal",
  "Planned loss that no piece can bear": "unshared",
  "In progress": "full_progress",
  "Cost of finished pieces": "full_finished",
  "of which good pieces": "full_good",
  "of which seconds": "full_second",
  "Cost of sales": "sold_cost",
  "Cost of pieces given away, kept or broken": "gone_cost",
  "Normal loss within the pieces": "normal_borne",
  [REWORK_BEYOND]: "rework_beyond_cost",
  "Firings with nothing in them, a cost of the period": "empty_kiln",
  "Overhead that no hour carries, a cost of the period": "overhead_idle",
  "Left in the moulds": "mould_left",
  "of which charged to the period": "mould_charged",
};

/** The cell that shows the number of a row of the statement; none where no sheet has it. */
export function statementCell(book: Workbook, label: string): CellName | undefined {
  const material = book.sheets.materials.rows.find((one) => one.cells.id === label);
  if (material) return { sheet: "materials", row: material.id, column: "cost" };
  const line = STATEMENT_LINES[label];
  return line === undefined ? undefined : { sheet: "results", row: line, column: "value" };
}
