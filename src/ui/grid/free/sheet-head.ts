// The headers in the page: groups above titles, each drawn once. All scroll sideways together; the frozen ones are moved back.
import { paintColumnHead, paintGroupHead } from "../paint";
import type { HeaderSpan, ShownSheet } from "../sheet-view";
import type { Geometry } from "./geometry";
import type { Position } from "./position";
import { putInOrder } from "./recycle";

interface GroupHead {
  readonly element: HTMLTableCellElement;
  readonly left: number;
  readonly isFrozen: boolean;
}

/** The mark at a title's edge by which the pointer changes its column's width. */
export const EDGE_CLASS = "free-edge";

function headRow(): HTMLTableRowElement {
  const row = document.createElement("tr");
  row.setAttribute("role", "row");
  return row;
}

function makeHead(): HTMLTableCellElement {
  const head = document.createElement("th");
  head.tabIndex = -1;
  head.setAttribute("role", "columnheader");
  return head;
}

function makeTitleHead(): HTMLTableCellElement {
  const head = makeHead();
  const edge = document.createElement("span");
  edge.className = EDGE_CLASS;
  edge.setAttribute("aria-hidden", "true");
  // The box of the title is found as the first child (see paint.ts).
  const box = document.createElement("div");
  box.className = "sheet-head";
  head.append(box, edge);
  return head;
}

export class SheetHead {
  readonly element = document.createElement("thead");
  readonly #view: ShownSheet;
  #titles = new Map<number, HTMLTableCellElement>();
  #groups = new Map<number, HTMLTableCellElement>();
  #frozen: readonly HTMLElement[] = [];
  #groupHeads: readonly GroupHead[] = [];
  readonly #groupRow = headRow();
  readonly #titleRow = headRow();

  constructor(view: ShownSheet) {
    this.#view = view;
    this.element.setAttribute("role", "rowgroup");
  }

  /** Draws the headers over these columns. */
  draw(geometry: Geometry, columns: readonly number[]): void {
    const { hasGroups, model } = this.#view;
    const rows = hasGroups ? [this.#groupRow, this.#titleRow] : [this.#titleRow];
    rows.forEach((row, at) => {
      row.style.height = `${geometry.headHeights[at] ?? 0}px`;
      row.setAttribute("aria-rowindex", String(at + 1));
    });
    this.element.style.width = `${geometry.width}px`;
    putInOrder(this.element, rows);
    const upper: HTMLElement[] = [];
    const lower: HTMLElement[] = [];
    const frozen: HTMLElement[] = [];
    const groupHeads: GroupHead[] = [];
    const titles = new Map<number, HTMLTableCellElement>();
    const groups = new Map<number, HTMLTableCellElement>();
    const seen = new Set<HeaderSpan>();
    for (const index of columns) {
      const span = this.#view.spanAt(index);
      const column = model.columns[index];
      if (span === undefined || column === undefined) continue;
      const isFrozen = index < geometry.frozen;
      if (span.group !== undefined && !seen.has(span)) {
        seen.add(span);
        const last = span.first + span.count - 1;
        const head = this.#groups.get(span.first) ?? makeHead();
        groups.set(span.first, head);
        const left = geometry.leftOf(span.first);
        place(head, left, geometry.rightOf(last) - left, geometry.headHeights[0] ?? 0, isFrozen);
        head.colSpan = span.count;
        head.setAttribute("aria-colspan", String(span.count));
        styleHead(head, span.first, this.#view.endsPart(last));
        paintGroupHead(head, span.group);
        // Over the columns that stay in sight there is nothing to say: a header without a name would be read as one.
        head.setAttribute("role", span.group.title === "" ? "gridcell" : "columnheader");
        upper.push(head);
        groupHeads.push({ element: head, left, isFrozen });
        if (isFrozen) frozen.push(head);
      }
      const isTall = hasGroups && span.group === undefined;
      const head = this.#titles.get(index) ?? makeTitleHead();
      titles.set(index, head);
      const left = geometry.leftOf(index);
      const height = isTall ? geometry.headHeight : (geometry.headHeights.at(-1) ?? 0);
      place(head, left, geometry.rightOf(index) - left, height, isFrozen);
      if (isTall) head.setAttribute("aria-rowspan", "2");
      else head.removeAttribute("aria-rowspan");
      styleHead(head, index, this.#view.endsPart(index));
      paintColumnHead(head, column);
      (isTall ? upper : lower).push(head);
      if (isFrozen) frozen.push(head);
    }
    putInOrder(this.#titleRow, lower);
    putInOrder(this.#groupRow, hasGroups ? upper : []);
    this.#titles = titles;
    this.#groups = groups;
    this.#frozen = frozen;
    this.#groupHeads = groupHeads;
  }

  /** Moves the headers to where the columns were scrolled to; a group's words stay in sight as long as its columns are. */
  scrollTo(left: number, frozenWidth: number): void {
    this.element.style.transform = `translateX(${-left}px)`;
    for (const head of this.#frozen) head.style.transform = `translateX(${left}px)`;
    for (const { element, left: start, isFrozen } of this.#groupHeads) {
      const hidden = isFrozen ? 0 : Math.max(0, left + frozenWidth - start);
      element.style.paddingInlineStart = `${hidden}px`;
    }
  }

  /** The header at a row of headers, counted upwards from −1, and a column. */
  elementAt({ row, col }: Position): HTMLElement | undefined {
    const span = this.#view.spanAt(col);
    if (row === -2 && span?.group !== undefined) return this.#groups.get(span.first);
    return this.#titles.get(col);
  }

  positionOf(element: Element): Position | undefined {
    for (const [col, head] of this.#titles) if (head === element) return { row: -1, col };
    for (const [col, head] of this.#groups) if (head === element) return { row: -2, col };
    return undefined;
  }
}

function place(head: HTMLTableCellElement, left: number, width: number, height: number, isFrozen: boolean): void {
  head.style.left = `${left}px`;
  head.style.width = `${width}px`;
  head.style.height = `${height}px`;
  if (!isFrozen) head.style.transform = "";
  head.toggleAttribute("data-frozen", isFrozen);
}

function styleHead(head: HTMLTableCellElement, column: number, endsPart: boolean): void {
  head.setAttribute("aria-colindex", String(column + 1));
  head.toggleAttribute("data-ends-part", endsPart);
}
