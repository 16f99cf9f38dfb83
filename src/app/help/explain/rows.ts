// The tree as it is walked: the lines in sight from top to bottom, each with its level and index, for any way of drawing it.
import { type CellName, cellKeyOf } from "../../../core/document/access";
import type { ExplainedPart, Opened } from "./part";

/** One line in sight. */
export interface Line {
  /** The keys of the lines above it and its own; stays when values move. */
  readonly path: string;
  readonly part: ExplainedPart;
  /** 1 for the whole. */
  readonly level: number;
  readonly isOpen: boolean;
  readonly position: number;
  readonly among: number;
  /** What its formula could not be taken apart into; said of an open line. */
  readonly isCalculated: boolean;
}

/** Opens each part once, however often the tree is drawn. */
export class Opener {
  private readonly opened = new WeakMap<ExplainedPart, Opened>();

  open(part: ExplainedPart): Opened {
    let held = this.opened.get(part);
    if (!held) {
      held = part.open?.() ?? { parts: [], whole: "other" };
      this.opened.set(part, held);
    }
    return held;
  }
}

/** The lines in sight, for the paths that are open. Lines that stand for more of the same give way to them when opened. */
export function linesOf(root: ExplainedPart, isOpen: ReadonlySet<string>, opener: Opener): readonly Line[] {
  const lines: Line[] = [];
  const visit = (part: ExplainedPart, path: string, level: number, position: number, among: number) => {
    const opens = part.open !== undefined && isOpen.has(path);
    const opened = opens ? opener.open(part) : undefined;
    const isCalculated = opened?.whole === "calculated";
    lines.push({ path, part, level, isOpen: opens, position, among, isCalculated });
    if (!opened) return;
    const inside = unrolled(opened.parts, path, isOpen, opener);
    for (const [at, one] of inside.entries()) visit(one.part, one.path, level + 1, at + 1, inside.length);
  };
  visit(root, root.key, 1, 1, 1);
  return lines;
}

interface PartAt {
  readonly part: ExplainedPart;
  readonly path: string;
}

function unrolled(
  parts: readonly ExplainedPart[],
  above: string,
  isOpen: ReadonlySet<string>,
  opener: Opener,
): PartAt[] {
  const lines: PartAt[] = [];
  let rest = parts;
  while (rest.length > 0) {
    const last = rest.at(-1);
    const isUnrolled = last?.role === "more" && isOpen.has(pathOf(above, last));
    const shown = isUnrolled ? rest.slice(0, -1) : rest;
    for (const part of shown) lines.push({ part, path: pathOf(above, part) });
    rest = isUnrolled && last ? opener.open(last).parts : [];
  }
  return lines;
}

/** The path of a part beneath another. */
function pathOf(above: string, part: ExplainedPart): string {
  return `${above} › ${part.key}`;
}

/** The paths to open, and the path of the last line, so that a trail of cells is in sight. */
export function openAlong(
  root: ExplainedPart,
  trail: readonly CellName[],
  opener: Opener,
): { readonly open: readonly string[]; readonly last: string } {
  const open: string[] = [];
  let at: PartAt = { part: root, path: root.key };
  for (const cell of trail.slice(1)) {
    const way = wayTo(at, cellKeyOf(cell), opener);
    if (!way) break;
    open.push(...way.above);
    at = way.found;
  }
  return { open: open.length > 0 ? open : [root.key], last: at.path };
}

/** The way from a line to a cell that its own formula names. */
function wayTo(
  from: PartAt,
  key: string,
  opener: Opener,
): { readonly above: readonly string[]; readonly found: PartAt } | undefined {
  for (const part of opener.open(from.part).parts) {
    const next = { part, path: pathOf(from.path, part) };
    if (part.cell && cellKeyOf(part.cell) === key && part.role !== "working")
      return { above: [from.path], found: next };
    // Into workings, groups and conditions, but not into other cells: those are further along the trail.
    const isInside = part.open !== undefined && !["cell", "more", "breakdown"].includes(part.role);
    const deeper = isInside ? wayTo(next, key, opener) : undefined;
    if (deeper) return { above: [from.path, ...deeper.above], found: deeper.found };
  }
  return undefined;
}
