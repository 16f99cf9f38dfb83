// The page's copy of all computed values.
import type { Change } from "../core/change";
import { SHEET_KEYS, type SheetKey, type Workbook } from "../core/workbook";
import { Others } from "./cell-lists";
import { type Layout, layOut, layoutOf } from "./layout";
import type { CellList, ColumnPatch, Patch, Value } from "./values";

/** Stands where nothing has been said yet. */
const UNKNOWN = -2;

/** A column by place: numbers, and −1 beside them, or where among the others the value is. */
interface HeldColumn {
  readonly numbers: Float64Array;
  readonly codes: Int32Array;
}

/** Computed values, read by name. */
export class ValueStore {
  private readonly layout: Layout;
  private readonly columns = new Map<string, HeldColumn>();
  private readonly others = new Others();

  constructor(book: Workbook) {
    this.layout = layoutOf(book);
  }

  /** Makes room for what a change adds; call it in the same order as the engine applies changes. */
  follow(change: Change): void {
    layOut(this.layout, change);
  }

  /** Takes over values that moved. */
  accept(patch: Patch): void {
    const codes = Int32Array.from(patch.others, (value) => this.others.indexOf(value));
    for (const { sheet, column, values } of patch.columns) {
      const held = this.roomFor(`${sheet} ${column}`, values.places, this.layout[sheet].height);
      for (let at = 0; at < values.places.length; at += 1) {
        const place = values.places[at] ?? 0;
        const code = values.others[at] ?? -1;
        held.numbers[place] = values.numbers[at] ?? 0;
        held.codes[place] = code < 0 ? -1 : (codes[code] ?? UNKNOWN);
      }
    }
  }

  /** The computed value of a cell; undefined where the engine has not said yet. */
  get(sheet: SheetKey, row: string, column: string): Value | undefined {
    const layout = this.layout[sheet];
    const place = layout.columns.get(column);
    const at = layout.rows.get(row);
    const held = place === undefined || at === undefined ? undefined : this.columns.get(`${sheet} ${place}`);
    const code = held?.codes[at ?? 0] ?? UNKNOWN;
    return code === UNKNOWN ? undefined : code < 0 ? held?.numbers[at ?? 0] : this.others.list[code];
  }

  /** Everything held, by the places of a freshly opened `book`, to be shown before its engine is ready. */
  snapshot(book: Workbook): Patch {
    const fresh = layoutOf(book);
    return {
      others: [...this.others.list],
      columns: SHEET_KEYS.flatMap((sheet) => {
        const places = book.sheets[sheet].rows.map(({ id }) => this.layout[sheet].rows.get(id) ?? -1);
        return book.sheets[sheet].columns.flatMap(({ key }): ColumnPatch[] => {
          const held = this.columns.get(`${sheet} ${this.layout[sheet].columns.get(key)}`);
          const column = fresh[sheet].columns.get(key);
          return held && column !== undefined ? [{ sheet, column, values: heldAt(held, places) }] : [];
        });
      }),
    };
  }

  private roomFor(name: string, places: Int32Array, height: number): HeldColumn {
    const held = this.columns.get(name);
    let last = -1;
    for (let at = 0; at < places.length; at += 1) last = Math.max(last, places[at] ?? 0);
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
    this.columns.set(name, wider);
    return wider;
  }
}

/** The known values of a column at the old `places`, listed by the places' order. */
function heldAt({ numbers, codes }: HeldColumn, places: readonly number[]): CellList {
  const known = new Int32Array(places.length);
  const list = new Float64Array(places.length);
  const others = new Int32Array(places.length);
  let count = 0;
  // Written out: a save goes through half a million values of a large edition.
  for (let at = 0; at < places.length; at += 1) {
    const place = places[at] ?? -1;
    const code = codes[place] ?? UNKNOWN;
    if (code === UNKNOWN) continue;
    known[count] = at;
    list[count] = numbers[place] ?? 0;
    others[count] = code;
    count += 1;
  }
  return { places: known.slice(0, count), numbers: list.slice(0, count), others: others.slice(0, count) };
}
