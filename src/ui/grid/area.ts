// Blocks of cells by row and column index, and what pasting into them or filling them down would write.
import type { GridEntry, GridModel } from "./port";

/** A block of cells by index in the view, all four sides inclusive. */
export interface Area {
  readonly top: number;
  readonly left: number;
  readonly bottom: number;
  readonly right: number;
}

/** What a paste would write, the area it covers, and how many of its cells fell outside the sheet. */
export interface PastePlan {
  readonly entries: readonly GridEntry[];
  readonly area: Area;
  readonly overflow: number;
}

function heightOf(area: Area): number {
  return area.bottom - area.top + 1;
}

function widthOf(area: Area): number {
  return area.right - area.left + 1;
}

/** Plans a paste at the selected area; a block that fits the selection a whole number of times is repeated over it. */
export function planPaste(rows: readonly (readonly string[])[], target: Area, model: GridModel): PastePlan {
  const width = rows.reduce((widest, row) => Math.max(widest, row.length), 1);
  const height = Math.max(1, rows.length);
  const fits = heightOf(target) % height === 0 && widthOf(target) % width === 0;
  const down = fits ? heightOf(target) / height : 1;
  const across = fits ? widthOf(target) / width : 1;
  const entries: GridEntry[] = [];
  let overflow = 0;
  for (let line = 0; line < height * down; line += 1) {
    const row = model.rows[target.top + line];
    const texts = rows[line % height] ?? [];
    for (let step = 0; step < width * across; step += 1) {
      const typed = texts[step % width];
      if (typed === undefined) continue;
      const column = model.columns[target.left + step];
      if (row === undefined || column === undefined) overflow += 1;
      else entries.push({ row, column: column.key, typed });
    }
  }
  const bottom = Math.min(model.rows.length, target.top + height * down) - 1;
  const right = Math.min(model.columns.length, target.left + width * across) - 1;
  return { entries, overflow, area: { top: target.top, left: target.left, bottom, right } };
}

/** What filling writes: each target cell takes the edit text of the source row it repeats, counted from the source's top. */
export function planFill(source: Area, target: Area, model: GridModel): readonly GridEntry[] {
  const entries: GridEntry[] = [];
  const height = heightOf(source);
  for (let index = target.top; index <= target.bottom; index += 1) {
    const row = model.rows[index];
    const from = model.rows[source.top + ((((index - source.top) % height) + height) % height)];
    if (row === undefined || from === undefined) continue;
    for (const column of model.columns.slice(target.left, target.right + 1)) {
      entries.push({ row, column: column.key, typed: model.editText(from, column.key) });
    }
  }
  return entries;
}

/** One entry with the same text for every cell of the area, row by row. */
export function entriesOver(area: Area, typed: string, model: GridModel): readonly GridEntry[] {
  const columns = model.columns.slice(area.left, area.right + 1);
  return model.rows
    .slice(area.top, area.bottom + 1)
    .flatMap((row) => columns.map((column) => ({ row, column: column.key, typed })));
}
