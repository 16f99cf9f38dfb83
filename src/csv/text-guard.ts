// A text that another program would run as a formula is written with an apostrophe before it, and read back without.
// Which first characters are meant: OWASP, “CSV Injection” (from memory), with the full-width forms of the same marks.
//   written(text) = “'” + text where the text needs a guard, the text itself otherwise;
//   read(found) = the rest after “'” where that rest needs a guard, what was found otherwise.
// A leading apostrophe needs one too, so that reading gives back exactly what was written, and a text such as
// “'tis” from another program keeps its apostrophe.
const needsGuardAtStart = /^[=+\-@'\t\r\n＝＋－＠]/;

/** Whether a text is written with a guard: it could run as a formula, or begins or ends with a space. */
function needsGuard(text: string): boolean {
  return text !== "" && (needsGuardAtStart.test(text) || text !== text.trim());
}

/** A text as it stands in a file. */
export function guardText(text: string): string {
  return needsGuard(text) ? `'${text}` : text;
}

/** What a text in a file stands for; `isLiteral` where it was guarded, so that its spaces at either end belong to it. */
export interface UnguardedText {
  readonly text: string;
  readonly isLiteral: boolean;
}

/** Takes the guard off again. */
export function unguardText(found: string): UnguardedText {
  const rest = found.slice(1);
  return found.startsWith("'") && needsGuard(rest)
    ? { text: rest, isLiteral: true }
    : { text: found, isLiteral: false };
}
