// The keys that the shared handler leaves free (see ../grid-keys.ts): arrows, Home and End with Control and Shift, Enter, F2,
// typing, Tab within a block and along the headers; a whole row, column or sheet as in the grid pattern of the ARIA guide
// (Shift+Space, Control+Space, Control+A).
import type { ShownSheet } from "../sheet-view";
import type { EditEnd } from "./cell-editing";
import type { EditedText } from "./cell-field";
import { arrowMove, endMove, type Position, stepAcross } from "./position";
import type { BlockSelection, SelectHow } from "./selection";

export interface CellKeyActions {
  isEditing(): boolean;
  /** Whether the arrows move in the text instead of leaving it. */
  keepsArrows(): boolean;
  /** Opens the cell: on its text, or empty for the text that is being typed. */
  edit(on: EditedText): void;
  /** Closes the editor. */
  finish(as: EditEnd): void;
  /** A page up or down, with a new selection or the one there is. */
  movePage(step: 1 | -1, how: SelectHow): void;
  leave(step: 1 | -1): void;
}

/** Whether the key types a character, also one that is put together (dead keys, input methods). */
function isTyping(event: KeyboardEvent): boolean {
  const isPlain = !event.ctrlKey && !event.metaKey && !event.altKey;
  const isCharacter = event.key.length === 1 || event.key === "Dead" || event.key === "Process";
  return isCharacter && (isPlain || event.getModifierState("AltGraph"));
}

function whereTo(event: KeyboardEvent, from: Position, view: ShownSheet): Position | undefined {
  const toEnd = event.ctrlKey || event.metaKey;
  return (
    arrowMove(from, event.key, view, toEnd ? "end" : "step") ??
    endMove(from, event.key, view, toEnd ? "corner" : "line")
  );
}

function editingKey(
  event: KeyboardEvent,
  selection: BlockSelection,
  view: ShownSheet,
  actions: CellKeyActions,
): boolean {
  if (event.key === "Escape") actions.finish("given up");
  else if (event.key === "Enter" && (event.ctrlKey || event.metaKey)) actions.finish("into block");
  else if (event.key === "Enter") {
    actions.finish("written");
    moveOnFrom(selection, event.shiftKey ? -1 : 1, view);
  } else if (event.key.startsWith("Arrow") && !actions.keepsArrows() && !event.shiftKey && !event.ctrlKey) {
    actions.finish("written");
    const next = selection.highlight && arrowMove(selection.highlight, event.key, view);
    if (next !== undefined && next.row >= 0) selection.selectCell(next.row, next.col);
  } else return false;
  return true;
}

/** After Enter: down a cell, or on through the block. */
function moveOnFrom(selection: BlockSelection, step: 1 | -1, view: ShownSheet): void {
  const { highlight } = selection;
  if (highlight === undefined) return;
  if (selection.isBlock) {
    selection.walk(step, "down");
    return;
  }
  const row = Math.max(0, Math.min(view.model.rows.length - 1, highlight.row + step));
  selection.selectCell(row, highlight.col);
}

function tabKey(event: KeyboardEvent, selection: BlockSelection, view: ShownSheet, actions: CellKeyActions): void {
  const step = event.shiftKey ? -1 : 1;
  const { highlight } = selection;
  if (highlight === undefined || highlight.row >= 0) {
    selection.walk(step, "across");
    event.preventDefault();
    return;
  }
  const next = stepAcross(highlight, step, view);
  if (next.col === highlight.col) {
    actions.leave(step);
    return;
  }
  selection.selectCell(next.row, next.col);
  event.preventDefault();
}

function movingKey(
  event: KeyboardEvent,
  selection: BlockSelection,
  view: ShownSheet,
  actions: CellKeyActions,
): boolean {
  const range = selection.getSelectedRangeLast();
  if (range === undefined || event.altKey) return false;
  if (event.shiftKey && (event.key === "PageUp" || event.key === "PageDown")) {
    actions.movePage(event.key === "PageUp" ? -1 : 1, "extend");
    return true;
  }
  const next = whereTo(event, event.shiftKey ? range.to : range.highlight, view);
  if (next === undefined) return false;
  if (!event.shiftKey) selection.selectCell(next.row, next.col);
  else if (next.row >= 0 && range.from.row >= 0) selection.extendTo(next);
  return true;
}

function wholeKey(event: KeyboardEvent, selection: BlockSelection, view: ShownSheet): boolean {
  const { highlight } = selection;
  const { rows, columns } = view.model;
  if (highlight === undefined || rows.length === 0) return false;
  const { row, col } = highlight;
  const last = { row: rows.length - 1, col: columns.length - 1 };
  const isControl = event.ctrlKey || event.metaKey;
  if (isControl && event.key.toLowerCase() === "a") selection.selectRange({ row: 0, col: 0 }, last);
  else if (event.key === " " && isControl) selection.selectRange({ row: -1, col }, { ...last, col });
  else if (event.key === " " && event.shiftKey && row >= 0) selection.selectRange({ row, col: 0 }, { ...last, row });
  else return false;
  return true;
}

/** Handles a key; what it has no use for is left to the page. */
export function onCellKey(
  event: KeyboardEvent,
  selection: BlockSelection,
  view: ShownSheet,
  actions: CellKeyActions,
): void {
  if (event.isComposing) return;
  if (actions.isEditing()) {
    if (editingKey(event, selection, view, actions)) event.preventDefault();
    return;
  }
  if (event.key === "Tab") {
    if (!event.ctrlKey && !event.altKey && !event.metaKey) tabKey(event, selection, view, actions);
    return;
  }
  if (wholeKey(event, selection, view) || movingKey(event, selection, view, actions)) {
    event.preventDefault();
    return;
  }
  if ((selection.highlight?.row ?? -1) < 0) return;
  const isPlain = !event.ctrlKey && !event.metaKey && !event.altKey;
  if (event.key === "Enter" && isPlain && selection.isBlock) {
    selection.walk(event.shiftKey ? -1 : 1, "down");
    event.preventDefault();
  } else if ((event.key === "Enter" || event.key === "F2") && isPlain) {
    actions.edit("its text");
    event.preventDefault();
  } else if (isTyping(event)) {
    // The character itself goes into the field, which has the focus by the time it is typed.
    actions.edit("nothing");
  }
}
