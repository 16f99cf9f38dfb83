// Puts texts and states into cells and titles into headers. Text only: nothing from the data is ever read as markup.
import type { CellDisplay } from "../../app/edition/display";
import type { GridColumn, GridGroup } from "./port";

function setAttribute(element: Element, name: string, value: string | undefined): void {
  if (value === undefined || value === "") element.removeAttribute(name);
  else if (element.getAttribute(name) !== value) element.setAttribute(name, value);
}

/** The states of a cell as words for the style sheet, e.g. "input faded". */
function stateWords(display: CellDisplay): string {
  const words: string[] = [];
  if (display.isInput) words.push("input");
  if (display.isOverride) words.push("override");
  if (display.isDefault) words.push("default");
  if (display.isError) words.push("error");
  if (display.isFaded) words.push("faded");
  return words.join(" ");
}

/** Puts text before whatever else stands in a cell. A text node that is there is kept: a new one would have the browser build the cell anew. */
function setText(cell: Element, text: string): void {
  const first = cell.firstChild;
  if (!(first instanceof Text)) cell.prepend(text);
  else if (first.data !== text) first.data = text;
}

/**
 * Shows a cell as the model displays it, touching only what differs from what the cell shows already. `heading` is what
 * stands above its row: the words in the first cell, empty in the others.
 */
export function paintCell(
  cell: HTMLTableCellElement,
  display: CellDisplay,
  column: GridColumn,
  heading: string | undefined,
): void {
  setText(cell, display.text);
  if (heading === undefined) cell.removeAttribute("data-heading");
  else cell.setAttribute("data-heading", heading);
  cell.toggleAttribute("data-wraps", column.wraps === true);
  setAttribute(cell, "data-state", stateWords(display));
  setAttribute(cell, "data-align", column.align);
  setAttribute(cell, "title", display.description);
  setAttribute(cell, "aria-label", display.description);
  setAttribute(cell, "aria-readonly", display.isInput ? undefined : "true");
  setAttribute(cell, "aria-invalid", display.isError ? "true" : undefined);
}

/** Leaves a cell blank and out of sight: another copy of it lies on top. */
export function paintBlank(cell: HTMLTableCellElement): void {
  if (cell.textContent !== "") cell.textContent = "";
  for (const name of ["data-state", "title", "aria-label"]) cell.removeAttribute(name);
}

function part(tag: string, name: string, text: string): HTMLElement {
  const element = document.createElement(tag);
  element.className = name;
  element.textContent = text;
  return element;
}

/** The box of our own inside a header cell, beside a library's empty label. */
function headBox(header: HTMLTableCellElement): HTMLElement {
  const found = header.querySelector<HTMLElement>(".sheet-head");
  if (found !== null) return found;
  const holder = header.firstElementChild ?? header;
  const box = document.createElement("div");
  box.className = "sheet-head";
  holder.append(box);
  return box;
}

function fill(box: HTMLElement, parts: readonly HTMLElement[]): void {
  const isSame =
    box.children.length === parts.length && parts.every((one, index) => box.children[index]?.isEqualNode(one) ?? false);
  if (!isSame) box.replaceChildren(...parts);
}

/** Title and small print as one phrase; side by side in the page they would be read as one word. */
function spoken(title: string, small: string): string {
  return small === "" ? title : `${title}, ${small}`;
}

/** Shows a group's title, note and fold mark in its header. */
export function paintGroupHead(header: HTMLTableCellElement, group: GridGroup): void {
  const parts = [part("span", "sheet-head-title", group.title)];
  if (group.canFold) {
    const mark = part("span", "sheet-head-fold", group.isFolded ? "▸" : "▾");
    mark.setAttribute("aria-hidden", "true");
    parts.unshift(mark);
  }
  if (group.note !== "") parts.push(part("small", "sheet-head-note", group.note));
  fill(headBox(header), parts);
  setAttribute(header, "data-head", "group");
  setAttribute(header, "data-group", group.id);
  setAttribute(header, "data-folds", group.canFold ? "true" : undefined);
  setAttribute(header, "aria-label", spoken(group.title, group.note));
  setAttribute(header, "aria-expanded", group.canFold ? String(!group.isFolded) : undefined);
  for (const name of ["data-column", "data-align", "title", "aria-sort"]) header.removeAttribute(name);
}

/** Shows a column's title with its unit beneath. */
export function paintColumnHead(header: HTMLTableCellElement, column: GridColumn): void {
  const parts = [part("span", "sheet-head-title", column.title)];
  if (column.unit !== "") parts.push(part("small", "sheet-head-unit", column.unit));
  fill(headBox(header), parts);
  setAttribute(header, "data-head", "column");
  setAttribute(header, "data-column", column.key);
  setAttribute(header, "data-align", column.align);
  setAttribute(header, "aria-label", spoken(column.title, column.unit));
  setAttribute(header, "aria-sort", column.sort);
  for (const name of ["data-group", "data-folds", "aria-expanded", "title"]) header.removeAttribute(name);
}

/** Empties a header cell that a wider or taller neighbour covers. */
export function paintBlankHead(header: HTMLTableCellElement): void {
  fill(headBox(header), []);
  for (const name of ["data-head", "data-group", "data-folds", "data-column", "data-align", "title"]) {
    header.removeAttribute(name);
  }
  for (const name of ["aria-label", "aria-expanded", "aria-sort"]) header.removeAttribute(name);
}
