// Every wish to write: worked out from the selection and the model, and reported to the app.
import { type Area, entriesOver, planFill, planPaste } from "./area";
import { formatTabText, type PastedBlock } from "./clipboard-text";
import type { GridEntry, GridEvents } from "./port";
import type { RangeSelector } from "./range";
import { areaOf } from "./selected";
import type { ShownSheet } from "./sheet-view";

/** What can be done to the selected cells. */
export interface GridWriting {
  selectedArea(): Area | undefined;
  typed(entries: readonly GridEntry[]): void;
  clear(): void;
  /** The selected block as tab-separated text; undefined where no cell is selected. */
  copy(): string | undefined;
  paste(block: PastedBlock): void;
  /** Copies the source on over the target. */
  fill(source: Area | undefined, target: Area | undefined): void;
  /** Copies the block's top row down over it; on a single row, the row above. */
  fillDown(): void;
}

/** Binds the writing of a grid to its selection, its view and the app's events. */
export function gridWriting(holder: RangeSelector, view: ShownSheet, events: GridEvents): GridWriting {
  const selectedArea = () => areaOf(holder.getSelectedRangeLast());
  const select = (area: Area) => holder.selectArea(area);
  const write = (entries: readonly GridEntry[], how: Parameters<GridEvents["write"]>[1], overflow = 0) => {
    if (entries.length > 0 || overflow > 0) events.write(entries, how, overflow);
  };
  return {
    selectedArea,
    typed: (entries) => write(entries, "typed"),
    clear: () => {
      const area = selectedArea();
      if (area !== undefined) write(entriesOver(area, "", view.model), "cleared");
    },
    copy: () => {
      const area = selectedArea();
      if (area === undefined) return undefined;
      const columns = view.model.columns.slice(area.left, area.right + 1);
      const rows = view.model.rows.slice(area.top, area.bottom + 1);
      return formatTabText(rows.map((row) => columns.map((column) => events.copyText(row, column.key))));
    },
    paste: (block) => {
      const target = selectedArea();
      if (target === undefined) return;
      if (block.kind === "too-large") {
        write([], "pasted", block.cells);
      } else if (block.rows.length > 0) {
        const { entries, area, overflow } = planPaste(block.rows, target, view.model);
        select(area);
        write(entries, "pasted", overflow);
      }
    },
    fill: (source, target) => {
      if (source === undefined || target === undefined) return;
      const top = Math.min(source.top, target.top);
      const bottom = Math.max(source.bottom, target.bottom);
      select({ ...source, top, bottom });
      write(planFill(source, target, view.model), "filled");
    },
    fillDown: () => {
      const area = selectedArea();
      if (area === undefined) return;
      const isOneRow = area.top === area.bottom;
      const from = isOneRow ? area.top - 1 : area.top;
      const target = isOneRow ? area : { ...area, top: area.top + 1 };
      if (from >= 0) write(planFill({ ...area, top: from, bottom: from }, target, view.model), "filled");
    },
  };
}
