// What the engine tells the page: values by place, and troubles with what to do about them.
import type { CellName } from "../core/access";
import type { Change } from "../core/change";
import type { SheetKey, Workbook } from "../core/workbook";
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
  private layout: Layout;
  private readonly columns = new Map<string, Value[]>();
  private readonly names = new Map<SheetKey, Map<number, string>>();

  constructor(book: Workbook) {
    this.layout = layoutOf(book);
  }

  /** Makes room for what a change adds; call it in the same order as the engine applies changes. */
  follow(change: Change): void {
    layOut(this.layout, change);
    this.names.clear();
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

  /** Everything held, to be kept beside a document so that it can be shown before the engine is ready. */
  snapshot(): Patch {
    return [...this.columns].map(([name, values]) => {
      const [sheet = "", column = ""] = name.split(" ");
      const known = values.flatMap((value, at) => (value === undefined ? [] : [at]));
      return {
        sheet: sheet as SheetKey,
        column: Number(column),
        places: Int32Array.from(known),
        values: known.map((at) => values[at] ?? null),
      };
    });
  }
}
