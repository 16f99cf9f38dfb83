// Reads the engine's text of a formula: the part of its grammar that this workbook's formulas are written in, with the
// engine's precedence (a sign binds closer than a power, and powers go from the left).
import { type BinarySign, TIGHTNESS } from "../../core/formula/tree";
import type { Node } from "./formula-tree";

/** Where a formula stands and what the sheets are called. */
export interface Standing {
  readonly sheet: number;
  readonly row: number;
  readonly height: (sheet: number) => number;
  readonly sheetNamed: (name: string) => number | undefined;
  /** Whether more cells than this one are filled with it. */
  readonly isFilled: boolean;
}

/** Why a formula can't be read. */
export class Unread extends Error {}

type Token =
  | { readonly is: "number"; readonly value: number }
  | { readonly is: "text" | "error" | "name" | "call" | "sign"; readonly text: string }
  | {
      readonly is: "cell";
      readonly sheet: string | undefined;
      readonly letters: string;
      readonly fixed: boolean;
      readonly row: number;
    };

const TOKEN =
  /\s*(?:((?:\.\d+|\d+(?:\.\d*)?)(?:e[+-]?\d+)?)|"([^"\\]*)"|(#[A-Za-z0-9/]+[?!]?)|(?:([A-Za-z_]\w*)!)?\$?([A-Z]{1,3})(\$?)(\d+)(?![\w(.])|([A-Za-z_][\w.]*)\(|([A-Za-z_][\w.]*)|(<=|>=|<>|[-+*/^&=<>%(),:]))/y;

function tokensOf(text: string): readonly Token[] {
  const tokens: Token[] = [];
  TOKEN.lastIndex = 0;
  const end = text.trimEnd().length;
  while (TOKEN.lastIndex < end) {
    const at = TOKEN.lastIndex;
    const found = TOKEN.exec(text);
    if (!found) throw new Unread(`“${text.slice(at, at + 20)}” can't be read`);
    tokens.push(tokenOf(found));
  }
  return tokens;
}

function tokenOf(found: RegExpExecArray): Token {
  const [, number, text, error, sheet, letters, fixed, row, call, name, sign] = found;
  if (number !== undefined) return { is: "number", value: Number(number) };
  if (text !== undefined) return { is: "text", text };
  if (error !== undefined) return { is: "error", text: error.toUpperCase() };
  if (letters !== undefined) return { is: "cell", sheet, letters, fixed: fixed === "$", row: Number(row) - 1 };
  if (call !== undefined) return { is: "call", text: call.toUpperCase() };
  return name === undefined ? { is: "sign", text: sign ?? "" } : { is: "name", text: name };
}

const ERRORS: Readonly<Record<string, string>> = {
  "#DIV/0!": "DIV_BY_ZERO",
  "#NAME?": "NAME",
  "#VALUE!": "VALUE",
  "#NUM!": "NUM",
  "#N/A": "NA",
  "#CYCLE!": "CYCLE",
  "#REF!": "REF",
};

/** The tree of a formula's text, or an `Unread` that says what is beyond this grammar. */
export function readFormula(text: string, standing: Standing): Node {
  if (!text.startsWith("=")) throw new Unread("it is no formula");
  return new Reader(tokensOf(text.slice(1)), standing).whole();
}

class Reader {
  private at = 0;
  private readonly tokens: readonly Token[];
  private readonly standing: Standing;

  constructor(tokens: readonly Token[], standing: Standing) {
    this.tokens = tokens;
    this.standing = standing;
  }

  whole(): Node {
    const node = this.expression(0);
    if (this.at < this.tokens.length) throw new Unread("something is left over at its end");
    return node;
  }

  private expression(least: number): Node {
    let left = this.operand();
    for (;;) {
      const sign = this.peekSign();
      const binds = sign === undefined ? undefined : TIGHTNESS[sign as BinarySign];
      if (binds === undefined || binds <= least) return left;
      this.at += 1;
      left = { is: "binary", sign: sign as BinarySign, left, right: this.expression(binds) };
    }
  }

  private operand(): Node {
    const sign = this.peekSign();
    if (sign === "-" || sign === "+") {
      this.at += 1;
      return { is: "unary", sign, of: this.operand() };
    }
    const atom = this.atom();
    return this.took("%") ? { is: "unary", sign: "%", of: atom } : atom;
  }

  private atom(): Node {
    const token = this.tokens[this.at];
    this.at += 1;
    switch (token?.is) {
      case "number":
        return { is: "number", value: token.value };
      case "text":
        return { is: "text", value: token.text };
      case "error": {
        const type = ERRORS[token.text];
        if (type === undefined) throw new Unread(`${token.text} is no error`);
        return { is: "error", type, message: "" };
      }
      case "name":
        return { is: "error", type: "NAME", message: `Named expression ${token.text} not recognized.` };
      case "call":
        return { is: "call", name: token.text, args: this.args() };
      case "cell":
        return this.cells(token);
      default:
        return this.inBrackets(token?.text);
    }
  }

  private inBrackets(text: string | undefined): Node {
    if (text !== "(")
      throw new Unread(text === undefined ? "it ends too soon" : `“${text}” stands where a value should`);
    const of = this.expression(0);
    if (!this.took(")")) throw new Unread("a bracket is not closed");
    return { is: "unary", sign: "()", of };
  }

  private args(): readonly Node[] {
    const args: Node[] = [];
    do {
      const next = this.peekSign();
      args.push(next === "," || next === ")" ? { is: "empty" } : this.expression(0));
    } while (this.took(","));
    if (!this.took(")")) throw new Unread("a bracket is not closed");
    return args.length === 1 && args[0]?.is === "empty" ? [] : args;
  }

  private cells(start: Extract<Token, { is: "cell" }>): Node {
    const sheet = this.sheetOf(start.sheet);
    const column = placeOf(start.letters);
    if (!this.took(":")) return this.cell(start, sheet, column);
    const end = this.tokens[this.at];
    this.at += 1;
    if (end?.is !== "cell" || end.sheet !== undefined || placeOf(end.letters) !== column)
      throw new Unread("it names a range that is no single column");
    if (start.row !== 0 || end.row !== this.standing.height(sheet) - 1 || !start.fixed || !end.fixed)
      throw new Unread("it names a range that is no whole column");
    return { is: "range", sheet, column };
  }

  private cell(cell: Extract<Token, { is: "cell" }>, sheet: number, column: number): Node {
    if (cell.fixed || !this.standing.isFilled) return { is: "cell", sheet, column, row: cell.row };
    if (sheet !== this.standing.sheet || cell.row !== this.standing.row)
      throw new Unread("it names a cell of another row without saying that the row stays");
    return { is: "own", column };
  }

  private sheetOf(name: string | undefined): number {
    const sheet = name === undefined ? this.standing.sheet : this.standing.sheetNamed(name);
    if (sheet === undefined) throw new Unread(`there is no sheet ${name}`);
    return sheet;
  }

  private peekSign(): string | undefined {
    const token = this.tokens[this.at];
    return token?.is === "sign" ? token.text : undefined;
  }

  private took(sign: string): boolean {
    if (this.peekSign() !== sign) return false;
    this.at += 1;
    return true;
  }
}

function placeOf(letters: string): number {
  let place = 0;
  for (const letter of letters) place = place * 26 + letter.charCodeAt(0) - 64;
  return place - 1;
}
