// The one reader of formulas: text → tree. Signs bind as in the engine: a percent sign tightest, then a sign in front,
// then ^ (from the left: 2^3^2 = 64, and -2^2 = 4), * and /, + and -, &, and comparisons last.

import { fail, ok, type Problem, problem, type Result, type TextSpan } from "../problem";
import { type EachSteps, goThroughSteps, mayGoThroughSteps, strayStep } from "./each-step";
import { parseReference } from "./reference";
import { isBoolean, type Token, tokensOf } from "./tokens";
import { type BinarySign, ERROR_VALUES, type Expression, TIGHTNESS } from "./tree";

/** Brackets within brackets; the engine reads them by calling itself. */
const DEEPEST = 64;
/** Operators and commas in one formula. */
const MOST_OPERATORS = 1000;
/** Signs, powers or percents one right after another. */
const LONGEST_RUN = 32;

/** Carries a problem out of the parser; it never leaves this file. */
class Refusal extends Error {
  readonly problem: Problem;

  constructor(found: Problem) {
    super(found.message);
    this.problem = found;
  }
}

/**
 * Reads a formula, with or without its leading “=”. Names and functions are not looked up: an unknown name is a name, but
 * for `isInput`, which says which words are inputs, so that one called `k2` is no address. A problem says what was found,
 * what would have been read there, and where in the text.
 */
export function parseFormula(formula: string, isInput: (word: string) => boolean = () => true): Result<Expression> {
  const tokens = tokensOf(formula, isInput);
  const wrong = wordProblem(formula, tokens);
  if (wrong) return fail(wrong);
  try {
    const tree = new Parser(tokens).formula();
    const stray = mayGoThroughSteps(formula) ? strayStep(tree) : undefined;
    if (!stray) return ok(tree);
    const found = formula.slice(stray.start, stray.end);
    return fail(refused(found, "a step straight inside a function, as in SUM(EACH_STEP({*.cost}))", stray).problem);
  } catch (error) {
    if (error instanceof Refusal) return fail(error.problem);
    throw error;
  }
}

/** The same as it stands in a document: what goes through the steps of the route stands for each of them. */
export function readFormula(
  formula: string,
  steps: EachSteps,
  isInput?: (word: string) => boolean,
): Result<Expression> {
  const parsed = parseFormula(formula, isInput);
  return parsed.ok && mayGoThroughSteps(formula) ? ok(goThroughSteps(parsed.value, steps)) : parsed;
}

/** What is wrong with the words of a formula, whatever their order: too many, or one that no formula can hold. */
export function wordProblem(formula: string, tokens: readonly Token[]): Problem | undefined {
  const excess = excessOf(formula, tokens);
  if (excess) return excess;
  // In pieces!D4 the address is the matter, not the sign before it.
  const wrong = tokens.find(({ kind }) => kind === "address") ?? tokens.find(isUnreadable);
  return wrong && unreadable(formula, wrong);
}

/** What is too much in a formula for it to be read safely; undefined where nothing is. */
function excessOf(formula: string, tokens: readonly Token[]): Problem | undefined {
  let [depth, deepest, operators, signs, powers, signStart, powerStart] = [0, 0, 0, 0, 0, 0, 0];
  for (const { kind, text, start, end } of tokens) {
    if (kind === "call" || text === "(") depth += 1;
    if (text === ")") depth -= 1;
    deepest = Math.max(deepest, depth);
    if (kind === "operator" && !"(){}:".includes(text)) operators += 1;
    signs = kind === "operator" && "+-%".includes(text) ? signs + 1 : 0;
    if (signs === 1) signStart = start;
    if (text === "^") powers += 1;
    else if (kind === "call" || (kind === "operator" && text !== "%")) powers = 0;
    if (powers === 1 && text === "^") powerStart = start;
    if (signs > LONGEST_RUN || powers > LONGEST_RUN) {
      const from = signs > LONGEST_RUN ? signStart : powerStart;
      const allowed = `up to ${LONGEST_RUN} signs, powers or percents in a row`;
      return sizeProblem(formula.slice(from, end), allowed, { start: from, end });
    }
  }
  const whole = { start: 0, end: formula.length };
  if (deepest > DEEPEST) return sizeProblem(`${deepest} brackets within one another`, `up to ${DEEPEST}`, whole);
  return operators > MOST_OPERATORS
    ? sizeProblem(`${operators} operators`, `up to ${MOST_OPERATORS}`, whole)
    : undefined;
}

function sizeProblem(found: string, allowed: string, at: TextSpan): Problem {
  return problem({
    code: "formula.size",
    where: "The formula",
    found,
    allowed,
    fix: "Split it over several columns.",
    at,
  });
}

function isUnreadable({ kind, text }: Token): boolean {
  return kind === "unknown" || (kind === "reference" && !parseReference(text));
}

/** What is wrong with a word by itself. */
function unreadable(formula: string, { kind, text, start, end }: Token): Problem {
  const where = "The formula";
  const at = { start, end };
  if (kind === "reference")
    return problem({
      code: "formula.reference",
      where,
      found: text,
      allowed: "a column such as {coats}, a whole column such as {pieces:own}, or one cell such as {route[glaze]:area}",
      at,
    });
  if (kind === "address")
    return problem({
      code: "formula.address",
      where,
      found: text,
      allowed: "names, because rows move and names do not",
      fix: "Write the column in braces, as in {coats}, or the name of an input.",
      at,
    });
  if (text === "{" || text === "}")
    return problem({ code: "formula.braces", where, found: text, allowed: "braces in pairs, as in {coats}", at });
  const rest = formula.slice(start, start + 20);
  return text === '"'
    ? problem({ code: "formula.quotes", where, found: rest, allowed: "quotes in pairs, as in “a text”", at })
    : refused(rest, "numbers, texts in quotes, names, and signs between them", at).problem;
}

function refused(found: string, allowed: string, { start, end }: TextSpan): Refusal {
  const parts = { code: "formula.expression", where: "The formula", found, allowed, at: { start, end } };
  return new Refusal(problem(parts));
}

/** Goes through the tokens once, from left to right. */
class Parser {
  private readonly tokens: readonly Token[];
  private at = 0;
  private calls = 0;

  constructor(tokens: readonly Token[]) {
    this.tokens = tokens;
  }

  formula(): Expression {
    const tree = this.expression();
    const rest = this.peek();
    if (rest.kind !== "end") throw refused(rest.text, "a sign between two values, or its end", rest);
    return tree;
  }

  /** Values with signs between them that bind at least so tightly, read from the left. */
  private expression(loosest = 1): Expression {
    let left = this.signed();
    for (;;) {
      const { kind, text } = this.peek();
      const sign = kind === "operator" && Object.hasOwn(TIGHTNESS, text) ? (text as BinarySign) : undefined;
      if (sign === undefined || TIGHTNESS[sign] < loosest) return left;
      this.take();
      const right = this.expression(TIGHTNESS[sign] + 1);
      left = { kind: "binary", sign, left, right, start: left.start, end: right.end };
    }
  }

  private signed(): Expression {
    const { text, start } = this.peek();
    if (text !== "+" && text !== "-") return this.percent();
    this.take();
    const of = this.signed();
    return { kind: "unary", sign: text, of, start, end: of.end };
  }

  private percent(): Expression {
    const of = this.range();
    if (this.peek().text !== "%") return of;
    return { kind: "percent", of, start: of.start, end: this.take().end };
  }

  private range(): Expression {
    const from = this.value();
    const colon = this.peek();
    if (colon.text !== ":") return from;
    this.take();
    const next = this.peek();
    const to = this.value();
    if (!isCell(from) || !isCell(to)) throw refused(colon.text, "a single cell on both sides of a colon", next);
    return { kind: "range", from, to, start: from.start, end: to.end };
  }

  private value(): Expression {
    const token = this.take();
    const { kind, text, start, end } = token;
    switch (kind) {
      case "number":
        if (!Number.isFinite(Number(text))) throw refused(text, "a number below 1.8e308", token);
        return { kind, value: Number(text), start, end };
      case "text":
        return { kind, value: text.slice(1, -1).replaceAll('""', '"'), start, end };
      case "error": {
        const value = ERROR_VALUES.find((error) => error === text.toUpperCase());
        if (!value) throw refused(text, `an error such as ${ERROR_VALUES[1]}`, token);
        return { kind, value, start, end };
      }
      case "name":
        return isBoolean(text)
          ? { kind: "boolean", value: text.toLowerCase() === "true", start, end }
          : { kind, name: text, start, end };
      case "reference": {
        const to = parseReference(text);
        if (to) return { kind, to, start, end };
        break;
      }
      case "call":
        return this.call(token);
      default:
    }
    if (text === "(") return this.bracketed(start);
    if (text === "{") return this.array(token);
    throw refused(text, "a value", token);
  }

  private bracketed(start: number): Expression {
    const inside = this.expression();
    const closing = this.take();
    if (closing.text !== ")") throw refused(closing.text, "a closing bracket", closing);
    return { ...inside, bracketed: true, start, end: closing.end };
  }

  private call({ text, start }: Token): Expression {
    const name = text.slice(0, -1).trim().toUpperCase();
    const given: Expression[] = [];
    this.calls += 1;
    for (;;) {
      const next = this.peek();
      const isLeftOut = next.text === "," || next.text === ")";
      given.push(isLeftOut ? { kind: "nothing", start: next.start, end: next.start } : this.expression());
      const after = this.take();
      if (after.text === ")") {
        this.calls -= 1;
        return callOf(name, given, { start, end: after.end });
      }
      if (after.text !== ",") throw refused(after.text, `a comma or a closing bracket in ${name}`, after);
    }
  }

  /** Outside a function an array would fill the cells beside it. */
  private array(opening: Token): Expression {
    if (this.calls === 0) throw refused(opening.text, "an array inside a function only, as in SUM({1,2})", opening);
    const rows: Expression[][] = [[]];
    for (;;) {
      rows.at(-1)?.push(this.signed());
      const after = this.take();
      if (after.text === ";") rows.push([]);
      if (after.text !== "}") continue;
      const span = { start: opening.start, end: after.end };
      if (rows.some(({ length }) => length !== rows[0]?.length))
        throw refused(opening.text, "rows of the same length in an array", span);
      return { kind: "array", rows, ...span };
    }
  }

  private peek(): Token {
    return this.tokens[Math.min(this.at, this.tokens.length - 1)] ?? { kind: "end", text: "", start: 0, end: 0 };
  }

  private take(): Token {
    const token = this.peek();
    this.at += 1;
    return token;
  }
}

function isCell(node: Expression): boolean {
  return !node.bracketed && (node.kind === "name" || (node.kind === "reference" && node.to.kind !== "column"));
}

function callOf(name: string, given: readonly Expression[], span: TextSpan): Expression {
  const isEmpty = given.length === 1 && given[0]?.kind === "nothing";
  if (isEmpty && (name === "TRUE" || name === "FALSE")) return { kind: "boolean", value: name === "TRUE", ...span };
  return { kind: "call", name, given: isEmpty ? [] : given, ...span };
}
