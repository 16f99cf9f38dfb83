// An expected problem is a value. Every message says what is wrong, where, what was found and what to do.

/** A stretch of a text, from `start` up to `end`, in characters from 0. */
export interface TextSpan {
  readonly start: number;
  readonly end: number;
}

/** One thing that is wrong with what somebody gave us. */
export interface Problem {
  /** Stable name of the kind of problem, such as `number.text`. */
  readonly code: string;
  /** Where it is, in the maker's words: sheet, row and column, or a path in a file. */
  readonly where: string;
  /** What was found there, shortened. */
  readonly found: string;
  /** What would have been accepted. */
  readonly allowed: string;
  /** What to do about it. */
  readonly fix: string;
  /** The whole message, ready to show. */
  readonly message: string;
  /** The stretch of the text it is about, where it is about one, such as a formula. */
  readonly at?: TextSpan;
}

/** A value, or the problems that stood in its way. */
export type Result<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly problems: readonly Problem[] };

/** Wraps a value that could be had. */
export function ok<T>(value: T): Result<T> {
  return { ok: true, value };
}

/** Wraps the problems of a value that could not be had. */
export function fail<T = never>(...problems: readonly Problem[]): Result<T> {
  return { ok: false, problems };
}

/** Shows a found value in at most 60 characters, text in quotes. */
function showFound(found: unknown): string {
  if (found === undefined || found === null || found === "") return "nothing";
  // A text may be as long as a file: only what is shown of it is put in quotes.
  const text =
    typeof found === "string"
      ? `“${found.slice(0, 60)}”`
      : typeof found === "object"
        ? JSON.stringify(found)
        : `${found}`;
  return text.length > 60 ? `${text.slice(0, 59)}…` : text;
}

const made: { whole?: Intl.NumberFormat } = {};

/** A whole number as it is written in every message, with thin spaces between thousands. */
export function wholeText(count: number): string {
  // French writes thin spaces.
  made.whole ??= new Intl.NumberFormat("fr");
  return made.whole.format(count);
}

/** Builds a problem; the message is put together from its parts in one fixed order. */
export function problem(parts: {
  readonly code: string;
  readonly where: string;
  readonly found: unknown;
  readonly allowed: string;
  readonly fix?: string;
  readonly at?: TextSpan;
}): Problem {
  const found = showFound(parts.found);
  const fix = parts.fix ?? "";
  const message = `${parts.where}: found ${found}, but it takes ${parts.allowed}.${fix ? ` ${fix}` : ""}`;
  const { code, where, allowed, at } = parts;
  return { code, where, found, allowed, fix, message, ...(at && { at }) };
}
