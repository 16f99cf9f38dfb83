// The room in a kiln, plainly. The rule: pieces stand on levels; a level is as high as its tallest piece with what a shelf
// and its gap take, all levels stay within the chamber; there are no more levels than the kiln has (one, with no gap, where
// it does not say), feet side by side take no more than a level's part of the shelf area, and no more pieces go in than the
// kiln has room for. What the kiln does not say is no limit.
import type { Row } from "../../src/core/document/workbook";
import { typedNumber } from "./independent-cells";

export interface Size {
  readonly foot: number;
  readonly height: number;
}

interface Limits {
  readonly levels: number;
  readonly area: number;
  readonly height: number;
  readonly gap: number;
  readonly count: number;
}

function limitsOf(kiln: Row): Limits {
  const said = (key: string) => typedNumber(kiln, key) > 0;
  const levels = said("levels") ? typedNumber(kiln, "levels") : 1;
  return {
    levels,
    area: said("shelf") ? typedNumber(kiln, "shelf") / levels : 1e12,
    height: said("height") ? typedNumber(kiln, "height") : 1e12,
    gap: said("levels") ? typedNumber(kiln, "gap") : 0,
    count: typedNumber(kiln, "capacity"),
  };
}

/** How many pieces of one size go in, level by level. */
export function roomOfKiln(kiln: Row, { foot, height }: Size): number {
  const limits = limitsOf(kiln);
  let pieces = 0;
  let used = 0;
  for (let level = 1; level <= limits.levels && pieces < limits.count; level += 1) {
    used += height + limits.gap;
    if (used > limits.height + 1e-9) break;
    for (let taken = foot; taken <= limits.area + 1e-9 && pieces < limits.count; taken += foot) pieces += 1;
  }
  return pieces;
}

/** What keeps a load out, the single pieces first. */
export function whatKeepsOut(kiln: Row, load: readonly Size[]): string {
  const limits = limitsOf(kiln);
  if (load.length === 0) return "";
  for (const { foot, height } of load) {
    if (height + limits.gap > limits.height + 1e-9) return "a piece is taller than the chamber";
    if (foot > limits.area + 1e-9) return "a piece is wider than a shelf";
  }
  if (load.length > limits.count) return "more pieces than there is room for";
  if (load.reduce((sum, { foot }) => sum + foot, 0) > limits.area * limits.levels + 1e-9)
    return "more shelf than there is";
  return goOnLevels(load, limits) ? "" : "its pieces do not go on the shelves together";
}

/** Tallest first, each on the first level with room: enough for loads whose pieces are alike. */
function goOnLevels(load: readonly Size[], limits: Limits): boolean {
  const free: number[] = [];
  let used = 0;
  for (const { foot, height } of [...load].sort((a, b) => b.height - a.height)) {
    const at = free.findIndex((area) => area + 1e-9 >= foot);
    if (at >= 0) free[at] = (free[at] ?? 0) - foot;
    else {
      used += height + limits.gap;
      if (free.length >= limits.levels || used > limits.height + 1e-9) return false;
      free.push(limits.area - foot);
    }
  }
  return true;
}

/** Pieces in a full load of the like of these. */
export function fullLoadOf(kiln: Row, load: readonly Size[]): number {
  const height = Math.max(...load.map((size) => size.height));
  const foot = load.reduce((sum, size) => sum + size.foot, 0) / load.length;
  return Math.max(load.length, roomOfKiln(kiln, { foot, height }));
}

/** Sizes as they are written: foot, height and how many, the tallest first, a firing step at a time. */
export function writtenSizes(steps: readonly (readonly Size[])[]): string {
  return steps
    .map((sizes) => {
      const sorted = [...sizes].sort((a, b) => b.height - a.height || b.foot - a.foot);
      const parts: string[] = [];
      for (let at = 0; at < sorted.length; ) {
        const { foot, height } = sorted[at] as Size;
        let count = 0;
        while (sorted[at]?.foot === foot && sorted[at]?.height === height) {
          count += 1;
          at += 1;
        }
        parts.push(`${foot} ${height} ${count}`);
      }
      return parts.join(";");
    })
    .join(";");
}
