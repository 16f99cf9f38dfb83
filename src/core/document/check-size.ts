// Whether a change leaves the document within its limits, so that what is saved can always be opened again.

import { type Problem, problem, wholeText } from "../problem";
import { type CellName, describeCell, rowLabel } from "./access";
import type { Change, Operation } from "./change";
import { COLUMN_MOST, LISTS_MOST, META_MOST, RAW_MOST, ROW_ID_MOST, SHEET_MOST, type Size, type Sizes } from "./limits";
import type { Column, ListKey, Raw, Row, SheetKey, Workbook } from "./workbook";

/** Nobody reads more. */
const MOST_TOLD = 20;

const LIST_NAMES: Readonly<Record<ListKey, string>> = {
  log: "The run log",
  cases: "Kept cases",
  recipes: "Rescue recipes",
  ranges: "Plausible ranges",
  plans: "Kept plans",
  packs: "Books given out",
};

/** What of a change would be more than a document may hold; `after` is the workbook with it. Less than there was is always taken. */
export function checkSize(before: Workbook, after: Workbook, change: Change): Problem[] {
  const problems: Problem[] = [];
  for (const operation of change.operations) {
    if (problems.length >= MOST_TOLD) break;
    problems.push(...checkOperation(before, after, operation));
  }
  for (const key of new Set(change.operations.flatMap((one) => ("sheet" in one ? [one.sheet] : []))))
    problems.push(...checkCounts(before, after, key));
  for (const key of Object.keys(after.lists) as ListKey[])
    problems.push(
      ...grown(LIST_NAMES[key], "entries", before.lists[key].length, after.lists[key].length, LISTS_MOST[key][0]),
    );
  return problems;
}

function checkOperation(before: Workbook, after: Workbook, operation: Operation): Problem[] {
  switch (operation.kind) {
    case "cell":
      return checkRaw(operation.is, () => describeCell(after, operation));
    case "add rows":
      return operation.rows.flatMap((row) => checkRow(after, operation.sheet, row));
    case "add columns":
      return operation.columns.flatMap((column) => checkColumn(after, operation.sheet, column));
    case "column":
      return checkColumn(after, operation.sheet, operation.is);
    case "meta": {
      const accounts = Object.values(operation.is.accounts ?? {});
      return [
        ...tooLong(operation.is, META_MOST, before.meta.title),
        ...accounts.flatMap((name) => tooLong({ account: name }, META_MOST, before.meta.title)),
      ];
    }
    case "list":
      return operation.is === undefined
        ? []
        : tooLong(operation.is, LISTS_MOST[operation.list][1], LIST_NAMES[operation.list]);
    default:
      return [];
  }
}

function checkRow(book: Workbook, sheet: SheetKey, row: Row): Problem[] {
  const cellAt = (column: string): CellName => ({ sheet, row: row.id, column });
  return [
    ...tooLong(row, { id: ROW_ID_MOST }, `${book.sheets[sheet].title} ${rowLabel(sheet, row)}`),
    ...Object.entries(row.cells).flatMap(([key, raw]) => checkRaw(raw, () => describeCell(book, cellAt(key)))),
  ];
}

function checkRaw(raw: Raw | undefined, where: () => string): Problem[] {
  if (typeof raw === "object")
    return raw.f.length > RAW_MOST.f ? [tooLongText("f", where(), raw.f.length, RAW_MOST.f)] : [];
  if (typeof raw === "string")
    return raw.length > RAW_MOST.text ? [tooLongText("text", where(), raw.length, RAW_MOST.text)] : [];
  return typeof raw === "number" && !Number.isFinite(raw)
    ? [problem({ code: "size.number", where: where(), found: raw, allowed: "a number that can be written down" })]
    : [];
}

/** Formulas of ours follow from the code and are never kept: only the maker's own are held to a length. */
function checkColumn(book: Workbook, sheet: SheetKey, column: Column): Problem[] {
  const where = `${book.sheets[sheet].title}, column ${column.title.slice(0, 80)}`;
  const { formula, ...rest } = column;
  return tooLong(column.own ? { ...rest, formula } : rest, COLUMN_MOST, where);
}

function checkCounts(before: Workbook, after: Workbook, key: SheetKey): Problem[] {
  const [was, is] = [before.sheets[key], after.sheets[key]];
  return [
    ...grown(is.title, "rows", was.rows.length, is.rows.length, SHEET_MOST.rows),
    ...grown(is.title, "columns", was.columns.length, is.columns.length, SHEET_MOST.columns),
  ];
}

function grown(where: string, noun: string, was: number, is: number, most: number): Problem[] {
  if (is <= most || is <= was) return [];
  return [
    problem({
      code: "size.count",
      where,
      found: `${wholeText(is)} ${noun}`,
      allowed: `up to ${wholeText(most)}`,
      fix: "Nothing was changed. Remove what is no longer needed, or go on in an edition of its own.",
    }),
  ];
}

/** What is too long of an object whose parts have sizes. */
function tooLong(value: object, sizes: Sizes, where: string): Problem[] {
  return Object.entries(sizes).flatMap(([name, size]) => measure(Reflect.get(value, name), size, name, where));
}

function measure(value: unknown, size: Size, name: string, where: string): Problem[] {
  if (typeof value === "string" && typeof size === "number")
    return value.length > size ? [tooLongText(name, where, value.length, size)] : [];
  if (Array.isArray(value) && Array.isArray(size)) {
    const [most, each] = size as readonly [number, Size];
    const entries = value.flatMap((entry) => measure(entry, each, name, where));
    return [...grown(`${where}, ${name}`, "entries", 0, value.length, most), ...entries];
  }
  return typeof value === "object" && value !== null && typeof size === "object" && !Array.isArray(size)
    ? tooLong(value, size as Sizes, where)
    : [];
}

/** A text of more characters than there may be. */
export function tooLongText(name: string, where: string, length: number, most: number): Problem {
  return problem({
    code: "size.text",
    where: `${where}, ${NAMES[name] ?? name}`,
    found: `${wholeText(length)} characters`,
    allowed: `up to ${wholeText(most)}`,
    fix:
      name === "formula" || name === "f"
        ? "Nothing was changed. Split it over several columns."
        : "Nothing was changed. Shorten it.",
  });
}

const NAMES: Readonly<Record<string, string>> = { f: "formula", act: "what was done", label: "what was done" };
