import type { GridModel } from "./port";

/** What a cell's text field is called: its column, its unit and the label of its row. */
export function nameOfCell(model: GridModel, row: string, columnIndex: number): string {
  const column = model.columns[columnIndex];
  const first = model.columns[0];
  const parts = [column?.title, column?.unit, first === undefined ? "" : model.display(row, first.key).text];
  return parts.filter((part) => part !== undefined && part !== "").join(", ");
}
