// Heights and widths in px that both grids draw to.
import type { GridModel } from "./port";
import type { ShownSheet } from "./sheet-view";

/** Height of a row of cells, of each further line in it, and of a heading above it. */
export const ROW_HEIGHT = 26;
export const LINE_HEIGHT = 17;
export const HEADING_HEIGHT = 32;
const GROUP_ROW_HEIGHT = 27;
const TITLE_ROW_HEIGHT = 27;
const TITLE_WITH_UNIT_ROW_HEIGHT = 42;

/** Heights of the header rows, from the top. */
export function headerHeights(view: ShownSheet): readonly number[] {
  const hasUnits = view.model.columns.some((column) => column.unit !== "");
  const more = ((view.model.titleLines ?? 1) - 1) * LINE_HEIGHT;
  const title = (hasUnits ? TITLE_WITH_UNIT_ROW_HEIGHT : TITLE_ROW_HEIGHT) + more;
  return view.hasGroups ? [GROUP_ROW_HEIGHT, title] : [title];
}

/** The width of the columns that stay in sight. */
export function frozenWidth(model: GridModel): number {
  return model.columns.slice(0, model.frozen).reduce((sum, column) => sum + column.width, 0);
}

const NARROWEST = 32;
const WIDEST = 600;

/** A width that a column can be given. */
export function possibleWidth(width: number): number {
  return Math.round(Math.max(NARROWEST, Math.min(WIDEST, width)));
}
