// In which order groups of cells are computed: what a formula names comes before it. Where filled columns go in a circle
// of which single cells do not, the columns are taken apart.
import { Unread } from "./formula-node";
import type { Node } from "./formula-tree";
import { type FormulaGroup, type ModelGrid, namesIn, Unsupported } from "./grid";

/** More cells than this are not taken apart. */
const MOST_APART = 20_000;

/** The groups that some cells need, each after what it names. `wanted` is asked again when groups were taken apart. */
export function orderGroups(
  grid: ModelGrid,
  wanted: () => readonly number[],
  nameOf: (group: FormulaGroup) => string,
): number[] {
  for (;;) {
    const { order, circle } = search(grid, wanted());
    if (!circle) return order;
    const cells = circle.reduce((sum, number) => sum + (grid.groups[number]?.rows.length ?? 0), 0);
    const first = grid.groups[circle[0] ?? 0];
    const isApart = cells === circle.length;
    if (isApart || cells > MOST_APART)
      throw new Unsupported(`${first ? nameOf(first) : "a formula"} depends on itself`);
    for (const number of circle) {
      const rows = grid.groups[number]?.rows ?? new Int32Array(0);
      if (rows.length > 1)
        grid.regroup(
          number,
          Array.from(rows, (row) => Int32Array.of(row)),
        );
    }
  }
}

/** Groups a group names, without doubles. */
function neededBy(grid: ModelGrid, group: FormulaGroup): readonly number[] {
  const needed = new Set<number>();
  for (const node of [group.node, group.covered])
    if (node && !(node instanceof Unread)) addNamed(needed, grid, group, node);
  needed.delete(-1);
  return [...needed];
}

/** Adds the groups that a formula names in some rows of its column. */
export function addNamed(
  needed: Set<number>,
  grid: ModelGrid,
  { sheet: own, rows }: Pick<FormulaGroup, "sheet" | "rows">,
  node: Node,
): void {
  const names = namesIn(node);
  for (const column of names.own) {
    const { groupOf } = grid.column(own, column);
    let last = -1;
    for (const row of rows) {
      const number = groupOf[row] as number;
      if (number !== last) needed.add(number);
      last = number;
    }
  }
  for (const { sheet, column, row } of names.cells) needed.add(grid.column(sheet, column).groupOf[row] ?? -1);
  for (const { sheet, column } of names.ranges) {
    let last = -1;
    for (const number of grid.column(sheet, column).groupOf) {
      if (number !== last) needed.add(number);
      last = number;
    }
  }
}

interface Visit {
  readonly number: number;
  readonly needs: readonly number[];
  at: number;
}

/** Tarjan's search, without recursion: the order, or the first circle found. */
function search(grid: ModelGrid, wanted: readonly number[]): { readonly order: number[]; readonly circle?: number[] } {
  const index = new Map<number, number>();
  const low = new Map<number, number>();
  const open: number[] = [];
  const isOpen = new Set<number>();
  const order: number[] = [];
  const enter = (number: number): Visit => {
    index.set(number, index.size);
    low.set(number, index.size - 1);
    open.push(number);
    isOpen.add(number);
    const group = grid.groups[number];
    return { number, needs: group ? neededBy(grid, group) : [], at: 0 };
  };
  const lower = (number: number, to: number) => low.set(number, Math.min(low.get(number) ?? to, to));
  for (const start of wanted) {
    const path: Visit[] = index.has(start) ? [] : [enter(start)];
    for (let visit = path.at(-1); visit; visit = path.at(-1)) {
      const next = visit.needs[visit.at];
      visit.at += 1;
      if (next === undefined) {
        path.pop();
        const above = path.at(-1);
        if (above) lower(above.number, low.get(visit.number) ?? 0);
        if (low.get(visit.number) !== index.get(visit.number)) continue;
        const circle = open.splice(open.lastIndexOf(visit.number));
        for (const number of circle) isOpen.delete(number);
        if (circle.length > 1 || visit.needs.includes(visit.number)) return { order, circle };
        order.push(visit.number);
      } else if (!index.has(next)) path.push(enter(next));
      else if (isOpen.has(next)) lower(visit.number, index.get(next) ?? 0);
    }
  }
  return { order };
}
