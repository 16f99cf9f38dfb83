// The pointer on the sheet. A mouse or pen selects as it is pressed and draws a block as it is dragged; in the margin at the
// left it takes whole rows. A finger scrolls; a tap selects, a drag that begins in what is selected draws the block out, and a
// tap on the selected cell opens it.
import type { Area } from "../area";
import { listenToEdges } from "./column-edge";
import { drag } from "./drag";
import type { Position } from "./position";
import type { SelectHow } from "./selection";
import type { GridTable } from "./sheet-table";

export interface PointerActions {
  /** Before anything is selected: closes an editor. */
  pressed(): void;
  select(position: Position, how: SelectHow): void;
  extendTo(position: Position): void;
  selectColumns(first: number, last: number): void;
  selectRows(first: number, last: number): void;
  selectedArea(): Area | undefined;
  /** Shows where a fill would reach; undefined when it is over. */
  aimFill(target: Area | undefined): void;
  fill(source: Area, target: Area): void;
  edit(): void;
  explain(position: Position): void;
  toggleGroup(column: number): void;
  activateColumn(column: number): void;
  /** The columns a header stands over. */
  columnsUnder(head: Position): { readonly first: number; readonly last: number };
  widthOf(column: number): number;
  resizeColumn(column: number, width: number | "fit"): void;
}

/** The rows that filling from the source to a row would write. */
function fillTarget(source: Area, row: number): Area | undefined {
  if (row > source.bottom) return { ...source, top: source.bottom + 1, bottom: row };
  if (row < source.top) return { ...source, top: row, bottom: source.top - 1 };
  return undefined;
}

function isIn(area: Area | undefined, { row, col }: Position): boolean {
  return area !== undefined && row >= area.top && row <= area.bottom && col >= area.left && col <= area.right;
}

/** How far from the left edge of the sheet a press takes the whole row, in px: the padding of a cell, as in free-grid.css. */
const MARGIN = 8;

/** The words of a title sort by it; the rest of its header selects the column. A group's header folds it wherever it is pressed. */
function isActingPart(target: EventTarget | null): boolean {
  return target instanceof Element && target.closest(".sheet-head-title, th[data-folds]") !== null;
}

/** What is drawn out while the button is held, until the signal is given. */
function dragsOf(table: GridTable, actions: PointerActions, signal: AbortSignal) {
  return {
    /** The fill, from its handle. */
    fill(event: PointerEvent): void {
      const source = actions.selectedArea();
      if (source === undefined) return;
      drag(table, event, signal, {
        move: (over) => actions.aimFill(fillTarget(source, over.row)),
        end: (over) => {
          actions.aimFill(undefined);
          const target = over && fillTarget(source, over.row);
          if (target !== undefined) actions.fill(source, target);
        },
      });
    },
    block(event: PointerEvent, from: Position): void {
      let last = from;
      drag(table, event, signal, {
        move: (over) => {
          if (over.row === last.row && over.col === last.col) return;
          last = over;
          actions.extendTo(over);
        },
      });
    },
    columns(event: PointerEvent, head: Position): void {
      if (isActingPart(event.target)) return;
      const { first, last } = actions.columnsUnder(head);
      actions.selectColumns(first, last);
      drag(table, event, signal, {
        move: ({ col }) => actions.selectColumns(Math.min(first, col), Math.max(last, col)),
      });
    },
    rows(event: PointerEvent, { row }: Position): void {
      const { top, bottom } = (event.shiftKey && actions.selectedArea()) || { top: row, bottom: row };
      const take = (to: number) => actions.selectRows(to < top ? bottom : top, to);
      take(row);
      drag(table, event, signal, { move: (over) => take(over.row) });
    },
  };
}

const isEditing = ({ target }: Event) => target instanceof HTMLInputElement && target.closest("[data-edited]") !== null;

/** What a press of the pointer does. */
function presser(table: GridTable, actions: PointerActions, signal: AbortSignal) {
  const drags = dragsOf(table, actions, signal);
  const isInMargin = ({ clientX }: PointerEvent) => clientX - table.scroller.getBoundingClientRect().left < MARGIN;
  const isSelected = (position: Position) => isIn(actions.selectedArea(), position);
  const pressOther = (event: PointerEvent, position: Position) => {
    actions.pressed();
    if (event.button === 2 && position.row >= 0 && !isSelected(position)) actions.select(position, "anew");
  };
  const pressCell = (event: PointerEvent, position: Position) => {
    actions.pressed();
    if (isInMargin(event)) return drags.rows(event, position);
    actions.select(position, event.shiftKey ? "extend" : "anew");
    drags.block(event, position);
  };
  return (event: PointerEvent) => {
    const position = isEditing(event) ? undefined : table.positionOf(event.target);
    if (position === undefined || event.defaultPrevented) return;
    if (event.button !== 0) pressOther(event, position);
    else if (table.isHandle(event.target)) drags.fill(event);
    else if (event.pointerType === "touch") {
      if (isSelected(position)) drags.block(event, position);
    } else if (position.row >= 0) pressCell(event, position);
    else {
      actions.pressed();
      drags.columns(event, position);
    }
  };
}

/** What a finger's tap on a cell does. */
function tap(table: GridTable, actions: PointerActions, event: MouseEvent, position: Position): void {
  if (event.target instanceof HTMLInputElement || table.isHandle(event.target)) return;
  const area = actions.selectedArea();
  const isAlone = area !== undefined && area.top === area.bottom && area.left === area.right;
  if (isAlone && isIn(area, position)) actions.edit();
  else {
    actions.pressed();
    actions.select(position, event.shiftKey ? "extend" : "anew");
  }
}

/** Listens to the pointer until the signal is given. */
export function listenToPointer(table: GridTable, actions: PointerActions, signal: AbortSignal): void {
  const { scroller } = table;
  /** Whether a key was pressed since the last press of the pointer: then two presses are no double press. */
  let hasTyped = false;
  let wasFinger = false;
  const onKey = () => {
    hasTyped = true;
  };
  document.addEventListener("keydown", onKey, { signal, capture: true });
  listenToEdges(table, actions, signal);
  const press = presser(table, actions, signal);
  const listen = <Type extends "pointerdown" | "mousedown" | "click" | "dblclick">(
    type: Type,
    listener: (event: HTMLElementEventMap[Type]) => void,
  ) => scroller.addEventListener(type, listener, { signal });
  listen("pointerdown", (event) => {
    wasFinger = event.pointerType === "touch";
    press(event);
  });
  // The focus goes where it is put, and no text is marked.
  listen("mousedown", (event) => {
    if (!isEditing(event) && table.positionOf(event.target) !== undefined) event.preventDefault();
  });
  listen("click", (event) => {
    const position = table.positionOf(event.target);
    if (position === undefined || event.button !== 0) return;
    if (position.row >= 0) {
      if (event.altKey) actions.explain(position);
      else if (wasFinger) tap(table, actions, event, position);
      hasTyped = false;
    } else if (isActingPart(event.target)) {
      actions.pressed();
      if (position.row === -2) actions.toggleGroup(position.col);
      else actions.activateColumn(position.col);
    } else if (wasFinger) {
      const { first, last } = actions.columnsUnder(position);
      actions.selectColumns(first, last);
    }
  });
  listen("dblclick", (event) => {
    const position = table.positionOf(event.target);
    if (position === undefined || position.row < 0 || hasTyped || wasFinger || table.isHandle(event.target)) return;
    if (!(event.target instanceof HTMLInputElement)) actions.edit();
  });
}
