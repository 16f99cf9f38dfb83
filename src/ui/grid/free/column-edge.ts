// The edge of a column's title: dragged, it changes the width; pressed twice, the column fits what stands in it.
import { possibleWidth } from "../sizes";
import { EDGE_CLASS } from "./sheet-head";
import type { GridTable } from "./sheet-table";

interface EdgeActions {
  widthOf(column: number): number;
  resizeColumn(column: number, width: number | "fit"): void;
}

/** Listens to the edges until the signal is given. */
export function listenToEdges(table: GridTable, actions: EdgeActions, signal: AbortSignal): void {
  const { scroller } = table;
  const columnOf = (target: EventTarget | null) =>
    target instanceof Element && target.classList.contains(EDGE_CLASS) ? table.positionOf(target)?.col : undefined;
  scroller.addEventListener(
    "pointerdown",
    (event) => {
      const column = columnOf(event.target);
      if (column === undefined || event.button !== 0) return;
      // Says that the press is taken: nothing is selected by it.
      event.preventDefault();
      const from = event.clientX;
      const before = actions.widthOf(column);
      let shown = before;
      const dragging = new AbortController();
      const stop = AbortSignal.any([dragging.signal, signal]);
      document.addEventListener(
        "pointermove",
        (moved) => {
          const width = possibleWidth(before + moved.clientX - from);
          if (width === shown || moved.pointerId !== event.pointerId) return;
          shown = width;
          actions.resizeColumn(column, width);
        },
        { signal: stop },
      );
      for (const type of ["pointerup", "pointercancel"] as const)
        document.addEventListener(type, () => dragging.abort(), { signal: stop });
    },
    { signal },
  );
  scroller.addEventListener(
    "dblclick",
    (event) => {
      const column = columnOf(event.target);
      if (column !== undefined) actions.resizeColumn(column, "fit");
    },
    { signal },
  );
}
