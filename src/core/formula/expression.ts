// A named formula as a tree: what a formula says, for those who explain it or check it. Signs bind as in the engine:
// a percent sign tightest, then a sign in front, then ^ (from the left: 2^3^2 = 64, and -2^2 = 4), * and /, + and -, &,
// and comparisons last. What the engine can't read as a formula is refused here too.

import { fail, ok, problem, type Result } from "../problem";
import { parseReference, type ReferencePart } from "./formula";

/** Where a piece of the formula stands in its text: from `start` up to `end`, brackets round it included. */
interface Place {
  readonly start: number;
  readonly end: number;
}

export type BinarySign = "+" | "-" | "*" | "/" | "^" | "&" | "=" | "<>" | "<" | ">" | "<=" | ">=";

export type Expression = Place &
  (
    | { readonly kind: "number"; readonly value: number }
    | { readonly kind: "text"; readonly value: string }
    | { readonly kind: "boolean"; readonly value: boolean }
    /** A bare word: an input of the Edition sheet. */
    | { readonly kind: "name"; readonly name: string }
    | { readonly kind: "reference"; readonly to: ReferencePart }
    /** An argument left out, as between two commas. */
    | { readonly kind: "nothing" }
    | { readonly kind: "call"; readonly name: string; readonly given: readonly Expression[] }
    | { readonly kind: "unary"; readonly sign: "+" | "-"; readonly of: Expression }
    | { readonly kind: "percent"; readonly of: Expression }
    | {
        readonly kind: "binary";
        readonly sign: BinarySign;
        readonly left: Expression;
        readonly right: Expression;
      }
  );

/** How tightly each sign between two values binds. */
export const TIGHTNESS: Readonly<Record<BinarySign, number>> = {
  "=": 1,
  "<>": 1,
  "<": 1,
  ">": 1,
  "<=": 1,
  ">=": 1,
  "&": 2,
  "+": 3,
  "-": 3,
  "*": 4,
  "/": 4,
  "^": 5,
};

/** How many brackets and calls may stand in each other. */
const DEEPEST = 100;

type TokenKind = "number" | "text" | "call" | "word" | "reference" | "sign" | "end";

interface Token extends Place {
  readonly kind: TokenKind;
  readonly text: string;
}

const TOKENS =
  /\s+|(?<number>(?:\d+(?:\.\d*)?|\.\d+)(?:e[+-]?\d+)?)|(?<text>"[^"\\]*(?:\\.[^"\\]*)*")|(?<call>[A-Za-z_][\w.]*\s*\()|(?<word>[A-Za-z_][\w.]*)|(?<reference>\{[^{}]*\})|(?<sign><=|>=|<>|[-+*/^&=<>%(),])/y;

const TOKEN_KINDS = ["number", "text", "call", "word", "reference", "sign"] as const;

class Trouble {
  readonly found: string;
  readonly allowed: string;

  constructor(found: string, allowed: string) {
    this.found = found;
    this.allowed = allowed;
  }
}

/**
 * Reads a formula, with or without its leading “=”, as a tree. Inputs and functions are not looked up: an unknown name is
 * a name. The problem of a text that is no formula says what was found and what would have been read there.
 */
export function parseExpression(formula: string): Result<Expression> {
  const tokens = tokensOf(formula);
  if (tokens instanceof Trouble) return refuse(tokens);
  const reader = new Reader(tokens);
  const tree = reader.compared(0);
  if (tree instanceof Trouble) return refuse(tree);
  const rest = reader.peek();
  return rest.kind === "end" ? ok(tree) : refuse(new Trouble(rest.text, "a sign between two values, or its end"));
}

function refuse({ found, allowed }: Trouble): Result<Expression> {
  return fail(problem({ code: "formula.expression", where: "The formula", found, allowed }));
}

function tokensOf(formula: string): readonly Token[] | Trouble {
  const tokens: Token[] = [];
  let at = /^\s*=/.exec(formula)?.[0].length ?? 0;
  while (at < formula.length) {
    TOKENS.lastIndex = at;
    const match = TOKENS.exec(formula);
    if (!match)
      return new Trouble(formula.slice(at, at + 20), "numbers, texts in quotes, names, and signs between them");
    const end = TOKENS.lastIndex;
    const kind = TOKEN_KINDS.find((one) => match.groups?.[one] !== undefined);
    if (kind) tokens.push({ kind, text: match[0], start: at, end });
    at = end;
  }
  tokens.push({ kind: "end", text: "", start: at, end: at });
  return tokens;
}

/** Goes through the tokens once, from left to right. */
class Reader {
  private readonly tokens: readonly Token[];
  private at = 0;

  constructor(tokens: readonly Token[]) {
    this.tokens = tokens;
  }

  peek(): Token {
    return this.tokens[Math.min(this.at, this.tokens.length - 1)] ?? { kind: "end", text: "", start: 0, end: 0 };
  }

  /** A whole expression. */
  compared(depth: number): Expression | Trouble {
    return depth > DEEPEST
      ? new Trouble("too many brackets", `at most ${DEEPEST} in each other`)
      : this.joined(1, depth);
  }

  private take(): Token {
    const token = this.peek();
    this.at += 1;
    return token;
  }

  /** Values with signs between them that bind at least so tightly, read from the left. */
  private joined(loosest: number, depth: number): Expression | Trouble {
    let left = this.signed(depth);
    while (!(left instanceof Trouble)) {
      const { kind, text } = this.peek();
      const sign = kind === "sign" && text in TIGHTNESS ? (text as BinarySign) : undefined;
      if (sign === undefined || TIGHTNESS[sign] < loosest) return left;
      this.take();
      const right = this.joined(TIGHTNESS[sign] + 1, depth);
      if (right instanceof Trouble) return right;
      left = { kind: "binary", sign, left, right, start: left.start, end: right.end };
    }
    return left;
  }

  private signed(depth: number): Expression | Trouble {
    const { kind, text, start } = this.peek();
    if (kind !== "sign" || (text !== "+" && text !== "-")) return this.perHundred(depth);
    this.take();
    if (depth > DEEPEST) return new Trouble("too many signs", "one sign in front of a value");
    const of = this.signed(depth + 1);
    return of instanceof Trouble ? of : { kind: "unary", sign: text, of, start, end: of.end };
  }

  private perHundred(depth: number): Expression | Trouble {
    const of = this.value(depth);
    if (of instanceof Trouble || this.peek().text !== "%") return of;
    return { kind: "percent", of, start: of.start, end: this.take().end };
  }

  private value(depth: number): Expression | Trouble {
    const token = this.take();
    const { kind, text, start, end } = token;
    switch (kind) {
      case "number":
        return { kind, value: Number(text), start, end };
      case "text":
        return { kind, value: text.slice(1, -1), start, end };
      case "word":
        return wordOf(token);
      case "reference": {
        const to = parseReference(text.slice(1, -1).trim());
        return to
          ? { kind, to, start, end }
          : new Trouble(text, "a column such as {coats}, or one cell such as {route[glaze]:area}");
      }
      case "call":
        return this.call(token, depth);
      default:
        return text === "(" ? this.bracketed(start, depth) : new Trouble(text, "a value");
    }
  }

  private bracketed(start: number, depth: number): Expression | Trouble {
    const inside = this.compared(depth + 1);
    if (inside instanceof Trouble) return inside;
    const closing = this.take();
    return closing.text === ")"
      ? { ...inside, start, end: closing.end }
      : new Trouble(closing.text, "a closing bracket");
  }

  private call({ text, start }: Token, depth: number): Expression | Trouble {
    const name = text.slice(0, -1).trim().toUpperCase();
    const given: Expression[] = [];
    for (;;) {
      const next = this.peek();
      const isLeftOut = next.text === "," || next.text === ")";
      const one = isLeftOut
        ? ({ kind: "nothing", start: next.start, end: next.start } as const)
        : this.compared(depth + 1);
      if (one instanceof Trouble) return one;
      given.push(one);
      const { text: after, end } = this.take();
      if (after === ")") return callOf(name, given, { start, end });
      if (after !== ",") return new Trouble(after, `a comma or a closing bracket in ${name}`);
    }
  }
}

function wordOf({ text, start, end }: Token): Expression {
  const logical = /^(?:(true)|false)$/i.exec(text);
  return logical
    ? { kind: "boolean", value: logical[1] !== undefined, start, end }
    : { kind: "name", name: text, start, end };
}

function callOf(name: string, given: readonly Expression[], place: Place): Expression {
  const isEmpty = given.length === 1 && given[0]?.kind === "nothing";
  if (isEmpty && (name === "TRUE" || name === "FALSE")) return { kind: "boolean", value: name === "TRUE", ...place };
  return { kind: "call", name, given: isEmpty ? [] : given, ...place };
}

/** The expressions directly inside one, in the order in which they are written. */
export function insideOf(expression: Expression): readonly Expression[] {
  switch (expression.kind) {
    case "call":
      return expression.given;
    case "unary":
    case "percent":
      return [expression.of];
    case "binary":
      return [expression.left, expression.right];
    default:
      return [];
  }
}
