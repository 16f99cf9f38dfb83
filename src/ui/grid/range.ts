// A selected range by index, in terms that both grids share. Row −1 is the row of titles, −2 the row of groups above it.

import type { Area } from "./area";

/** A cell or header by index; a library may leave out what it does not know. */
interface RangeCorner {
  readonly row: number | null;
  readonly col: number | null;
}

/** A selected range: the corners it was drawn between, and the cell in it that has the keyboard. */
export interface CellRange {
  readonly from: RangeCorner;
  readonly to: RangeCorner;
  readonly highlight: RangeCorner;
}

/** Whatever holds the selection of a grid. */
export interface RangeHolder {
  getSelectedRangeLast(): CellRange | undefined;
}

/** Whatever can also change it. */
export interface RangeSelector extends RangeHolder {
  /** Selects a block without scrolling to it. */
  selectArea(area: Area): unknown;
}
