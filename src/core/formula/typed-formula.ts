// A formula as a maker types it: titles are accepted in braces, and every name is checked before it is kept.
import { columnOf, rowLabel, rowOf } from "../document/access";
import type { Column, SheetKey, Workbook } from "../document/workbook";
import { fail, ok, type Problem, problem, type Result } from "../problem";
import { didYouMean } from "./did-you-mean";
import { wordProblem } from "./formula";
import { columnNamed, parseReference, type Reference, referenceText } from "./reference";
import { isBoolean, rewriteTokens, type Token, tokensOf } from "./tokens";

/**
 * Checks a typed formula for a cell of `sheet` and gives it back in the form in which it is kept. Every word must be
 * known; one whose words are in no order, such as a sum without its last term, is kept, and its cell says so.
 */
export function checkTypedFormula(book: Workbook, sheet: SheetKey, typed: string): Result<string> {
  const inputs = new Set(book.sheets.edition.rows.map((row) => row.id));
  const isInput = (word: string) => inputs.has(word);
  const kept = rewriteTokens(typed, tokensOf(typed, isInput), (token) => keptToken(book, sheet, token));
  const tokens = tokensOf(kept, isInput);
  const wrong = wordProblem(kept, tokens);
  if (wrong) return fail(wrong);
  const problems = tokens.flatMap((token) => checkToken(book, sheet, token, inputs));
  return problems.length > 0 ? fail(...problems) : ok(kept);
}

/** A word in the form in which it is kept: keys for titles in braces, functions in capitals. */
function keptToken(book: Workbook, sheet: SheetKey, { kind, text }: Token): string {
  if (kind === "call") return `${text.slice(0, -1).trim().toUpperCase()}(`;
  if (kind !== "reference") return text;
  const reference = parseReference(text);
  return keyForTitle(book, sheet, text.slice(1, -1).trim()) ?? (reference ? referenceText(reference) : text);
}

/** `{Glaze: coats}`, `{Coats}` or `{own}` as the key it stands for; undefined where it is a key already or unknown. */
function keyForTitle(book: Workbook, sheet: SheetKey, inside: string): string | undefined {
  const at = book.sheets[sheet];
  if (columnOf(book, sheet, inside)) return undefined;
  const wanted = inside.toLowerCase().replace(/\s*:\s*/, ": ");
  const hits = at.columns.filter((column) => titlesOf(book, column).includes(wanted));
  return hits.length === 1 && hits[0] ? `{${hits[0].key}}` : undefined;
}

function titlesOf(book: Workbook, column: Column): string[] {
  const step = column.step ? rowOf(book, "route", column.step) : undefined;
  const title = column.title.toLowerCase();
  return step ? [title, `${rowLabel("route", step).toLowerCase()}: ${title}`] : [title];
}

function checkToken(book: Workbook, sheet: SheetKey, token: Token, inputs: ReadonlySet<string>): Problem[] {
  const { kind, text } = token;
  if (kind === "name" && !inputs.has(text) && !isBoolean(text))
    return [unknown("formula.name", text, "the name of an input on the Edition sheet", text, inputs)];
  const to = kind === "reference" ? parseReference(text) : undefined;
  if (!to) return [];
  const at = book.sheets[to.kind === "own" ? sheet : to.sheet];
  const isRow = to.kind !== "cell" || rowOf(book, to.sheet, to.row) || (to.sheet === "route" && to.row === "*");
  if (isRow) return checkColumn(book, to.kind === "own" ? sheet : to.sheet, to.column);
  const known = at.rows.map((row) => row.id);
  return [unknown("formula.row", `{${to.sheet}[${to.row}]…}`, `a row of ${at.title}`, to.row, known)];
}

function checkColumn(book: Workbook, sheet: SheetKey, key: string): Problem[] {
  if (key.startsWith("@") || key === "*.entry" || columnNamed(book, sheet, key)) return [];
  const { title, columns } = book.sheets[sheet];
  const known = columns.map((column) => column.key);
  return [unknown("formula.column", `{${key}}`, `a column of ${title}`, key, known)];
}

function unknown(code: string, found: string, allowed: string, word: string, known: Iterable<string>): Problem {
  const near = didYouMean(word, known);
  return problem({ code, where: "The formula", found, allowed, ...(near ? { fix: `Did you mean ${near}?` } : {}) });
}

/** A formula in words: titles for columns, labels for inputs, × and ÷ for operators. */
export function readableFormula(book: Workbook, sheet: SheetKey, formula: string): string {
  const bare = formula.replace(/^=/, "");
  const tokens = tokensOf(bare);
  if (wordProblem(bare, tokens)) return formula;
  return rewriteTokens(bare, tokens, (token) => readableToken(book, sheet, token));
}

function readableToken(book: Workbook, sheet: SheetKey, { kind, text }: Token): string {
  const reference = kind === "reference" ? parseReference(text) : undefined;
  if (reference) return readableReference(book, sheet, reference);
  if (kind === "call") return `${text.slice(0, -1).trim().toUpperCase()}(`;
  if (kind === "name") {
    const row = rowOf(book, "edition", text);
    return row ? rowLabel("edition", row) : text;
  }
  if (kind !== "operator") return text;
  return text === "*" ? " × " : text === "/" ? " ÷ " : text;
}

function readableReference(book: Workbook, sheet: SheetKey, to: Reference): string {
  const at = to.kind === "own" ? sheet : to.sheet;
  const title = columnNamed(book, at, to.column)?.title ?? to.column.replace("*.", "");
  if (to.kind === "own") return title;
  if (to.kind === "column") return `${book.sheets[at].title} › ${title}`;
  const row = rowOf(book, to.sheet, to.row);
  const label = row ? rowLabel(to.sheet, row) : to.row === "*" ? "the step" : to.row;
  return `${label}${to.column === "value" ? "" : ` › ${title}`}`;
}
