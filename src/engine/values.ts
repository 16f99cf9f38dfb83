// What the engine tells the page: values by place, and troubles with what to do about them.
import type { CellName } from "../core/access";
import type { Change } from "../core/change";
import { SHEET_KEYS, type SheetKey, type Workbook } from "../core/workbook";
import { type Layout, layOut, layoutOf } from "./layout";

/** An error in a cell: what is wrong, what to do, and the cell where it began. */
export interface Trouble {
  readonly trouble: string;
  readonly message: string;
  readonly from?: CellName;
}

export type Value = number | string | boolean | Trouble | null;

/** Whether a value is an error. */
export function isTrouble(value: Value | undefined): value is Trouble {
  return typeof value === "object" && value !== null;
}

/** Values that moved, column by column. */
export interface ColumnPatch {
  readonly sheet: SheetKey;
  readonly column: number;
  readonly places: Int32Array;
  readonly values: readonly Value[];
}

export type Patch = readonly ColumnPatch[];

/** The page's copy of all computed values, read by name. */
export class ValueStore {
  private readonly layout: Layout;
  private readonly columns = new Map<string, Value[]>();

  constructor(book: Workbook) {
    this.layout = layoutOf(book);
  }

  /** Makes room for what a change adds; call it in the same order as the engine applies changes. */
  follow(change: Change): void {
    layOut(this.layout, change);
  }

  /** Takes over values that moved. */
  accept(patch: Patch): void {
    for (const { sheet, column, places, values } of patch) {
      const name = `${sheet} ${column}`;
      let held = this.columns.get(name);
      if (!held) {
        held = [];
        this.columns.set(name, held);
      }
      for (let at = 0; at < places.length; at += 1) held[places[at] ?? 0] = values[at] ?? null;
    }
  }

  /** The computed value of a cell; undefined where the engine has not said yet. */
  get(sheet: SheetKey, row: string, column: string): Value | undefined {
    const layout = this.layout[sheet];
    const place = layout.columns.get(column);
    const at = layout.rows.get(row);
    return place === undefined || at === undefined ? undefined : this.columns.get(`${sheet} ${place}`)?.[at];
  }

  /** Everything held, by the places of a freshly opened `book`, to be shown before its engine is ready. */
  snapshot(book: Workbook): Patch {
    const fresh = layoutOf(book);
    return [...this.columns].flatMap(([name, values]) => {
      const [sheet = "", place = ""] = name.split(" ");
      const key = SHEET_KEYS.find((candidate) => candidate === sheet);
      const column =
        key && book.sheets[key].columns.find(({ key: at }) => this.layout[key].columns.get(at) === Number(place));
      if (!key || !column) return [];
      const rows = book.sheets[key].rows.filter(({ id }) => values[this.layout[key].rows.get(id) ?? -1] !== undefined);
      return [
        {
          sheet: key,
          column: fresh[key].columns.get(column.key) ?? 0,
          places: Int32Array.from(rows, ({ id }) => fresh[key].rows.get(id) ?? 0),
          values: rows.map(({ id }) => values[this.layout[key].rows.get(id) ?? -1] ?? null),
        },
      ];
    });
  }
}
