// The keys of the grid that the library does not know or does otherwise.
//   Tab, Shift+Tab           next or previous cell, over the row's end; past the last cell they leave the grid
//   Escape, then Tab         leaves the grid (with Shift backwards)
//   Page Up, Page Down       a view's height, stopping at the first and last row
//   Delete, Backspace        clears the block
//   Alt+Down                 copies the block's top row down over it; on one row, copies from the row above
//   F1, Alt+Enter, menu key  explains the cell
//   Enter, Space on a header activates the column, folds or unfolds the group
//   Alt+Left, Alt+Right on a header   narrows or widens the column; Alt+Down fits it to what stands in it
// Arrows (up into the headers too), Home, End, Ctrl+arrows, Shift to extend, Enter, F2 and typing are the library's own.

/** What became of a key: done with, left to the browser alone, or free for the library. */
export type KeyFate = "done" | "browser" | "free";

/** What the keys do. */
export interface KeyActions {
  isEditing(): boolean;
  isOnHeader(): boolean;
  isBlock(): boolean;
  /** Moves on by one cell and says whether there was one; closes and reports an open editor first. */
  moveOn(step: 1 | -1): boolean;
  /** Moves by the height of the view. */
  movePage(step: 1 | -1): void;
  leave(step: 1 | -1): void;
  announceLeaving(): void;
  clear(): void;
  fillDown(): void;
  explain(): void;
  activateHeader(): void;
  /** Changes the width of the header's column by so many px, or fits it. */
  resizeColumn(by: number | "fit"): void;
  /** Moves in an open list of choices and says whether there is one. */
  moveChoice(step: 1 | -1): boolean;
}

const ARROW_STEPS: Readonly<Record<string, 1 | -1>> = { ArrowDown: 1, ArrowUp: -1 };

function hasModifier(event: KeyboardEvent): boolean {
  return event.altKey || event.ctrlKey || event.metaKey;
}

function editingKey(event: KeyboardEvent, actions: KeyActions): KeyFate {
  const step = ARROW_STEPS[event.key];
  if (step !== undefined && !event.ctrlKey && !event.shiftKey) return actions.moveChoice(step) ? "done" : "free";
  if (event.key !== "Tab" || hasModifier(event)) return "free";
  actions.moveOn(event.shiftKey ? -1 : 1);
  return "done";
}

const CELL_KEYS: Readonly<Record<string, (actions: KeyActions) => void>> = {
  Delete: (actions) => actions.clear(),
  Backspace: (actions) => actions.clear(),
  // The library's own Page Up runs on into the headers.
  PageUp: (actions) => actions.movePage(-1),
  PageDown: (actions) => actions.movePage(1),
  F1: (actions) => actions.explain(),
  "Alt+Enter": (actions) => actions.explain(),
  ContextMenu: (actions) => actions.explain(),
  "Shift+F10": (actions) => actions.explain(),
  "Alt+ArrowDown": (actions) => actions.fillDown(),
  // The library would write the first cell's value, which the grid does not hold.
  "Control+Enter": () => {},
};

const HEADER_KEYS: Readonly<Record<string, (actions: KeyActions) => void>> = {
  Enter: (actions) => actions.activateHeader(),
  " ": (actions) => actions.activateHeader(),
  "Alt+ArrowLeft": (actions) => actions.resizeColumn(-8),
  "Alt+ArrowRight": (actions) => actions.resizeColumn(8),
  "Alt+ArrowDown": (actions) => actions.resizeColumn("fit"),
};

function nameOfKey(event: KeyboardEvent): string {
  const modifiers = [
    event.ctrlKey || event.metaKey ? "Control+" : "",
    event.altKey ? "Alt+" : "",
    event.shiftKey ? "Shift+" : "",
  ];
  return modifiers.join("") + event.key;
}

function tabKey(step: 1 | -1, isLeaving: boolean, actions: KeyActions): KeyFate {
  if (!isLeaving && (actions.isBlock() || actions.isOnHeader())) return "free";
  if (!isLeaving && actions.moveOn(step)) return "done";
  actions.leave(step);
  return "browser";
}

function cellKey(event: KeyboardEvent, actions: KeyActions): KeyFate {
  const name = nameOfKey(event);
  // A header may stand for the whole column beneath it: what is done to cells is done to those.
  const act = (actions.isOnHeader() ? HEADER_KEYS[name] : undefined) ?? CELL_KEYS[name];
  act?.(actions);
  return act === undefined ? "free" : "done";
}

/** Makes the handler for key presses. */
export function keyHandler(actions: KeyActions): (event: KeyboardEvent) => KeyFate {
  let isLeaving = false;
  return (event) => {
    if (event.isComposing || event.key === "Shift") return "free";
    const wasLeaving = isLeaving;
    isLeaving = false;
    if (actions.isEditing()) return editingKey(event, actions);
    if (event.key === "Tab" && !hasModifier(event)) return tabKey(event.shiftKey ? -1 : 1, wasLeaving, actions);
    if (event.key !== "Escape") return cellKey(event, actions);
    isLeaving = true;
    actions.announceLeaving();
    return "free";
  };
}
