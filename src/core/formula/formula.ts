// Column formulas. They name what they use and never a position:
//   {coats}                 this row's cell in a column
//   {pieces:own}            a whole column of a sheet
//   {route[glaze]:area}     one cell, by row id
//   {pieces:@.cost}         the column that belongs to this row's id (on Route: of this step)
//   wage                    an input of the Edition sheet
// Everything else is OpenFormula text as the engine reads it.

import { SHEET_KEYS, type SheetKey } from "../document/workbook";
import { fail, ok, problem, type Result } from "../problem";

export type Part =
  | { readonly is: "text"; readonly text: string }
  | { readonly is: "own"; readonly column: string }
  | { readonly is: "range"; readonly sheet: SheetKey; readonly column: string }
  | { readonly is: "fixed"; readonly sheet: SheetKey; readonly row: string; readonly column: string }
  | { readonly is: "name"; readonly name: string }
  | { readonly is: "function"; readonly name: string };

/** The parts that name cells. */
export type ReferencePart = Extract<Part, { is: "own" | "range" | "fixed" }>;

const pattern =
  /"(?:[^"]|"")*"|\{([^{}]*)\}|(\$?[A-Za-z]{1,3}\$?\d+)(?![\w(.])|([A-Za-z_][\w.]*)(\s*\()?|(\d+(?:\.\d*)?(?:[eE][+-]?\d+)?|\.\d+)|([\s\S])/g;
const reference = /^(?:([a-z]+)(?:\[([a-z][a-z0-9_]*)\])?:)?((?:@|[a-z][a-z0-9_]*)(?:\.[a-z][a-z0-9_]*)?)$/;

/** Brackets within brackets; the engine reads them by calling itself. */
const DEEPEST = 64;
/** Operators and commas in one formula. */
const MOST_OPERATORS = 1000;
/** Signs, powers or percents one right after another. */
const LONGEST_RUN = 32;

/** What is too much in a formula for it to be read safely; undefined where nothing is. */
function excessOf(text: string): { readonly found: string; readonly allowed: string } | undefined {
  let depth = 0;
  let deepest = 0;
  let operators = 0;
  const bare = text.replace(/"(?:[^"]|"")*"/g, '""');
  for (const sign of bare) {
    if (sign === "(") depth += 1;
    else if (sign === ")") depth -= 1;
    else if ("+-*/^&=<>,;%".includes(sign)) operators += 1;
    deepest = Math.max(deepest, depth);
  }
  if (deepest > DEEPEST) return { found: `${deepest} brackets within one another`, allowed: `up to ${DEEPEST}` };
  if (operators > MOST_OPERATORS) return { found: `${operators} operators`, allowed: `up to ${MOST_OPERATORS}` };
  const run = /(?:[-+%]\s*){33}|(?:\^[^-+*/&=<>,;()]*){33}/.exec(bare);
  return run ? { found: run[0], allowed: `up to ${LONGEST_RUN} signs, powers or percents in a row` } : undefined;
}

/** Cuts a formula into its parts. `isName` says which bare words are inputs, so that one called `k2` is no address. */
export function parseFormula(text: string, isName: (word: string) => boolean = () => true): Result<readonly Part[]> {
  const parts: Part[] = [];
  const where = "The formula";
  const excess = excessOf(text);
  if (excess) return fail(problem({ code: "formula.size", where, ...excess, fix: "Split it over several columns." }));
  for (const match of text.matchAll(pattern)) {
    const [whole, braces, address, word, opening] = match;
    if (braces !== undefined) {
      const part = parseReference(braces.trim());
      if (!part)
        return fail(
          problem({
            code: "formula.reference",
            where,
            found: whole,
            allowed:
              "a column such as {coats}, a whole column such as {pieces:own}, or one cell such as {route[glaze]:area}",
          }),
        );
      parts.push(part);
    } else if (address !== undefined && !isName(address)) {
      return fail(
        problem({
          code: "formula.address",
          where,
          found: address,
          allowed: "names, because rows move and names do not",
          fix: "Write the column in braces, as in {coats}, or the name of an input.",
        }),
      );
    } else if (whole === "{" || whole === "}") {
      return fail(problem({ code: "formula.braces", where, found: whole, allowed: "braces in pairs, as in {coats}" }));
    } else if (word !== undefined && opening !== undefined) {
      parts.push({ is: "function", name: word.toUpperCase() });
      parts.push({ is: "text", text: opening.trim() });
    } else if (word !== undefined || address !== undefined) parts.push({ is: "name", name: word ?? address ?? "" });
    else pushText(parts, whole);
  }
  return ok(parts);
}

function pushText(parts: Part[], text: string): void {
  const last = parts.at(-1);
  if (last?.is === "text" && !last.text.endsWith("(")) parts[parts.length - 1] = { is: "text", text: last.text + text };
  else parts.push({ is: "text", text });
}

/** What stands in braces, without them: a column of this row, a whole column, or one cell; undefined for anything else. */
export function parseReference(text: string): ReferencePart | undefined {
  const match = reference.exec(text);
  if (!match) return undefined;
  const [, sheet, row, column = ""] = match;
  if (sheet === undefined) return { is: "own", column };
  if (!isSheetKey(sheet)) return undefined;
  return row === undefined ? { is: "range", sheet, column } : { is: "fixed", sheet, row, column };
}

function isSheetKey(text: string): text is SheetKey {
  return (SHEET_KEYS as readonly string[]).includes(text);
}

/** Puts the parts of a formula back together as text. */
export function formulaText(parts: readonly Part[]): string {
  return parts.map(partText).join("");
}

function partText(part: Part): string {
  switch (part.is) {
    case "text":
      return part.text;
    case "own":
      return `{${part.column}}`;
    case "range":
      return `{${part.sheet}:${part.column}}`;
    case "fixed":
      return `{${part.sheet}[${part.row}]:${part.column}}`;
    default:
      return part.name;
  }
}

/** A column key with this row's id in the place of `@`. */
export function columnFor(column: string, row: string): string {
  return column.startsWith("@") ? row + column.slice(1) : column;
}

/** The candidate closest to a mistyped word, if one is close enough. */
export function didYouMean(word: string, candidates: Iterable<string>): string | undefined {
  let best: string | undefined;
  let bestDistance = Math.max(1, Math.floor(word.length / 3)) + 1;
  for (const candidate of candidates) {
    const distance = editDistance(word.toLowerCase(), candidate.toLowerCase());
    if (distance < bestDistance) {
      best = candidate;
      bestDistance = distance;
    }
  }
  return best;
}

function editDistance(a: string, b: string): number {
  let previous = Array.from({ length: b.length + 1 }, (_, at) => at);
  for (let i = 1; i <= a.length; i += 1) {
    const current = [i];
    for (let j = 1; j <= b.length; j += 1) {
      const substitution = (previous[j - 1] ?? 0) + (a[i - 1] === b[j - 1] ? 0 : 1);
      current.push(Math.min(substitution, (previous[j] ?? 0) + 1, (current[j - 1] ?? 0) + 1));
    }
    previous = current;
  }
  return previous[b.length] ?? 0;
}
