// The page's copy of all computed values.
import type { CellName } from "../core/document/access";
import type { Change } from "../core/document/change";
import { SHEET_KEYS, type SheetKey, type Workbook } from "../core/document/workbook";
import { Others } from "./cell-lists";
import { type Layout, layOut, layoutOf } from "./layout";
import type { CellList, ColumnPatch, Patch, Value } from "./values";

/** Stands where nothing has been said yet. */
const UNKNOWN = -2;

/** A column by row index: numbers, and −1 beside them, or where among the others the value is. */
interface HeldColumn {
  readonly numbers: Float64Array;
  readonly codes: Int32Array;
}

/** A cell in which the engine says something else than the pending value did; undefined where there was none. */
export interface Difference {
  readonly cell: CellName;
  readonly pending: Value | undefined;
  readonly engine: Value | undefined;
}

/** Computed values, read by name. */
export class ValueStore {
  readonly layout: Layout;
  private readonly columns = new Map<string, HeldColumn>();
  /** Pending values lie over the engine's until the engine has answered. */
  private pending: Map<string, HeldColumn> | undefined;
  /** Cells that the engine moved and no pending value stood for. */
  private missed: { readonly name: string; readonly row: number }[] = [];
  private readonly others = new Others();

  constructor(book: Workbook) {
    this.layout = layoutOf(book);
  }

  /** Makes room for what a change adds; call it in the same order as the engine applies changes. */
  follow(change: Change): void {
    layOut(this.layout, change);
  }

  /** Takes over values that moved; whether one of them moved for which no pending value is shown. */
  accept(patch: Patch): boolean {
    const { pending } = this;
    if (!pending) {
      this.write(this.columns, patch);
      return true;
    }
    let isNews = false;
    this.write(this.columns, patch, (name, before) => {
      const codes = pending.get(name)?.codes;
      return (row, number, code) => {
        if ((codes?.[row] ?? UNKNOWN) !== UNKNOWN || holds(before, row, number, code)) return;
        isNews = true;
        this.missed.push({ name, row });
      };
    });
    return isNews;
  }

  /** Shows values before the engine has said them. */
  showPending(patch: Patch): void {
    this.pending ??= new Map();
    this.write(this.pending, patch);
  }

  /**
   * Shows the engine's values again; the first cell in which they are not what the pending ones said. `isComputed` says of
   * which cells pending values are expected: the engine also names cells in which something was typed.
   */
  dropPending(isComputed: (cell: CellName) => boolean = () => true): Difference | undefined {
    const { pending = new Map<string, HeldColumn>(), missed } = this;
    this.pending = undefined;
    this.missed = [];
    const difference = this.differenceTo(pending);
    if (difference) return difference;
    for (const { name, row } of missed) {
      const found = this.differenceAt(name, row, undefined);
      if (isComputed(found.cell)) return found;
    }
    return undefined;
  }

  /** The first cell in which the engine's values are not these. */
  differenceFrom(patch: Patch): Difference | undefined {
    const others = new Map<string, HeldColumn>();
    this.write(others, patch);
    return this.differenceTo(others);
  }

  private differenceTo(columns: ReadonlyMap<string, HeldColumn>): Difference | undefined {
    for (const [name, column] of columns) {
      const { numbers, codes } = column;
      const held = this.columns.get(name);
      for (let row = 0; held && row < codes.length; row += 1) {
        const isKnown = codes[row] !== UNKNOWN && (held.codes[row] ?? UNKNOWN) !== UNKNOWN;
        if (isKnown && !holds(held, row, numbers[row] ?? 0, codes[row] ?? UNKNOWN))
          return this.differenceAt(name, row, column);
      }
    }
    return undefined;
  }

  private differenceAt(name: string, row: number, pending: HeldColumn | undefined): Difference {
    const [sheet, number] = name.split(" ") as [SheetKey, string];
    const { rows, columns } = this.layout[sheet];
    const keyOf = (indices: ReadonlyMap<string, number>, at: number) =>
      [...indices].find(([, one]) => one === at)?.[0] ?? "";
    return {
      cell: { sheet, row: keyOf(rows, row), column: keyOf(columns, Number(number)) },
      pending: pending && this.valueIn(pending, row),
      engine: this.valueIn(this.columns.get(name), row),
    };
  }

  private valueIn(held: HeldColumn | undefined, row: number): Value | undefined {
    const code = held?.codes[row] ?? UNKNOWN;
    return code === UNKNOWN ? undefined : code < 0 ? held?.numbers[row] : this.others.list[code];
  }

  /** The computed value of a cell; undefined where the engine has not said yet. */
  get(sheet: SheetKey, row: string, column: string): Value | undefined {
    return this.column(sheet, column)(row);
  }

  /** The same for a column, found once for all its rows: they are read before values move again. */
  column(sheet: SheetKey, column: string): (row: string) => Value | undefined {
    const { rows, columns } = this.layout[sheet];
    const name = `${sheet} ${columns.get(column)}`;
    const [pending, confirmed] = [this.pending?.get(name), this.columns.get(name)];
    return (row) => {
      const at = rows.get(row);
      if (at === undefined) return undefined;
      return this.valueIn((pending?.codes[at] ?? UNKNOWN) === UNKNOWN ? confirmed : pending, at);
    };
  }

  /** Everything held, by the indices of a freshly opened `book`, to be shown before its engine is ready. */
  snapshot(book: Workbook): Patch {
    return {
      others: [...this.others.list],
      columns: SHEET_KEYS.flatMap((sheet) => {
        const { rows, columns } = this.layout[sheet];
        const indices = Int32Array.from(book.sheets[sheet].rows.map(({ id }) => rows.get(id) ?? -1));
        const isInOrder = indices.every((row, at) => row === at);
        return book.sheets[sheet].columns.flatMap(({ key }, column): ColumnPatch[] => {
          const held = this.columns.get(`${sheet} ${columns.get(key)}`);
          return held ? [{ sheet, column, values: heldAt(held, indices, isInOrder) }] : [];
        });
      }),
    };
  }

  /** Writes a patch; `observe` is given each column as it was, and what comes into its cells. */
  private write(
    columns: Map<string, HeldColumn>,
    patch: Patch,
    observe?: (name: string, before: HeldColumn) => (row: number, number: number, code: number) => void,
  ): void {
    const known = Int32Array.from(patch.others, (value) => this.others.indexOf(value));
    for (const { sheet, column, values } of patch.columns) {
      const name = `${sheet} ${column}`;
      const first = observe ? undefined : spanOfNumbers(values);
      // A column from its top is taken as it comes.
      if (first === 0 && !columns.has(name)) {
        columns.set(name, { numbers: values.numbers, codes: values.others });
        continue;
      }
      const held = roomFor(columns, name, values.rows, this.layout[sheet].height);
      if (first !== undefined) {
        held.numbers.set(values.numbers, first);
        held.codes.fill(-1, first, first + values.rows.length);
        continue;
      }
      const observeCell = observe?.(name, held);
      for (let at = 0; at < values.rows.length; at += 1) {
        const row = values.rows[at] ?? 0;
        const number = values.numbers[at] ?? 0;
        const other = values.others[at] ?? -1;
        const code = other < 0 ? -1 : (known[other] ?? UNKNOWN);
        observeCell?.(row, number, code);
        held.numbers[row] = number;
        held.codes[row] = code;
      }
    }
  }
}

/** Whether a column holds that value in a row. */
function holds({ numbers, codes }: HeldColumn, row: number, number: number, code: number): boolean {
  return codes[row] === code && (code >= 0 || Object.is(numbers[row], number));
}

/** The first row of numbers that follow on one another; undefined where they do not, or not all are numbers. */
function spanOfNumbers({ rows, others }: CellList): number | undefined {
  const first = rows[0] ?? 0;
  for (let at = 0; at < rows.length; at += 1) if (rows[at] !== first + at || others[at] !== -1) return undefined;
  return first;
}

function roomFor(columns: Map<string, HeldColumn>, name: string, rows: Int32Array, height: number): HeldColumn {
  const held = columns.get(name);
  let last = -1;
  for (let at = 0; at < rows.length; at += 1) last = Math.max(last, rows[at] ?? 0);
  if (held && last < held.codes.length) return held;
  const length = Math.max(height, last + 1);
  const wider: HeldColumn = {
    numbers: new Float64Array(length),
    codes: new Int32Array(length).fill(UNKNOWN),
  };
  if (held) {
    wider.numbers.set(held.numbers);
    wider.codes.set(held.codes);
  }
  columns.set(name, wider);
  return wider;
}

/** The known values of a column of the old `rows`, listed in their order. */
function heldAt({ numbers, codes }: HeldColumn, rows: Int32Array, isInOrder: boolean): CellList {
  // Where all are known, columns share the rows: a save goes through half a million values of a large edition.
  if (isInOrder && codes.length >= rows.length && !codes.subarray(0, rows.length).includes(UNKNOWN))
    return { rows, numbers: numbers.slice(0, rows.length), others: codes.slice(0, rows.length) };
  const known = new Int32Array(rows.length);
  const list = new Float64Array(rows.length);
  const others = new Int32Array(rows.length);
  let count = 0;
  for (let at = 0; at < rows.length; at += 1) {
    const row = rows[at] ?? -1;
    const code = codes[row] ?? UNKNOWN;
    if (code === UNKNOWN) continue;
    known[count] = at;
    list[count] = numbers[row] ?? 0;
    others[count] = code;
    count += 1;
  }
  return { rows: known.slice(0, count), numbers: list.slice(0, count), others: others.slice(0, count) };
}
