// Column formulas become engine formulas: names are replaced by the addresses of a layout.

import type { SheetKey } from "../core/document/workbook";
import { columnFor, type Part, parseFormula } from "../core/formula/formula";
import { columnLetters, type Layout } from "./layout";

/** Arguments that a function needs and a maker does not type: whole columns, in the order given. */
export type ImplicitArguments = (functionName: string) => readonly Part[] | undefined;

/** A formula cut once and linked many times. */
export interface PreparedFormula {
  readonly parts: readonly Part[];
  /** Why it can't be linked: an address, such as an input of that name that is gone, or no formula at all. */
  readonly problem?: "names nothing" | "no formula";
}

/** Cuts a formula into parts and puts the implicit arguments of our functions in their places. */
export function prepareFormula(
  formula: string,
  isInput: (word: string) => boolean,
  implicit: ImplicitArguments,
): PreparedFormula {
  const parsed = parseFormula(formula.slice(1), isInput);
  if (!parsed.ok) {
    const isAddress = parsed.problems[0]?.code === "formula.address";
    return { parts: [], problem: isAddress ? "names nothing" : "no formula" };
  }
  return { parts: addImplicit(parsed.value, implicit) };
}

/** They come first, so that arguments left out at the end are still left out at the end. */
function addImplicit(parts: readonly Part[], implicit: ImplicitArguments): readonly Part[] {
  return parts.flatMap((part, at): readonly Part[] => {
    const before = parts[at - 1];
    const read = before?.is === "function" ? implicit(before.name) : undefined;
    if (part.is !== "text" || !read || !part.text.startsWith("(")) return [part];
    const columns = read.flatMap((column): Part[] => [column, { is: "text", text: "," }]);
    return [{ is: "text", text: "(" }, ...columns, { is: "text", text: part.text.slice(1) }];
  });
}

/** The engine's text of a prepared formula for one row. What is not there (a step's column on another kind) reads as 0. */
export function linkFormula(prepared: PreparedFormula, sheet: SheetKey, row: string, layout: Layout): string {
  const at = layout[sheet].rows.get(row) ?? 0;
  let text = "=";
  for (const part of prepared.parts) text += linkPart(part, sheet, row, at, layout);
  return text;
}

function linkPart(part: Part, sheet: SheetKey, row: string, at: number, layout: Layout): string {
  switch (part.is) {
    case "text":
      return part.text;
    case "function":
      return part.name;
    case "name":
      return linkName(part.name, layout);
    case "own": {
      const place = layout[sheet].columns.get(columnFor(part.column, row));
      return place === undefined ? "#REF!" : columnLetters(place) + (at + 1);
    }
    case "fixed": {
      const place = layout[part.sheet].columns.get(part.column);
      const line = layout[part.sheet].rows.get(part.row);
      return place === undefined || line === undefined ? "#REF!" : `${part.sheet}!$${columnLetters(place)}$${line + 1}`;
    }
    case "range": {
      const place = layout[part.sheet].columns.get(columnFor(part.column, row));
      if (place === undefined) return part.column.startsWith("@") ? "0" : "#REF!";
      const letters = columnLetters(place);
      return `${part.sheet}!$${letters}$1:$${letters}$${layout[part.sheet].height}`;
    }
  }
}

function linkName(name: string, layout: Layout): string {
  const line = layout.edition.rows.get(name);
  const value = layout.edition.columns.get("value");
  if (line === undefined || value === undefined) return /^(true|false)$/i.test(name) ? `${name.toUpperCase()}()` : name;
  return `edition!$${columnLetters(value)}$${line + 1}`;
}
