// The cells of a model while a question is compiled: what is known of each column, and which formula fills which cells.
import type { CellName } from "../../core/document/access";
import type { SheetKey } from "../../core/document/workbook";
import type { SheetModel, WorkbookModel } from "../../engine/model";
import { type CellList, isCellError } from "../../engine/values";
import { nodeOf, Unread } from "./formula-node";
import { allNodes, type Node } from "./formula-tree";
import { load, makeRegister, type Pool, type Register, store } from "./registers";
import { type Scalar, typedDay } from "./scalar";

/** Indices of some rows of a column, each list kept once. */
export interface Rows {
  readonly indices: Int32Array;
  /** Whether they follow on one another. */
  readonly isSpan: boolean;
}

const knownPositions = new WeakMap<Rows, ReadonlyMap<number, number>>();

/** Where a row stands in a list of rows; −1 where it does not. */
export function indexIn(rows: Rows, row: number): number {
  const { indices, isSpan } = rows;
  if (isSpan) return indices[row - (indices[0] ?? 0)] === row ? row - (indices[0] ?? 0) : -1;
  let known = knownPositions.get(rows);
  if (!known) {
    known = new Map([...indices].map((one, at) => [one, at]));
    knownPositions.set(rows, known);
  }
  return known.get(row) ?? -1;
}

/** Cells of a column whose values depend on the inputs. */
export interface VaryingPart {
  readonly rows: Rows;
  readonly register: Register;
}

export interface ModelColumn {
  readonly sheet: number;
  readonly column: number;
  readonly height: number;
  /** What is typed, and what formulas give that depend on no input. */
  readonly constants: Register;
  /** Index of the part each cell belongs to; −1 where its value is constant. */
  readonly partOf: Int32Array;
  readonly parts: VaryingPart[];
  /** Index of the group each cell belongs to; −1 where there is no formula. */
  readonly groupOf: Int32Array;
}

/** Cells of one column filled with one formula. */
export interface FormulaGroup {
  readonly sheet: number;
  readonly column: number;
  readonly rows: Int32Array;
  readonly formula: string;
  /** The formula, or why it can't be compiled. */
  readonly node: Node | Unread;
  /** What would stand there if the maker's own formula were cleared. */
  readonly covered?: Node | Unread | undefined;
}

/** Formulas of a model that an earlier question has read. */
const readBefore = new WeakMap<SheetModel["formulas"][number], Node | Unread>();

/** What a question can't be compiled for, with the cell it is about. */
export class Unsupported extends Error {}

export class ModelGrid {
  readonly groups: FormulaGroup[] = [];
  private readonly columns: ModelColumn[][];
  private readonly bases: readonly number[];
  private readonly names: readonly { readonly rows: Map<number, string>; readonly columns: Map<number, string> }[];
  private readonly knownRows = new Map<string, Rows[]>();

  readonly model: WorkbookModel;
  readonly pool: Pool;

  constructor(model: WorkbookModel, pool: Pool) {
    this.model = model;
    this.pool = pool;
    const widths = model.sheets.map((sheet) => Math.max(0, ...sheet.columns.values()) + 1);
    this.columns = model.sheets.map(() => []);
    this.bases = model.sheets.map((_, at) =>
      model.sheets.slice(0, at).reduce((sum, sheet, before) => sum + sheet.height * (widths[before] ?? 0), 0),
    );
    this.names = model.sheets.map((sheet) => ({ rows: inverted(sheet.rows), columns: inverted(sheet.columns) }));
    for (const [at, sheet] of model.sheets.entries()) this.fill(at, sheet);
  }

  /** The column of that index; blank where the model has none there. */
  column(sheet: number, column: number): ModelColumn {
    const columns = this.columns[sheet] ?? [];
    let found = columns[column];
    if (!found) {
      const height = this.model.sheets[sheet]?.height ?? 0;
      found = {
        sheet,
        column,
        height,
        constants: makeRegister(height, undefined),
        partOf: new Int32Array(height).fill(-1),
        parts: [],
        groupOf: new Int32Array(height).fill(-1),
      };
      columns[column] = found;
    }
    return found;
  }

  /** The columns in which something stands. */
  filled(): readonly ModelColumn[] {
    return this.columns.flatMap((columns) => columns.filter((column) => column !== undefined));
  }

  /** The value of a cell in one case of the block that was carried out last; while compiling, that is today. */
  valueAt(column: ModelColumn, row: number, inCase = 0): Scalar {
    const part = column.parts[column.partOf[row] ?? -1];
    if (!part) return load(this.pool, column.constants, row);
    return load(this.pool, part.register, inCase * part.register.width + indexIn(part.rows, row));
  }

  /** The number of a cell, for errors that begin there. */
  cellNumber(sheet: number, column: number, row: number): number {
    return (this.bases[sheet] ?? 0) + column * (this.model.sheets[sheet]?.height ?? 0) + row;
  }

  /** The cell of that number; nothing where the document has none. */
  cellNumbered(number: number): CellName | undefined {
    let sheet = this.bases.length - 1;
    while (sheet > 0 && (this.bases[sheet] ?? 0) > number) sheet -= 1;
    const rest = number - (this.bases[sheet] ?? 0);
    const height = this.model.sheets[sheet]?.height ?? 1;
    return this.nameOf(sheet, Math.floor(rest / height), rest % height);
  }

  nameOf(sheet: number, column: number, row: number): CellName | undefined {
    const id = this.names[sheet]?.rows.get(row);
    const key = this.names[sheet]?.columns.get(column);
    const name = this.model.sheets[sheet]?.sheet;
    return id === undefined || key === undefined || name === undefined
      ? undefined
      : { sheet: name, row: id, column: key };
  }

  /** Where a cell stands; nothing where the document has none of that name. */
  indicesOf(cell: CellName): { readonly sheet: number; readonly column: number; readonly row: number } | undefined {
    const sheet = this.sheetNumber(cell.sheet);
    const model = this.model.sheets[sheet];
    const row = model?.rows.get(cell.row);
    const column = model?.columns.get(cell.column);
    return row === undefined || column === undefined ? undefined : { sheet, column, row };
  }

  /** A list of rows, the same object for the same indices. */
  rows(indices: Int32Array): Rows {
    const [first = -1, last = -1] = [indices[0], indices[indices.length - 1]];
    const name = `${indices.length} ${first} ${last}`;
    const alike = this.knownRows.get(name) ?? [];
    this.knownRows.set(name, alike);
    let found = alike.find((one) => one.indices.every((row, at) => row === indices[at]));
    if (!found) {
      found = { indices, isSpan: last - first + 1 === indices.length };
      alike.push(found);
    }
    return found;
  }

  /** The formula that would stand in a cell if what was typed there were cleared. */
  private coveredAt({ sheet, column }: ModelColumn, row: number): Node | Unread | undefined {
    const covered = this.model.sheets[sheet]?.covered.find((one) => one.column === column && one.row === row);
    if (!covered) return undefined;
    return covered.formula === undefined ? { kind: "empty" } : this.nodeOf(covered.formula, sheet, Int32Array.of(row));
  }

  /** Gives a cell a group of its own, with what its formula or its value covers; nothing where there is no formula. */
  setApart(column: ModelColumn, row: number): number | undefined {
    const covered = this.coveredAt(column, row);
    const number = column.groupOf[row] ?? -1;
    const group = this.groups[number];
    const rows = Int32Array.of(row);
    if (!group) {
      if (!covered) return undefined;
      column.groupOf[row] = this.groups.length;
      return this.groups.push({ sheet: column.sheet, column: column.column, rows, formula: "", node: covered }) - 1;
    }
    const others = group.rows.filter((one) => one !== row);
    const own = others.length === 0 ? number : (this.regroup(number, [others, rows])[1] ?? number);
    if (covered) this.groups[own] = { ...group, rows, covered };
    return own;
  }

  /** Puts other groups in place of one. */
  regroup(group: number, parts: readonly Int32Array[]): number[] {
    const old = this.groups[group];
    if (!old) return [];
    return parts.map((rows, at) => {
      const number = at === 0 ? group : this.groups.length;
      this.groups[number] = { ...old, rows };
      for (const row of rows) this.column(old.sheet, old.column).groupOf[row] = number;
      return number;
    });
  }

  /** The number of a sheet in the order of the model. */
  sheetNumber(key: SheetKey): number {
    return this.model.sheets.findIndex((sheet) => sheet.sheet === key);
  }

  private fill(at: number, sheet: SheetModel): void {
    for (const { column, areDays, values } of sheet.typed) this.type(this.column(at, column), values, areDays);
    for (const filled of sheet.formulas) {
      const { column, formula, rows } = filled;
      const { groupOf } = this.column(at, column);
      for (const row of rows) groupOf[row] = this.groups.length;
      const node = readBefore.get(filled) ?? this.nodeOf(formula, at, rows);
      readBefore.set(filled, node);
      this.groups.push({ sheet: at, column, rows, formula, node });
    }
  }

  private nodeOf(formula: string, sheet: number, rows: Int32Array): Node | Unread {
    if (this.model.excluded.includes(formula)) return new Unread("it takes too long and was set aside");
    const [rowIndex = 0] = rows;
    const row = this.names[sheet]?.rows.get(rowIndex) ?? "";
    try {
      const { sheets, steps } = this.model;
      return nodeOf(formula, { sheets, steps, sheet, row, rowIndex, isFilled: rows.length > 1 });
    } catch (error) {
      if (error instanceof Unread) return error;
      throw error;
    }
  }

  private type(column: ModelColumn, values: CellList, areDays: boolean): void {
    for (let at = 0; at < values.rows.length; at += 1) {
      const value = valueIn(this.model, values, at);
      const typed = areDays && typeof value === "string" ? typedDay(value) : value;
      store(this.pool, column.constants, values.rows[at] ?? 0, typed);
    }
  }
}

/** A value of a list of a model; errors are not among what is typed. */
function valueIn(model: WorkbookModel, values: CellList, at: number): Scalar {
  const other = values.others[at] ?? -1;
  if (other < 0) return values.numbers[at] ?? null;
  const value = model.others[other] ?? null;
  return isCellError(value) ? null : value;
}

function inverted(indices: ReadonlyMap<string, number>): Map<number, string> {
  return new Map([...indices].map(([name, index]) => [index, name]));
}

/** Cells and columns that a formula names. */
export interface Names {
  readonly own: readonly number[];
  readonly cells: readonly { readonly sheet: number; readonly column: number; readonly row: number }[];
  readonly ranges: readonly { readonly sheet: number; readonly column: number }[];
}

const known = new WeakMap<Node, Names>();

/** What a formula names; worked out once for each. */
export function namesIn(node: Node): Names {
  let names = known.get(node);
  if (!names) {
    const nodes = allNodes(node);
    names = {
      own: [...new Set(nodes.flatMap((one) => (one.kind === "own" ? [one.column] : [])))],
      cells: nodes.flatMap((one) => (one.kind === "cell" ? [one] : [])),
      ranges: nodes.flatMap((one) => (one.kind === "range" ? [one] : [])),
    };
    known.set(node, names);
  }
  return names;
}
