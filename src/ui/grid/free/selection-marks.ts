// How a cell is selected, as words for the style sheet.
import type { Area } from "../area";
import type { Position } from "./position";

function isIn(area: Area | undefined, { row, col }: Position): boolean {
  return area !== undefined && row >= area.top && row <= area.bottom && col >= area.left && col <= area.right;
}

/**
 * The words for a cell: "in" the selected block and at which of its sides, "current" where the keyboard is, "foot" where the
 * mark hangs that fills down, "fill" where a fill would reach. Empty where the cell is none of these.
 */
export function marksIn(
  at: Position,
  area: Area | undefined,
  highlight: Position | undefined,
  fillTarget: Area | undefined,
): string {
  const marks: string[] = [];
  if (area !== undefined && isIn(area, at)) {
    marks.push("in");
    if (at.row === area.top) marks.push("top");
    if (at.row === area.bottom) marks.push("bottom");
    if (at.col === area.left) marks.push("left");
    if (at.col === area.right) marks.push("right");
    const foot = Math.max(area.left, Math.min(area.right, highlight?.col ?? area.left));
    if (at.row === area.bottom && at.col === foot) marks.push("foot");
  }
  if (highlight?.row === at.row && highlight.col === at.col) marks.push("current");
  if (isIn(fillTarget, at)) marks.push("fill");
  return marks.join(" ");
}
