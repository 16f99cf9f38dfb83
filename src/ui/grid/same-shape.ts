// Whether two models differ in their values alone, so that repainting is all there is to do.
import type { GridColumn, GridGroup, GridModel } from "./port";

function isSameList<T>(one: readonly T[], other: readonly T[], isSame: (a: T, b: T) => boolean): boolean {
  if (one === other) return true;
  return one.length === other.length && one.every((item, index) => isSame(item, other[index] as T));
}

function isSameColumn(one: GridColumn, other: GridColumn): boolean {
  return (
    one.key === other.key &&
    one.title === other.title &&
    one.unit === other.unit &&
    one.align === other.align &&
    one.width === other.width &&
    one.group === other.group &&
    one.hasChoices === other.hasChoices &&
    one.wraps === other.wraps &&
    one.sort === other.sort
  );
}

function isSameGroup(one: GridGroup, other: GridGroup): boolean {
  return (
    one.id === other.id &&
    one.title === other.title &&
    one.note === other.note &&
    one.canFold === other.canFold &&
    one.isFolded === other.isFolded
  );
}

/** Whether two models list the same rows in the same order, as high and under the same headings. */
export function hasSameRows(one: GridModel, other: GridModel): boolean {
  return (
    isSameList(one.rows, other.rows, Object.is) &&
    isSameList(one.rowHeights ?? [], other.rowHeights ?? [], Object.is) &&
    isSameList([...(one.headings ?? [])].flat(), [...(other.headings ?? [])].flat(), Object.is)
  );
}

/** Whether two models have the same columns and headers. */
export function hasSameColumns(one: GridModel, other: GridModel): boolean {
  return (
    one.frozen === other.frozen &&
    one.titleLines === other.titleLines &&
    isSameList(one.columns, other.columns, isSameColumn) &&
    isSameList(one.groups, other.groups, isSameGroup)
  );
}
