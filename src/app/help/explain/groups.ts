// Many cells as one line: a whole column, or the rows of it that a look-up takes. Listed a page at a time, largest first.
import { plural } from "../../../core/counted";
import type { CellName } from "../../../core/document/access";
import { columnOf } from "../../../core/document/access";
import type { SheetKey } from "../../../core/document/workbook";
import type { Expression } from "../../../core/formula/tree";
import { isCellError, type Value } from "../../../engine/values";
import { columnGiven, evaluate } from "./evaluate";
import type { ExplainedPart, Joins, Opened } from "./part";
import {
  type CellContext,
  columnFormat,
  columnValues,
  type Named,
  type NumberFormat,
  rowIndexesOf,
  type View,
} from "./view";
import { columnWords, whereWords, wholeColumn } from "./words";

/** How many cells are listed at once. */
const PAGE = 50;

/** Cells that stand as one in a formula. */
export interface CellGroup {
  readonly words: string;
  readonly sheet: SheetKey;
  readonly column: string;
  readonly rowIndexes: readonly number[];
  /** What the formula makes of them. */
  readonly how: "sum" | "product" | "list";
  readonly value: Value | undefined;
  readonly format: NumberFormat | undefined;
  /** What each row brings, by row index, where that is not the value of its cell. */
  readonly amounts?: ReadonlyMap<number, number>;
  /** For a look-up: which rows it takes, the cell it takes the name from, and the column that says so. */
  readonly rows?: { readonly words: string; readonly key: Expression | undefined; readonly column: string };
}

type Column = Extract<Named, { kind: "column" }>;
type Call = Extract<Expression, { kind: "call" }>;

/** The group an expression is; undefined where it is none. */
export function groupOf(of: Expression, here: CellContext): CellGroup | undefined {
  if (of.kind === "reference") {
    const column = columnGiven(of, here);
    return column && wholeGroup(here, column, "list", undefined, undefined);
  }
  if (of.kind !== "call") return undefined;
  const [first, second, third] = of.given;
  const format = (column: Column) => formatOf(here.view, column);
  switch (of.name) {
    case "SUM":
    case "COUNT":
    case "MIN":
    case "MAX":
    case "AVERAGE":
    case "PRODUCT": {
      const column = of.given.length === 1 ? columnGiven(first, here) : undefined;
      const how = of.name === "SUM" ? "sum" : of.name === "PRODUCT" ? "product" : "list";
      return (
        column && wholeGroup(here, column, how, evaluate(of, here), of.name === "COUNT" ? undefined : format(column))
      );
    }
    case "TOTAL_BY":
    case "COUNT_BY": {
      const keys = columnGiven(second, here);
      const values = of.name === "COUNT_BY" ? keys : columnGiven(third, here);
      return keys && values && matchedGroup(of, here, keys, values);
    }
    case "SUM_UP_TO":
      return upToGroup(of, here);
    default:
      return undefined;
  }
}

function formatOf(view: View, { sheet, column }: Column): NumberFormat | undefined {
  const found = columnOf(view.book, sheet, column);
  return found && columnFormat(found);
}

function wholeGroup(
  here: CellContext,
  { sheet, column }: Column,
  how: CellGroup["how"],
  value: Value | undefined,
  format: NumberFormat | undefined,
): CellGroup {
  const values = columnValues(here.view, sheet, column);
  const counts = (one: Value | undefined) =>
    typeof one === "number" || isCellError(one) || (how === "list" && one !== null && one !== "");
  const rowIndexes = [...values.keys()].filter((at) => counts(values[at]));
  return { words: wholeColumn(here.view.book, sheet, column), sheet, column, rowIndexes, how, value, format };
}

function matchedGroup(of: Call, here: CellContext, keys: Column, values: Column): CellGroup {
  const { view } = here;
  const [key] = of.given;
  const isCount = of.name === "COUNT_BY";
  const found = rowIndexesOf(view, keys.sheet, keys.column, key && evaluate(key, here));
  const list = columnValues(view, values.sheet, values.column);
  const where = whereWords(key, of.given[1], here);
  const what = isCount ? view.book.sheets[keys.sheet].title : wholeColumn(view.book, values.sheet, values.column);
  return {
    words: `${what}, where ${where}`,
    sheet: values.sheet,
    column: values.column,
    rowIndexes: isCount ? found : found.filter((at) => typeof list[at] === "number" || isCellError(list[at])),
    how: isCount ? "list" : "sum",
    value: evaluate(of, here),
    format: isCount ? undefined : formatOf(view, values),
    rows: { words: where, key, column: keys.column },
  };
}

/** The rows of a route up to one step. */
function upToGroup(of: Call, here: CellContext): CellGroup | undefined {
  const [from, second, third] = of.given;
  const [orders, values] = [columnGiven(second, here), columnGiven(third, here)];
  const order = from && evaluate(from, here);
  if (!orders || !values || typeof order !== "number") return undefined;
  const orderOf = columnValues(here.view, orders.sheet, orders.column);
  const list = columnValues(here.view, values.sheet, values.column);
  const isUpTo = (at: number) => {
    const position = orderOf[at];
    return typeof position === "number" && position <= order && (typeof list[at] === "number" || isCellError(list[at]));
  };
  return {
    words: `${wholeColumn(here.view.book, values.sheet, values.column)}, up to this step`,
    sheet: values.sheet,
    column: values.column,
    rowIndexes: [...orderOf.keys()].filter(isUpTo),
    how: "sum",
    value: evaluate(of, here),
    format: formatOf(here.view, values),
    rows: {
      words: `${columnWords(here.view.book, orders.sheet, orders.column)} is at most ${here.view.text(order, undefined)}`,
      key: from,
      column: orders.column,
    },
  };
}

/** Makes the line of one cell of a group. */
export type MakeMember = (cell: CellName, joins: Joins) => ExplainedPart;

/** What a row of a group brings to it. */
function valueAt(view: View, { sheet, column, amounts }: CellGroup, at: number): Value | undefined {
  return amounts ? amounts.get(at) : columnValues(view, sheet, column)[at];
}

/** How many cells, in words, with how many of them have an error. */
export function countWords({ view }: Pick<CellContext, "view">, group: CellGroup): string {
  const { rowIndexes } = group;
  const wrong = rowIndexes.filter((at) => isCellError(valueAt(view, group, at))).length;
  const count = `${view.text(rowIndexes.length, undefined)} ${plural(rowIndexes.length, "cell")}`;
  return wrong === 0 ? count : `${count}, ${view.text(wrong, undefined)} in trouble`;
}

/** The cells of a group, largest first, errors before all; `lead` stands before them. */
export function openGroup(view: View, group: CellGroup, member: MakeMember, lead: readonly ExplainedPart[]): Opened {
  const size = (at: number) => {
    const value = valueAt(view, group, at);
    return isCellError(value) ? Number.POSITIVE_INFINITY : typeof value === "number" ? Math.abs(value) : -1;
  };
  const sorted = [...group.rowIndexes].sort((a, b) => size(b) - size(a) || a - b);
  const total = group.how === "sum" && typeof group.value === "number" ? group.value : undefined;
  const whole = group.how === "list" ? "other" : group.how;
  return { parts: [...lead, ...page({ view, group, sorted, total, member }, 0)], whole };
}

interface Listing {
  readonly view: View;
  readonly group: CellGroup;
  readonly sorted: readonly number[];
  readonly total: number | undefined;
  readonly member: MakeMember;
}

function page(listing: Listing, from: number): readonly ExplainedPart[] {
  const { view, group, sorted, total, member } = listing;
  const { sheet, column } = group;
  const { rows } = view.book.sheets[sheet];
  const shown = sorted.slice(from, from + PAGE).flatMap((at): ExplainedPart[] => {
    const row = rows[at];
    return row ? [member({ sheet, row: row.id, column }, joinsOf(group, valueAt(view, group, at), total))] : [];
  });
  return sorted.length > from + PAGE ? [...shown, morePart(listing, from + PAGE)] : shown;
}

function morePart(listing: Listing, from: number): ExplainedPart {
  const { view, group, sorted, total } = listing;
  const rest = sorted.slice(from);
  const amount = group.how === "sum" ? sumOf(listing, rest) : undefined;
  const count = view.text(rest.length, undefined);
  return {
    key: `more ${from}`,
    role: "more",
    words: rest.length > PAGE ? `The next ${PAGE} of ${count} more` : `${count} more`,
    value: amount,
    text: amount === undefined ? "" : view.text(amount, group.format),
    joins: group.how === "sum" ? joinsOf(group, amount, total) : { kind: "given", name: "" },
    notes: [],
    open: () => ({ parts: page(listing, from), whole: "other" }),
  };
}

function sumOf({ view, group }: Listing, rows: readonly number[]): number | undefined {
  let sum = 0;
  for (const at of rows) {
    const value = valueAt(view, group, at);
    if (typeof value !== "number") return undefined;
    sum += value;
  }
  return sum;
}

function joinsOf(group: CellGroup, value: Value | undefined, total: number | undefined): Joins {
  if (group.how === "product") return { kind: "factor", sign: "×" };
  if (group.how === "list") return { kind: "given", name: "" };
  const amount = typeof value === "number" ? value : undefined;
  const share = amount === undefined || total === undefined || total === 0 ? undefined : amount / total;
  return { kind: "term", sign: "+", amount, share };
}
