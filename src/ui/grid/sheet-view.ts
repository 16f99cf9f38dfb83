// The model on show, with indexes for its ids.
import type { GridCell, GridColumn, GridGroup, GridModel } from "./port";

/** Consecutive columns under one group header, or a column that stands alone. */
export interface HeaderSpan {
  readonly group: GridGroup | undefined;
  readonly first: number;
  readonly count: number;
}

/** Groups the columns under their headers; a span never crosses the edge of the frozen columns. */
function headerSpans(model: GridModel): readonly HeaderSpan[] {
  const groups = new Map(model.groups.map((group) => [group.id, group]));
  const spans: HeaderSpan[] = [];
  model.columns.forEach((column, index) => {
    const group = groups.get(column.group);
    const last = spans.at(-1);
    const isSame = group !== undefined && last?.group === group && index !== model.frozen;
    if (isSame) spans[spans.length - 1] = { ...last, count: last.count + 1 };
    else spans.push({ group, first: index, count: 1 });
  });
  return spans;
}

function indexesOf(ids: readonly string[]): ReadonlyMap<string, number> {
  return new Map(ids.map((id, index) => [id, index]));
}

/** Holds the model on show and finds indexes by id and ids by index. */
export class ShownSheet {
  model: GridModel;
  spans: readonly HeaderSpan[];
  #rowIndexes: ReadonlyMap<string, number> | undefined;
  #columnIndexes: ReadonlyMap<string, number>;
  #spanAt: readonly HeaderSpan[];

  constructor(model: GridModel) {
    this.model = model;
    this.spans = headerSpans(model);
    this.#columnIndexes = indexesOf(model.columns.map((column) => column.key));
    this.#spanAt = this.spans.flatMap((span) => Array.from({ length: span.count }, () => span));
  }

  /** Takes another model in. */
  replace(model: GridModel): void {
    if (model.rows !== this.model.rows) this.#rowIndexes = undefined;
    this.model = model;
    this.spans = headerSpans(model);
    this.#columnIndexes = indexesOf(model.columns.map((column) => column.key));
    this.#spanAt = this.spans.flatMap((span) => Array.from({ length: span.count }, () => span));
  }

  rowIndex(row: string): number | undefined {
    this.#rowIndexes ??= indexesOf(this.model.rows);
    return this.#rowIndexes.get(row);
  }

  columnIndex(column: string): number | undefined {
    return this.#columnIndexes.get(column);
  }

  columnAt(index: number): GridColumn | undefined {
    return this.model.columns[index];
  }

  /** The ids of the cell at these indexes, where there is one. */
  cellAt(rowIndex: number, columnIndex: number): GridCell | undefined {
    const row = this.model.rows[rowIndex];
    const column = this.columnAt(columnIndex)?.key;
    return row === undefined || column === undefined ? undefined : { row, column };
  }

  /** What stands above a row, in the cell of a column: the words in the first one, empty in the others. */
  headingAt(row: string, columnIndex: number): string | undefined {
    const heading = this.model.headings?.get(row);
    return heading === undefined || columnIndex === 0 ? heading : "";
  }

  /** The header span over a column. */
  spanAt(index: number): HeaderSpan | undefined {
    return this.#spanAt[index];
  }

  /** Whether any column stands under a group header, so that there is a row of them. */
  get hasGroups(): boolean {
    return this.spans.some((span) => span.group !== undefined);
  }

  /** Whether a stronger line closes the column: the last under a group, or the last before one or before the frozen edge. */
  endsPart(index: number): boolean {
    const span = this.spanAt(index);
    if (span === undefined || index === this.model.frozen - 1) return true;
    if (index !== span.first + span.count - 1) return false;
    return span.group !== undefined || this.spanAt(index + 1)?.group !== undefined;
  }
}
