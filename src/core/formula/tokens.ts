// The words of a formula: OpenFormula text, with references in braces and names of inputs instead of addresses.
import type { TextSpan } from "../problem";
import { ERROR_VALUES } from "./tree";

const KINDS = [
  ...(["number", "text", "error", "call", "address", "name"] as const),
  ...(["arrayStart", "reference", "operator"] as const),
] as const;

/** “unknown” is what no formula can hold, such as a quote that is not closed or a brace by itself. */
type TokenKind = Exclude<(typeof KINDS)[number], "arrayStart"> | "unknown" | "end";

export interface Token extends TextSpan {
  readonly kind: TokenKind;
  readonly text: string;
}

const NUMBER = String.raw`(?:\d+(?:\.\d*)?|\.\d+)(?:e[+-]?\d+)?`;
/** A quote inside a text is doubled. */
const TEXT = '"(?:[^"]|"")*"';
const ERROR = ERROR_VALUES.join("|").replaceAll("?", "\\?");
const CONSTANT = String.raw`\s*(?:(?:[-+]\s*)?(?:${NUMBER})|${TEXT}|${ERROR}|true|false)\s*`;
/** A brace opens an array if at least two constants follow; anything else in braces is a reference. */
const ARRAY_START = String.raw`\{(?=${CONSTANT}(?:[,;]${CONSTANT})+\})`;

const TOKEN = new RegExp(
  [
    ...[`(?<number>${NUMBER})`, `(?<text>${TEXT})`, `(?<error>${ERROR})`],
    String.raw`(?<call>[a-z_][\w.]*\s*\()`,
    String.raw`(?<address>\$?[a-z]{1,3}\$?\d+)(?![\w.])`,
    String.raw`(?<name>[a-z_][\w.]*)`,
    `(?<arrayStart>${ARRAY_START})`,
    String.raw`(?<reference>\{[^{}]*\})`,
    "(?<operator><=|>=|<>|[-+*/^&=<>%(),;:])",
  ].join("|"),
  "iy",
);

/**
 * Cuts a formula, with or without its leading “=”, into its words; the last one is its end. White space is between them.
 * `isInput` says which words are inputs, so that one called `k2` is no address.
 */
export function tokensOf(formula: string, isInput: (word: string) => boolean = () => true): readonly Token[] {
  const tokens: Token[] = [];
  const start = /^\s*=/.exec(formula)?.[0].length ?? 0;
  let isInArray = false;
  for (let at = skipSpace(formula, start); at < formula.length; at = skipSpace(formula, tokens.at(-1)?.end ?? at)) {
    TOKEN.lastIndex = at;
    const { groups } = TOKEN.exec(formula) ?? {};
    const found = KINDS.find((kind) => groups?.[kind] !== undefined);
    const text = (found && groups?.[found]) ?? formula.charAt(at);
    let kind: TokenKind = found === undefined ? "unknown" : found === "arrayStart" ? "operator" : found;
    if (found === "arrayStart") isInArray = true;
    if (text === "}" && isInArray) {
      isInArray = false;
      kind = "operator";
    }
    if (kind === "address" && !text.includes("$") && isInput(text)) kind = "name";
    tokens.push({ kind, text, start: at, end: at + text.length });
  }
  tokens.push({ kind: "end", text: "", start: formula.length, end: formula.length });
  return tokens;
}

function skipSpace(text: string, from: number): number {
  let at = from;
  while (at < text.length && /\s/.test(text.charAt(at))) at += 1;
  return at;
}

/** A formula with some of its words written in another way; what stands between them stays, and so does a leading “=”. */
export function rewriteTokens(formula: string, tokens: readonly Token[], write: (token: Token) => string): string {
  let [text, end] = ["", 0];
  for (const token of tokens) {
    text += formula.slice(end, token.start) + write(token);
    end = token.end;
  }
  return text;
}

/** Whether a word is TRUE or FALSE, in capitals or not. */
export function isBoolean(word: string): boolean {
  return /^(?:true|false)$/i.test(word);
}
