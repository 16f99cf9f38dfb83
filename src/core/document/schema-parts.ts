// Parts that several schemas of the document share.
import * as z from "zod/mini";
import { KEY_MOST, RAW_MOST, ROW_ID_MOST, readable } from "./limits";

// Without this zod probes for `eval`, which a strict content-security policy reports.
z.config({ jitless: true });

// “constructor” is left out because every object answers to it.
export const KEY_PATTERN = /^(?!constructor$)[a-z][a-z0-9_]*(\.[a-z][a-z0-9_]*)?$/;
export const ROW_ID_PATTERN = /^[a-z][a-z0-9_]*$/;

/** Characters that the reader takes of a text and of a formula in a cell. */
export const RAW_TEXT_READ = readable(RAW_MOST.text);
export const FORMULA_READ = readable(RAW_MOST.f);

/** Text of at most so many characters; the reader takes more. */
export function text(most: number) {
  return z.string().check(z.maxLength(readable(most)));
}

/** A list of at most so many entries; the reader takes more. */
export function listOf<Entry extends z.core.SomeType>(entry: Entry, most: number) {
  return z.array(entry).check(z.maxLength(readable(most)));
}

/** An id or a key of ours, which is never longer. */
function name(most: number, pattern: RegExp, message: string) {
  return z.string().check(z.maxLength(most), z.regex(pattern, message));
}

/** A formula of at most so many characters. */
export function formula(most: number) {
  return text(most).check(z.startsWith("=", "a formula, which begins with ="));
}

/** A column's key. */
export const cellKey = name(KEY_MOST, KEY_PATTERN, "a key of small letters, digits and _");
/** A row's id, or that of an entry of a list. */
export const rowId = name(ROW_ID_MOST, ROW_ID_PATTERN, "an id of small letters, digits and _");
/** What a cell may hold. */
export const raw = z.union([text(RAW_MOST.text), z.number(), z.boolean(), z.strictObject({ f: formula(RAW_MOST.f) })]);

/** Entries by name. The checker's records pass over “__proto__” without a word; here it is refused like any other unknown name. */
export function entriesOf<Value extends z.core.SomeType>(key: typeof cellKey, value: Value) {
  const hasNoPrototype = z.unknown().check(({ value: input, issues }) => {
    if (typeof input === "object" && input !== null && Object.hasOwn(input, "__proto__"))
      issues.push({ code: "unrecognized_keys", keys: ["__proto__"], input: { ...input }, path: [] });
  });
  return z.pipe(hasNoPrototype, z.record(key, value));
}

/** The cells of a row by column. */
export const cells = entriesOf(cellKey, raw);
