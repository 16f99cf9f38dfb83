// Parts that several schemas of the document share.
import * as z from "zod/mini";

// Without this zod probes for `eval`, which a strict content-security policy reports.
z.config({ jitless: true });

// “constructor” is left out because every object answers to it.
const keyPattern = /^(?!constructor$)[a-z][a-z0-9_]*(\.[a-z][a-z0-9_]*)?$/;
const rowIdPattern = /^[a-z][a-z0-9_]*$/;

/** Text of at most so many characters. */
export function text(most: number) {
  return z.string().check(z.maxLength(most));
}

/** A formula of at most so many characters. */
export function formula(most: number) {
  return text(most).check(z.startsWith("=", "a formula, which begins with ="));
}

/** A column's key. */
export const cellKey = text(60).check(z.regex(keyPattern, "a key of small letters, digits and _"));
/** A row's id, or that of an entry of a list. */
export const rowId = text(40).check(z.regex(rowIdPattern, "an id of small letters, digits and _"));
/** What a cell may hold. */
export const raw = z.union([text(20_000), z.number(), z.boolean(), z.strictObject({ f: formula(8000) })]);

/** Entries by name. The checker's records pass over “__proto__” without a word; here it is told like any other stranger. */
export function entriesOf<Value extends z.core.SomeType>(key: typeof cellKey, value: Value) {
  const hasNoPrototype = z.unknown().check(({ value: input, issues }) => {
    if (typeof input === "object" && input !== null && Object.hasOwn(input, "__proto__"))
      issues.push({ code: "unrecognized_keys", keys: ["__proto__"], input: { ...input }, path: [] });
  });
  return z.pipe(hasNoPrototype, z.record(key, value));
}

/** The cells of a row by column. */
export const cells = entriesOf(cellKey, raw);
