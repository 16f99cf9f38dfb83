// Why a formula took the branch it took: its condition in words, with the values that decided it, and only those.
import { listed } from "../../../core/counted";
import { type CellName, resolveCell } from "../../../core/document/access";
import type { Expression } from "../../../core/formula/tree";
import { isCellError, type Value } from "../../../engine/values";
import { branchTaken, evaluate, namedIn, referencesIn } from "./evaluate";
import { valueToTruth } from "./scalars";
import { type CellContext, parsed } from "./view";
import { say, valueWords } from "./words";

/** A condition that held, and what it reads. */
export interface Reason {
  readonly words: string;
  readonly reads: readonly Expression[];
}

export interface Taken {
  readonly reasons: readonly Reason[];
  /** What is left of the formula; undefined where a condition has no answer. */
  readonly rest: Expression | undefined;
}

type Call = Extract<Expression, { kind: "call" }>;
type Binary = Extract<Expression, { kind: "binary" }>;

/** Follows a formula's choices to the branch that was taken. */
export function take(expression: Expression, here: CellContext): Taken {
  const reasons: Reason[] = [];
  let rest: Expression | undefined = expression;
  while (rest?.kind === "call" && isChoice(rest)) {
    const branch = branchTaken(rest, here);
    const taken: Expression | undefined = branch !== undefined && "kind" in branch ? branch : undefined;
    reasons.push(...reasonsOf(rest, here, taken));
    rest = taken;
  }
  return { reasons, rest };
}

function isChoice({ name }: Call): boolean {
  return name === "IF" || name === "SWITCH" || name === "IFERROR";
}

function reasonsOf({ name, given }: Call, here: CellContext, taken: Expression | undefined): Reason[] {
  const [first] = given;
  if (!first) return [];
  if (name === "IFERROR") return taken === first ? [] : [{ words: `${say(first, here)} has no value`, reads: [first] }];
  const value = evaluate(first, here);
  if (name === "SWITCH") return [{ words: `${say(first, here)} is ${inWords(value, first, here)}`, reads: [first] }];
  const truth = value === undefined ? undefined : valueToTruth(value);
  if (truth === undefined || isCellError(truth))
    return [{ words: `${say(first, here)} can't be told`, reads: [first] }];
  return decided(first, truth, here);
}

/** What made a condition true or false: of several, those that decided it. */
function decided(condition: Expression, truth: boolean, here: CellContext): Reason[] {
  if (condition.kind === "call" && condition.name === "NOT" && condition.given[0])
    return decided(condition.given[0], !truth, here);
  if (condition.kind === "call" && (condition.name === "AND" || condition.name === "OR")) {
    const decisive = condition.given.filter((one) => isTrue(one, here) === truth);
    return decisive.flatMap((one) => decided(one, truth, here));
  }
  return [{ words: phrase(condition, truth, here), reads: [condition] }];
}

function isTrue(expression: Expression, here: CellContext): boolean | undefined {
  const value = evaluate(expression, here);
  const truth = value === undefined ? undefined : valueToTruth(value);
  return typeof truth === "boolean" ? truth : undefined;
}

function phrase(condition: Expression, truth: boolean, here: CellContext): string {
  if (condition.kind !== "binary") return `${say(condition, here)} is ${truth ? "so" : "not so"}`;
  const behind = behindHidden(condition, here);
  if (behind !== undefined) return behind;
  const { sign, left, right } = condition;
  if (sign === "=" || sign === "<>") return sameness(left, right, truth === (sign === "="), here);
  const isMore = sign === ">" || sign === ">=";
  const isOrSame = sign === "<=" || sign === ">=";
  const how = ordering(isMore === truth, isOrSame === truth);
  return `${withValue(left, here)} is ${how} ${withValue(right, here)}`;
}

function ordering(isMore: boolean, isOrSame: boolean): string {
  if (isMore) return isOrSame ? "at least" : "more than";
  return isOrSame ? "at most" : "less than";
}

function sameness(left: Expression, right: Expression, isSame: boolean, here: CellContext): string {
  const value = evaluate(left, here);
  const words = say(left, here);
  const isBlankTest = right.kind === "text" && right.value === "";
  if (isBlankTest) return isSame ? `${words} is blank` : `${words} is ${inWords(value, left, here)}`;
  if (right.kind !== "text" && right.kind !== "number")
    return `${withValue(left, here)} is ${isSame ? "the same as" : "not"} ${withValue(right, here)}`;
  return isSame
    ? `${words} is ${say(right, here)}`
    : `${words} is ${inWords(value, left, here)}, not ${say(right, here)}`;
}

function inWords(value: Value | undefined, of: Expression, here: CellContext): string {
  return valueWords(value, cellOf(of, here), here);
}

/** An expression with its value beside it, unless it is a plain value. */
function withValue(of: Expression, here: CellContext): string {
  const words = say(of, here);
  return of.kind === "number" || of.kind === "text" ? words : `${words} (${inWords(evaluate(of, here), of, here)})`;
}

/** The cell that an expression is, if it is one. */
export function cellOf(of: Expression, here: CellContext): CellName | undefined {
  if (of.kind !== "reference" && of.kind !== "name") return undefined;
  const named = namedIn(of, here);
  return named.kind === "cell" ? named.cell : undefined;
}

/** Of a hidden cell that only stands for another's being blank: that, in words. */
function behindHidden(condition: Binary, here: CellContext): string | undefined {
  for (const name of referencesIn(condition)) {
    const cell = cellOf(name, here);
    const found = cell && resolveCell(here.view.book, cell);
    if (!cell || !found?.column.hidden) continue;
    const tree = found.formula === undefined ? undefined : parsed(here.view, found.formula);
    const taken = tree && take(tree, { view: here.view, cell });
    const isPlain = taken?.rest?.kind === "number" || taken?.rest?.kind === "text";
    if (isPlain && taken.reasons.length > 0) return listed(taken.reasons.map(({ words }) => words));
  }
  return undefined;
}
