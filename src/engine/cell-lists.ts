// Values of many cells as arrays of numbers: they go from worker to page, and into the browser's database, without being
// copied one by one. What is no number is kept once, in a list beside them.
import type { CellList, Value } from "./values";

/** Values that are no numbers, each kept once. */
export class Others {
  readonly list: Value[] = [];
  private readonly known = new Map<unknown, number>();

  indexOf(value: Value): number {
    const key = typeof value === "object" && value !== null ? JSON.stringify(value) : value;
    // A text may read like the name of an error: texts are kept apart.
    const name = typeof key === "string" && typeof value === "string" ? `"${key}` : key;
    let at = this.known.get(name);
    if (at === undefined) {
      at = this.list.length;
      this.list.push(value);
      this.known.set(name, at);
    }
    return at;
  }
}

/** The values of `rows`; `read` is given an index into them. */
export function cellListOf(
  rows: ArrayLike<number>,
  read: (index: number) => Value,
  others: Pick<Others, "indexOf">,
): CellList {
  const numbers = new Float64Array(rows.length);
  const codes = new Int32Array(rows.length);
  for (let index = 0; index < rows.length; index += 1) {
    const value = read(index);
    const isNumber = typeof value === "number";
    numbers[index] = isNumber ? value : Number.NaN;
    codes[index] = isNumber ? -1 : others.indexOf(value);
  }
  return { rows: Int32Array.from(rows), numbers, others: codes };
}

/** The memory of lists, to be handed over without a copy. */
export function buffersOf(lists: readonly CellList[]): ArrayBuffer[] {
  return lists.flatMap(({ rows, numbers, others }) =>
    [rows, numbers, others].map((array) => array.buffer as ArrayBuffer),
  );
}
