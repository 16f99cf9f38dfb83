// Cells and formulas in words: titles for columns, labels for lines, × and ÷ for signs, and of a choice the branch taken.
import { type CellName, columnOf, describeCell, rowLabel, rowOf } from "../../../core/document/access";
import type { SheetKey, Workbook } from "../../../core/document/workbook";
import { type BinarySign, type Expression, insideOf } from "../../../core/formula/tree";
import { branchTaken, columnGiven, evaluate, namedIn } from "./evaluate";
import { type CellContext, cellFormat, type Named } from "./view";

/** A cell as somebody calls it who stands at another one: no more than tells it apart. */
export function cellWords(book: Workbook, cell: CellName, from: CellName): string {
  const row = rowOf(book, cell.sheet, cell.row);
  if (cell.column === "value" && row) return rowLabel(cell.sheet, row);
  if (cell.sheet !== from.sheet || cell.row !== from.row) return describeCell(book, cell);
  const here = columnOf(book, from.sheet, from.column);
  return columnWords(book, cell.sheet, cell.column, here?.step);
}

/** A column by its title, after the step it belongs to unless that is the step we are in. */
export function columnWords(book: Workbook, sheet: SheetKey, key: string, inStep?: string): string {
  const column = columnOf(book, sheet, key);
  if (!column) return key;
  const step = column.step !== undefined && column.step !== inStep ? rowOf(book, "route", column.step) : undefined;
  return step ? `${rowLabel("route", step)}: ${column.title}` : column.title;
}

/** A whole column, with its sheet. */
export function wholeColumn(book: Workbook, sheet: SheetKey, key: string): string {
  return `${book.sheets[sheet].title}, ${columnWords(book, sheet, key)}`;
}

const SIGNS: Readonly<Record<BinarySign, string>> = {
  "+": "+",
  "-": "−",
  "*": "×",
  "/": "÷",
  "^": "to the power of",
  "&": "then",
  "=": "is",
  "<>": "is not",
  "<": "is less than",
  ">": "is more than",
  "<=": "is at most",
  ">=": "is at least",
};

const TIGHT: Partial<Readonly<Record<BinarySign, number>>> = { "+": 1, "-": 1, "*": 2, "/": 2, "^": 3 };
const tightness = (of: Expression) => (of.kind === "binary" ? (TIGHT[of.sign] ?? 0) : of.kind === "unary" ? 1 : 9);

/** An expression in words. */
export function say(of: Expression, here: CellContext): string {
  switch (of.kind) {
    case "number":
      return here.view.text(of.value, undefined);
    case "text":
      return of.value === "" ? "blank" : `“${of.value}”`;
    case "boolean":
      return of.value ? "yes" : "no";
    case "nothing":
      return "nothing";
    case "error":
      return of.value;
    case "array":
      return insideOf(of)
        .map((one) => say(one, here))
        .join(", ");
    case "range":
      return `${say(of.from, here)} to ${say(of.to, here)}`;
    case "name":
    case "reference":
      return sayNamed(namedIn(of, here), here);
    case "percent":
      return `${say(of.of, here)} %`;
    case "unary":
      return `${of.sign === "-" ? "−" : ""}${inBrackets(of.of, 2, here)}`;
    case "binary": {
      const tight = TIGHT[of.sign] ?? 0;
      const isOneSided = of.sign === "-" || of.sign === "/" || of.sign === "^";
      const right = inBrackets(of.right, isOneSided ? tight + 1 : tight, here);
      return `${inBrackets(of.left, tight, here)} ${SIGNS[of.sign]} ${right}`;
    }
    case "call":
      return sayCall(of, here);
  }
}

function inBrackets(of: Expression, atLeast: number, here: CellContext): string {
  const words = say(of, here);
  return tightness(of) < atLeast ? `(${words})` : words;
}

function sayNamed(named: Named, { view, cell }: CellContext): string {
  switch (named.kind) {
    case "cell":
      return cellWords(view.book, named.cell, cell);
    case "column":
      return wholeColumn(view.book, named.sheet, named.column);
    case "absent":
      return "0";
    case "broken":
      return named.text;
  }
}

function sayCall(of: Extract<Expression, { kind: "call" }>, here: CellContext): string {
  const { name, given } = of;
  switch (name) {
    case "IF":
    case "SWITCH":
    case "IFERROR": {
      const branch = branchTaken(of, here);
      return branch !== undefined && "kind" in branch ? inBrackets(branch, 2, here) : "what the condition says";
    }
    case "SUM":
      return given.length === 1 ? list("sum of ", given, here) : `(${given.map((one) => say(one, here)).join(" + ")})`;
    case "COUNT":
      return list("number of ", given, here);
    case "MIN":
      return list("smallest of ", given, here);
    case "MAX":
      return list("largest of ", given, here);
    case "ROUNDUP":
      return `${say(given[0] ?? of, here)}, rounded up`;
    case "ROUND":
      return `${say(given[0] ?? of, here)}, rounded`;
    case "PICK":
      return sayPicked(given, here);
    case "TOTAL_BY":
      return `${sayColumn(given[2], here)} where ${whereWords(given[0], given[1], here)}`;
    case "COUNT_BY":
      return `number of ${sayRows(given[1], here)} where ${whereWords(given[0], given[1], here)}`;
    default:
      return list(`${name} of `, given, here);
  }
}

function list(lead: string, given: readonly Expression[], here: CellContext): string {
  return `${lead}${given.map((one) => say(one, here)).join(", ")}`;
}

function sayColumn(expression: Expression | undefined, here: CellContext): string {
  const column = columnGiven(expression, here);
  return column ? wholeColumn(here.view.book, column.sheet, column.column) : "values";
}

function sayRows(expression: Expression | undefined, here: CellContext): string {
  const column = columnGiven(expression, here);
  return column ? here.view.book.sheets[column.sheet].title : "rows";
}

function sayPicked(given: readonly Expression[], here: CellContext): string {
  const { book } = here.view;
  const column = columnGiven(given[2], here);
  const key = given[0] && here.view.text(evaluate(given[0], here), undefined);
  if (!column) return "what is found";
  return `${book.sheets[column.sheet].title} ${key}, ${columnWords(book, column.sheet, column.column)}`;
}

/** Which rows a look-up takes: the column of names, and the name it looks for. */
export function whereWords(key: Expression | undefined, keys: Expression | undefined, here: CellContext): string {
  const { book } = here.view;
  const column = columnGiven(keys, here);
  const value = key && evaluate(key, here);
  const title = column ? columnWords(book, column.sheet, column.column) : "the name";
  return `${title} is ${valueWords(value, column && firstCell(book, column), here)}`;
}

function firstCell(book: Workbook, { sheet, column }: Extract<Named, { kind: "column" }>): CellName | undefined {
  const row = book.sheets[sheet].rows[0];
  return row && { sheet, row: row.id, column };
}

/** A value as it stands in a sentence: texts in quotes, numbers as their cell writes them. */
export function valueWords(
  value: ReturnType<typeof evaluate>,
  like: CellName | undefined,
  { view }: Pick<CellContext, "view">,
): string {
  const text = view.text(value, like && cellFormat(view.book, like));
  return typeof value === "string" && value !== "" ? `“${text}”` : text;
}
