// A pointer held down and moved. While it is beyond an edge of the sheet, the sheet scrolls.
import type { Position } from "./position";
import type { GridTable } from "./sheet-table";

/** What a drag does. */
interface DragActions {
  /** The pointer is over another cell, or the sheet was scrolled under it. */
  move(over: Position): void;
  /** The pointer was let go over a cell, or the drag was broken off. */
  end?(over: Position | undefined): void;
}

/** How far to scroll in one frame while the pointer is beyond an edge. */
function pull(at: number, low: number, high: number): number {
  if (at < low) return Math.max(-60, (at - low) / 2);
  return at > high ? Math.min(60, (at - high) / 2) : 0;
}

/** Follows the pointer until it is let go. */
export function drag(table: GridTable, event: PointerEvent, signal: AbortSignal, actions: DragActions): void {
  const { scroller } = table;
  const { pointerId } = event;
  let { clientX, clientY } = event;
  let frame = 0;
  const dragging = new AbortController();
  const stop = AbortSignal.any([dragging.signal, signal]);
  const over = () => table.positionUnder(clientX, clientY);
  const scroll = () => {
    const box = scroller.getBoundingClientRect();
    const { headHeight, frozenWidth } = table.geometry;
    const down = pull(clientY, box.top + headHeight, box.bottom);
    const across = pull(clientX, box.left + frozenWidth, box.right);
    if (down !== 0 || across !== 0) {
      scroller.scrollBy(across, down);
      table.followScroll();
      actions.move(over());
    }
    frame = requestAnimationFrame(scroll);
  };
  frame = requestAnimationFrame(scroll);
  stop.addEventListener("abort", () => cancelAnimationFrame(frame));
  const listen = (type: "pointermove" | "pointerup" | "pointercancel", act: (event: PointerEvent) => void) =>
    document.addEventListener(type, (moved) => moved.pointerId === pointerId && act(moved), { signal: stop });
  listen("pointermove", (moved) => {
    ({ clientX, clientY } = moved);
    actions.move(over());
  });
  listen("pointerup", (ended) => {
    dragging.abort();
    ({ clientX, clientY } = ended);
    actions.end?.(over());
  });
  listen("pointercancel", () => {
    dragging.abort();
    actions.end?.(undefined);
  });
}
