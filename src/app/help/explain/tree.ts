// Where a number comes from, as a tree that is only calculated where it is opened: from any cell to what its formula names,
// with values, signs and shares, down to what was typed. The calculation of each cell must give its value; where it does
// not, the cell is shown as calculated and only what it names is listed.
import {
  type CellName,
  cellKeyOf,
  isOverride,
  resolveCell,
  rowLabel,
  rowOf,
  specOf,
} from "../../../core/document/access";
import type { Column, Row } from "../../../core/document/workbook";
import type { Expression } from "../../../core/formula/tree";
import { isCellError, type Value } from "../../../engine/values";
import { callParts, type Make, pickedCell } from "./calls";
import { agrees, evaluate, namedIn, referencesIn } from "./evaluate";
import { type CellGroup, countWords, groupOf, openGroup } from "./groups";
import { isMadeOfSums, madeOf, type Share } from "./made-of";
import { distinct, type ExplainedPart, type Joins, type Opened, positionOf, withShares } from "./part";
import { cellOf, type Reason, take } from "./reasons";
import { valueToNumber } from "./scalars";
import { factorsOf, type Term, termsOf } from "./terms";
import { type CellContext, cellFormat, type NumberFormat, parsed, readCell, type View } from "./view";
import { cellWords, say } from "./words";

/** Where we are: the cell whose formula is read, and the cells above it in the tree. */
interface Scope extends CellContext {
  readonly above: ReadonlySet<string>;
}

/** What an expression is a part of: the value it should come to, and how that is written. */
interface Whole {
  readonly value: Value | undefined;
  readonly format: NumberFormat | undefined;
}

const GIVEN: Joins = { kind: "given", name: "" };

/** The tree of a cell, closed: open its parts one by one. */
export function explain(view: View, cell: CellName): ExplainedPart {
  const root = cellPart(cell, { kind: "whole" }, { view, cell, above: new Set() });
  return { ...root, words: cellWords(view.book, cell, { sheet: cell.sheet, row: "", column: "" }) };
}

function cellPart(cell: CellName, joins: Joins, scope: Scope): ExplainedPart {
  const { view, above } = scope;
  const found = resolveCell(view.book, cell);
  const key = cellKeyOf(cell);
  if (!found) return endPart(key, key, joins, "It names something that is no longer there.");
  const value = readCell(view, cell);
  const { column, row, formula } = found;
  const base = {
    key,
    cell,
    words: cellWords(view.book, cell, scope.cell),
    value,
    text: view.text(value, found),
    joins,
    notes: notesOf(column, row, value),
  };
  if (formula === undefined) return { ...base, role: row.cells[column.key] === undefined ? "blank" : "input" };
  if (above.has(key)) return { ...base, role: "end", notes: ["It is already above: this goes in a circle."] };
  const inside = { view, cell, above: new Set([...above, key]) };
  return { ...base, role: "cell", open: () => openCell(formula, inside, value) };
}

function notesOf(column: Column, row: Row, value: Value | undefined): readonly string[] {
  const raw = row.cells[column.key];
  const notes: string[] = [];
  if (isCellError(value)) notes.push(value.message);
  if (isOverride(column, row))
    notes.push(typeof raw === "object" ? "by a formula given by hand" : "given by hand, in place of its formula");
  else if (typeof raw === "object") notes.push("by a formula typed here");
  else if (raw === undefined && specOf(column, row).kind === "input" && specOf(column, row).formula !== undefined)
    notes.push("not typed here: it starts from its formula");
  else if (raw !== undefined) notes.push(...rowNotes(column, row));
  return notes;
}

/** What the maker noted beside an input, and where the figure is from. */
function rowNotes(column: Column, row: Row): readonly string[] {
  const { note, source } = row.cells;
  if (column.key === "note" || column.key === "source") return [];
  return [
    ...(typeof note === "string" && note !== "" ? [note] : []),
    ...(typeof source === "string" && source !== "" ? [`Source: ${source}`] : []),
  ];
}

function endPart(key: string, words: string, joins: Joins, note: string): ExplainedPart {
  return { key, role: "end", words, value: undefined, text: "", joins, notes: [note] };
}

function openCell(formula: string, scope: Scope, value: Value | undefined): Opened {
  const tree = parsed(scope.view, formula);
  if (!tree) return { parts: [], whole: "calculated" };
  const opened = openExpression(tree, scope, { value, format: cellFormat(scope.view.book, scope.cell) });
  if (isCellError(value) || agrees(evaluate(tree, scope), value, sizeOf(opened))) return opened;
  const parts = referencesIn(tree).map((name) =>
    partOf(name, { kind: "given", name: "named in it" }, scope, undefined),
  );
  return { parts: unrepeated(parts), whole: "calculated" };
}

/** The size of what is added up: values are rounded where they leave the engine, and their differences show it. */
function sizeOf({ parts, whole }: Opened): number {
  if (whole !== "sum") return 0;
  return parts.reduce((size, { joins }) => size + (joins.kind === "term" ? Math.abs(joins.amount ?? 0) : 0), 0);
}

function unrepeated(parts: readonly ExplainedPart[]): readonly ExplainedPart[] {
  return parts.filter((part, at) => parts.findIndex((other) => other.key === part.key) === at);
}

function openExpression(of: Expression, scope: Scope, whole: Whole): Opened {
  const { reasons, rest } = take(of, scope);
  const lead = reasons.map((reason) => reasonPart(reason, scope));
  const { parts, whole: kind } = rest ? openRest(rest, scope, whole) : { parts: [], whole: "other" as const };
  // Why comes after what: a condition matters to fewer who ask.
  return { parts: distinct([...parts, ...lead]), whole: kind };
}

function openRest(of: Expression, scope: Scope, whole: Whole): Opened {
  const terms = termsOf(of);
  if (terms) return { parts: termParts(terms, scope, whole.format), whole: "sum" };
  const factors = factorsOf(of);
  if (factors)
    return {
      parts: factors.map((factor) => partOf(factor.of, { kind: "factor", sign: factor.sign }, scope, undefined)),
      whole: "product",
    };
  const group = groupOf(of, scope);
  if (group?.how === "sum") {
    const amount = typeof group.value === "number" ? group.value : undefined;
    const joins: Joins = { kind: "term", sign: "+", amount, share: amount === 0 ? undefined : 1 };
    return { parts: [groupPart(group, joins, scope)], whole: "sum" };
  }
  if (group) return { parts: [groupPart(group, GIVEN, scope)], whole: "other" };
  if (of.kind === "call")
    return of.name === "FIRING_SHARE"
      ? { parts: firingParts(of.given, scope), whole: "product" }
      : { parts: callParts(of, scope, makeIn(scope)), whole: "other" };
  if (of.kind === "binary")
    return { parts: [of.left, of.right].map((one) => partOf(one, GIVEN, scope, undefined)), whole: "other" };
  return { parts: [partOf(of, GIVEN, scope, whole.format)], whole: "other" };
}

function termParts(terms: readonly Term[], scope: Scope, format: NumberFormat | undefined): readonly ExplainedPart[] {
  const amounts = terms.map((term) => amountOf(term, scope));
  const shares = withShares(amounts);
  const parts = terms.map(({ sign, of }, at) =>
    partOf(of, { kind: "term", sign, amount: amounts[at], share: shares[at] }, scope, format),
  );
  // A list of things added up reads best from the largest down; a formula with signs, in its own order.
  if (!terms.every(({ isLoose }) => isLoose)) return parts;
  const size = ({ joins }: ExplainedPart) =>
    joins.kind === "term" ? Math.abs(joins.amount ?? Number.POSITIVE_INFINITY) : 0;
  return [...parts].sort((a, b) => size(b) - size(a));
}

function amountOf({ sign, of, isLoose }: Term, scope: Scope): number | undefined {
  const value = evaluate(of, scope);
  if (value === undefined || isCellError(value)) return undefined;
  const isNothing = isLoose && typeof value !== "number" && cellOf(of, scope) !== undefined;
  const number = isNothing ? 0 : valueToNumber(value);
  return isCellError(number) ? undefined : sign === "+" ? number : -number;
}

/** A piece's share of a firing: the firing's cost × the piece's weight ÷ the weight of all in it. */
function firingParts(given: readonly Expression[], scope: Scope): readonly ExplainedPart[] {
  const [firing, weight] = given;
  const name = firing && evaluate(firing, scope);
  const row = scope.view.book.sheets.firings.rows.find(
    (one) => typeof name === "string" && String(one.cells.id).toLowerCase() === name.toLowerCase(),
  );
  const lead = firing
    ? [conditionPart(`Fired in ${scope.view.text(name, undefined)}`, () => [partOf(firing, GIVEN, scope, undefined)])]
    : [];
  const of = (column: string, sign: "×" | "÷") =>
    row ? [cellPart({ sheet: "firings", row: row.id, column }, { kind: "factor", sign }, scope)] : [];
  const own = weight ? [partOf(weight, { kind: "factor", sign: "×" }, scope, undefined)] : [];
  return [...of("cost", "×"), ...own, ...of("weight", "÷"), ...lead];
}

function makeIn(scope: Scope): Make {
  return {
    cell: (cell, joins) => cellPart(cell, joins, scope),
    part: (of, joins) => partOf(of, joins, scope, undefined),
    group: (group, joins) => groupPart(group, joins, scope),
    condition: conditionPart,
  };
}

/** The line of an expression: of a name its cell, of a list its cells together, of anything else its own working. */
function partOf(of: Expression, joins: Joins, scope: Scope, format: NumberFormat | undefined): ExplainedPart {
  const { view } = scope;
  if (of.kind === "name" || of.kind === "reference") {
    const named = namedIn(of, scope);
    if (named.kind === "cell") return cellPart(named.cell, joins, scope);
    if (named.kind === "broken") return endPart(named.text, named.text, joins, "It names something that is not there.");
    if (named.kind === "absent") return literalPart(of, "the step has no such column", 0, joins, scope);
  }
  const literal = literalOf(of);
  if (literal !== undefined) return literalPart(of, "written in the formula", literal, joins, scope);
  const group = groupOf(of, scope);
  if (group) return groupPart(group, joins, scope);
  const value = evaluate(of, scope);
  const { rest } = take(of, scope);
  const cell = rest && (cellOf(rest, scope) ?? (rest.kind === "call" ? pickedCell(rest, scope) : undefined));
  const written = format ?? (cell && cellFormat(view.book, cell));
  return {
    key: positionOf(of),
    role: "working",
    words: say(of, scope),
    value,
    text: view.text(value, written),
    ...(cell ? { cell } : {}),
    joins,
    notes: [],
    open: () => openExpression(of, scope, { value, format: written }),
  };
}

function literalOf(of: Expression): number | string | boolean | undefined {
  if (of.kind === "number" || of.kind === "text" || of.kind === "boolean") return of.value;
  if (of.kind === "unary" && of.of.kind === "number") return of.sign === "-" ? -of.of.value : of.of.value;
  return of.kind === "percent" && of.of.kind === "number" ? of.of.value / 100 : undefined;
}

function literalPart(
  of: Expression,
  words: string,
  value: number | string | boolean,
  joins: Joins,
  { view }: Scope,
): ExplainedPart {
  return {
    key: positionOf(of),
    role: "literal",
    words,
    value,
    text: view.text(value, undefined),
    joins,
    notes: [],
  };
}

function groupPart(group: CellGroup, joins: Joins, scope: Scope): ExplainedPart {
  const { view } = scope;
  const base = {
    key: `group ${group.sheet} ${group.column}`,
    words: group.words,
    value: group.value,
    text: group.value === undefined ? "" : view.text(group.value, group.format),
    joins,
  };
  const made = isMadeOfSums(view, group) ? [madeOfPart(group, scope)] : [];
  const which = [...made, ...(group.rows ? [whichPart(group, scope)] : [])];
  if (group.rowIndexes.length === 0 && which.length === 0)
    return { ...base, role: "blank", notes: ["no cell filled in"] };
  const member = (cell: CellName, as: Joins) => ({ ...cellPart(cell, as, scope), words: rowWords(view, cell) });
  return {
    ...base,
    role: "group",
    notes: [countWords(scope, group)],
    open: () => openGroup(view, group, member, which),
  };
}

/** A group once more, by the terms of its cells instead of cell by cell. */
function madeOfPart(group: CellGroup, scope: Scope): ExplainedPart {
  const { view } = scope;
  return {
    key: `made of ${group.sheet} ${group.column}`,
    role: "breakdown",
    words: "The same, by what each is made of",
    value: group.value,
    text: view.text(group.value, group.format),
    joins: GIVEN,
    notes: [],
    open: () => {
      const shares = madeOf(view, group);
      if (!shares) return { parts: [groupPart({ ...group, how: "list" }, GIVEN, scope)], whole: "other" };
      return { parts: distinct(shares.map((share) => sharePart(share, scope))), whole: "sum" };
    },
  };
}

function sharePart({ group, joins, of }: Share, scope: Scope): ExplainedPart {
  if (!group.amounts || !of) return groupPart(group, joins, scope);
  const { view } = scope;
  const member = (cell: CellName, as: Joins) => ({
    ...partOf(of, as, { view, cell, above: scope.above }, group.format),
    key: cellKeyOf(cell),
    words: rowWords(view, cell),
  });
  const part = groupPart({ ...group, how: "list" }, joins, scope);
  return {
    ...part,
    key: `rows ${positionOf(of)}`,
    role: "group",
    notes: [countWords(scope, group)],
    open: () => openGroup(view, group, member, []),
  };
}

function rowWords({ book }: View, { sheet, row, column }: CellName): string {
  const found = rowOf(book, sheet, row);
  const label = found ? rowLabel(sheet, found) : row;
  return column === "value" ? label : `${book.sheets[sheet].title} ${label}`;
}

/** Which rows a look-up took: the name it looked for, and the cells that hold it. */
function whichPart(group: CellGroup, scope: Scope): ExplainedPart {
  const { rows, sheet, rowIndexes } = group;
  const isSaidBelow = rows?.column === group.column;
  return conditionPart(`Where ${rows?.words ?? ""}`, () => {
    const key = rows?.key ? [partOf(rows.key, { kind: "given", name: "looked for" }, scope, undefined)] : [];
    const column = rows?.column ?? "";
    const found: CellGroup = {
      words: `${scope.view.book.sheets[sheet].title}, the cells that say so`,
      ...{ sheet, column, rowIndexes, how: "list", value: undefined, format: undefined },
    };
    return isSaidBelow ? key : [...key, groupPart(found, GIVEN, scope)];
  });
}

function reasonPart({ words, reads }: Reason, scope: Scope): ExplainedPart {
  const sides = reads.flatMap((one) => (one.kind === "binary" ? [one.left, one.right] : [one]));
  const telling = sides.filter((one) => literalOf(one) === undefined);
  return conditionPart(`Because ${words}`, () =>
    (telling.length > 0 ? telling : sides).map((one) => partOf(one, GIVEN, scope, undefined)),
  );
}

function conditionPart(words: string, open: () => readonly ExplainedPart[]): ExplainedPart {
  return {
    key: `why ${words}`,
    role: "condition",
    words,
    value: undefined,
    text: "",
    joins: { kind: "condition" },
    notes: [],
    open: () => ({ parts: distinct(open()), whole: "other" }),
  };
}
