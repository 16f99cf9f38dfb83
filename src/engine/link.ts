// Column formulas become engine formulas: names are replaced by the addresses of a layout.

import type { SheetKey } from "../core/document/workbook";
import type { EachSteps } from "../core/formula/each-step";
import { readFormula } from "../core/formula/formula";
import { type Notation, type PrintedPiece, printPieces } from "../core/formula/print";
import { type ColumnReference, columnFor, type Reference } from "../core/formula/reference";
import { allNodes, type Expression, mapTree } from "../core/formula/tree";
import { columnLetters, type Layout } from "./layout";

/** Arguments that a function needs and a maker does not type: whole columns, in the order given. */
export type ImplicitArguments = (functionName: string) => readonly ColumnReference[] | undefined;

/** A formula read once and linked many times. */
export interface PreparedFormula {
  /** The formula as the engine writes it, with what it names in between. */
  readonly pieces: readonly PrintedPiece[];
  /** Functions that it calls. */
  readonly calls: readonly string[];
  /** Why it can't be linked: an address, such as an input of that name that is gone, or no formula at all. */
  readonly problem?: "names nothing" | "no formula";
}

/** Texts as the engine reads them: its texts can hold no quote, and of a backslash it makes more than a sign. */
const ENGINE_NOTATION: Notation = {
  text: (value) => {
    if (!/["\\]/.test(value)) return `"${value}"`;
    const parts = value.match(/["\\]|[^"\\]+/g) ?? [];
    const written = parts.map((part) => (/["\\]/.test(part) ? `CHAR(${part.charCodeAt(0)})` : `"${part}"`));
    return `(${written.join("&")})`;
  },
  boolean: (value) => (value ? "TRUE()" : "FALSE()"),
};

/** Reads a formula, with each step of the route and the implicit arguments of our functions in their places; or says why it can't be linked. */
export function completeFormula(
  formula: string,
  isInput: (word: string) => boolean,
  implicit: ImplicitArguments,
  steps: EachSteps,
): Expression | NonNullable<PreparedFormula["problem"]> {
  const parsed = readFormula(formula, steps, isInput);
  if (parsed.ok) return withImplicit(parsed.value, implicit);
  return parsed.problems[0]?.code === "formula.address" ? "names nothing" : "no formula";
}

/** A formula as the engine writes it. */
export function prepareFormula(
  formula: string,
  isInput: (word: string) => boolean,
  implicit: ImplicitArguments,
  steps: EachSteps,
): PreparedFormula {
  const tree = completeFormula(formula, isInput, implicit, steps);
  if (typeof tree === "string") return { pieces: [], calls: [], problem: tree };
  const calls = allNodes(tree).flatMap((node) => (node.kind === "call" ? [node.name] : []));
  return { pieces: printPieces(tree, ENGINE_NOTATION), calls };
}

/** They come first, so that arguments left out at the end are still left out at the end. */
function withImplicit(tree: Expression, implicit: ImplicitArguments): Expression {
  return mapTree(tree, (node) => {
    const read = node.kind === "call" ? implicit(node.name) : undefined;
    if (node.kind !== "call" || !read) return node;
    const columns = read.map((to) => ({ kind: "reference", to, start: node.start, end: node.start }) as const);
    return { ...node, given: [...columns, ...node.given] };
  });
}

/** The engine's text of a prepared formula for one row. What is not there (a step's column on another kind) reads as 0. */
export function linkFormula(prepared: PreparedFormula, sheet: SheetKey, row: string, layout: Layout): string {
  const at = layout[sheet].rows.get(row) ?? 0;
  let text = "=";
  for (const piece of prepared.pieces) {
    if (typeof piece === "string") text += piece;
    else text += piece.kind === "name" ? linkName(piece.name, layout) : linkReference(piece.to, sheet, row, at, layout);
  }
  return text;
}

function linkReference(to: Reference, sheet: SheetKey, row: string, at: number, layout: Layout): string {
  switch (to.kind) {
    case "own": {
      const index = layout[sheet].columns.get(columnFor(to.column, row));
      return index === undefined ? "#REF!" : columnLetters(index) + (at + 1);
    }
    case "cell": {
      const index = layout[to.sheet].columns.get(to.column);
      const line = layout[to.sheet].rows.get(to.row);
      return index === undefined || line === undefined ? "#REF!" : `${to.sheet}!$${columnLetters(index)}$${line + 1}`;
    }
    case "column": {
      const index = layout[to.sheet].columns.get(columnFor(to.column, row));
      if (index === undefined) return to.column.startsWith("@") ? "0" : "#REF!";
      const letters = columnLetters(index);
      return `${to.sheet}!$${letters}$1:$${letters}$${layout[to.sheet].height}`;
    }
  }
}

function linkName(name: string, layout: Layout): string {
  const line = layout.edition.rows.get(name);
  const value = layout.edition.columns.get("value");
  if (line === undefined || value === undefined) return name;
  return `edition!$${columnLetters(value)}$${line + 1}`;
}
