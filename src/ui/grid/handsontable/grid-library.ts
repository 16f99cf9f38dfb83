// The parts of the grid library in use, registered once, and the names its types go by here.
import Handsontable from "handsontable/base";
import { Autofill, DragToScroll, NestedHeaders, registerPlugin, TouchScroll } from "handsontable/plugins";
import type { RangeSelector } from "../range";

for (const plugin of [Autofill, DragToScroll, NestedHeaders, TouchScroll]) registerPlugin(plugin);

export { Handsontable };

/** A living grid of the library. */
export type LibraryGrid = ReturnType<typeof Handsontable>;
/** Its settings. */
export type LibrarySettings = NonNullable<Parameters<typeof Handsontable>[1]>;

/** The library's selection, as writing asks for it. */
export const selectorOf = (library: LibraryGrid): RangeSelector => ({
  getSelectedRangeLast: () => library.getSelectedRangeLast(),
  selectArea: ({ top, left, bottom, right }) => library.selectCell(top, left, bottom, right, false),
});
