// A formula of the document as a node: its tree with the indices of what it names.
import type { SheetKey } from "../../core/document/workbook";
import type { EachSteps } from "../../core/formula/each-step";
import { columnFor, type Reference } from "../../core/formula/reference";
import type { Expression } from "../../core/formula/tree";
import { implicitArguments } from "../../engine/functions/index";
import { completeFormula } from "../../engine/link";
import type { SheetModel } from "../../engine/model";
import type { Node } from "./formula-tree";

/** Where a formula stands, and what it may name. */
export interface FormulaScope {
  readonly sheets: readonly SheetModel[];
  readonly steps: EachSteps;
  readonly sheet: number;
  /** The id and index of its row; of its first row, where more cells than one are filled with it. */
  readonly row: string;
  readonly rowIndex: number;
  readonly isFilled: boolean;
}

/** Why a formula can't be compiled. */
export class Unread extends Error {}

const ERRORS: Readonly<Record<string, string>> = {
  "#DIV/0!": "DIV_BY_ZERO",
  "#NAME?": "NAME",
  "#VALUE!": "VALUE",
  "#NUM!": "NUM",
  "#N/A": "NA",
  "#CYCLE!": "CYCLE",
  "#REF!": "REF",
};

const NAMES_NOTHING: Node = { kind: "error", type: "REF", message: "" };

/** The node of a formula's text, or an `Unread` that says what of it can't be compiled. */
export function nodeOf(formula: string, scope: FormulaScope): Node {
  const inputs = sheetOf(scope, "edition")?.rows;
  const tree = completeFormula(formula, (word) => inputs?.has(word) ?? false, implicitArguments, scope.steps);
  if (tree === "names nothing") return NAMES_NOTHING;
  if (tree === "no formula") throw new Unread("it is no formula");
  return nodeFrom(tree, scope);
}

function nodeFrom(tree: Expression, scope: FormulaScope): Node {
  const node = bareNode(tree, scope);
  return tree.bracketed ? { kind: "unary", sign: "()", of: node } : node;
}

function bareNode(tree: Expression, scope: FormulaScope): Node {
  const within = (inner: Expression) => nodeFrom(inner, scope);
  switch (tree.kind) {
    case "number":
      return { kind: "number", value: tree.value };
    case "text":
      return { kind: "text", value: tree.value };
    case "boolean":
      return { kind: "call", name: tree.value ? "TRUE" : "FALSE", args: [] };
    case "error": {
      const type = ERRORS[tree.value];
      if (type === undefined) throw new Unread(`${tree.value} stands in it`);
      return { kind: "error", type, message: "" };
    }
    case "name":
      return namedNode(tree.name, scope);
    case "reference":
      return referenceNode(tree.to, scope);
    case "nothing":
      return { kind: "empty" };
    case "call":
      return { kind: "call", name: tree.name, args: tree.given.map(within) };
    case "unary":
      return { kind: "unary", sign: tree.sign, of: within(tree.of) };
    case "percent":
      return { kind: "unary", sign: "%", of: within(tree.of) };
    case "binary":
      return { kind: "binary", sign: tree.sign, left: within(tree.left), right: within(tree.right) };
    case "range":
      throw new Unread("it names a range that is no whole column");
    case "array":
      throw new Unread("it holds an array");
  }
}

function namedNode(name: string, scope: FormulaScope): Node {
  const edition = sheetOf(scope, "edition");
  const row = edition?.rows.get(name);
  const column = edition?.columns.get("value");
  if (row === undefined || column === undefined)
    return { kind: "error", type: "NAME", message: `Named expression ${name} not recognized.` };
  return { kind: "cell", sheet: numberOf(scope, "edition"), column, row };
}

/** What is not there (a step's column on another kind) reads as 0, anything else as an error. */
function referenceNode(to: Reference, scope: FormulaScope): Node {
  const { sheets, sheet, row, rowIndex, isFilled } = scope;
  if (to.kind === "own") {
    const column = sheets[sheet]?.columns.get(columnFor(to.column, row));
    if (column === undefined) return NAMES_NOTHING;
    return isFilled ? { kind: "own", column } : { kind: "cell", sheet, column, row: rowIndex };
  }
  const number = numberOf(scope, to.sheet);
  const named = sheets[number];
  if (to.kind === "cell") {
    const [column, line] = [named?.columns.get(to.column), named?.rows.get(to.row)];
    return column === undefined || line === undefined
      ? NAMES_NOTHING
      : { kind: "cell", sheet: number, column, row: line };
  }
  const column = named?.columns.get(columnFor(to.column, row));
  if (column !== undefined) return { kind: "range", sheet: number, column };
  return to.column.startsWith("@") ? { kind: "number", value: 0 } : NAMES_NOTHING;
}

function numberOf({ sheets }: FormulaScope, key: SheetKey): number {
  return sheets.findIndex(({ sheet }) => sheet === key);
}

function sheetOf(scope: FormulaScope, key: SheetKey): SheetModel | undefined {
  return scope.sheets[numberOf(scope, key)];
}
