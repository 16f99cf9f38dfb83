// The selection in ids.
import type { Area } from "./area";
import type { GridSelection } from "./port";
import type { CellRange, RangeHolder } from "./range";
import type { ShownSheet } from "./sheet-view";

/** A range as an area of cells; undefined where it holds headers only. */
export function areaOf(range: CellRange | undefined): Area | undefined {
  if (range === undefined) return undefined;
  const rows = [range.from.row ?? -1, range.to.row ?? -1];
  const columns = [range.from.col ?? -1, range.to.col ?? -1];
  const area = {
    top: Math.max(0, Math.min(...rows)),
    left: Math.max(0, Math.min(...columns)),
    bottom: Math.max(...rows),
    right: Math.max(...columns),
  };
  return area.bottom < 0 || area.right < 0 ? undefined : area;
}

/** The selected block in ids, rows and columns in view order; undefined where no cell is selected. */
export function selectionOf(grid: RangeHolder, view: ShownSheet): GridSelection | undefined {
  const range = grid.getSelectedRangeLast();
  const area = areaOf(range);
  if (range === undefined || area === undefined) return undefined;
  const { model } = view;
  const row = model.rows[Math.max(area.top, range.highlight.row ?? 0)];
  const column = model.columns[Math.max(area.left, range.highlight.col ?? 0)]?.key;
  if (row === undefined || column === undefined) return undefined;
  return {
    anchor: { row, column },
    rows: model.rows.slice(area.top, area.bottom + 1),
    columns: model.columns.slice(area.left, area.right + 1).map((one) => one.key),
  };
}

function isSameList(one: readonly string[], other: readonly string[]): boolean {
  return one.length === other.length && one.every((id, index) => id === other[index]);
}

/** Whether two selections are of the same cells. */
export function isSameSelection(one: GridSelection | undefined, other: GridSelection | undefined): boolean {
  if (one === undefined || other === undefined) return one === other;
  return (
    one.anchor.row === other.anchor.row &&
    one.anchor.column === other.anchor.column &&
    isSameList(one.rows, other.rows) &&
    isSameList(one.columns, other.columns)
  );
}
