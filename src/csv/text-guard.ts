// A text that another program would run as a formula is written with an apostrophe before it, and read back without.
// Which first characters are meant, that marks between columns and quotes may stand before them, and that a program may
// take another mark than ours: OWASP, “CSV Injection” (from memory), with the full-width forms of the same marks.
//   written(part) = “'” + part where the part needs a guard, the part itself otherwise;
//   read(found)   = the rest after “'” where that rest needs a guard, what was found otherwise.
// A part goes from one mark between columns to the next, whichever they are. A leading apostrophe needs a guard too, so that
// reading gives back exactly what was written, and a text such as “'tis” from another program keeps its apostrophe.

/** Spaces, quotation marks and characters that don't show, which programs pass over; marks between columns are none of them. */
const PASSED_OVER = '(?:(?![\\t\\r\\n])[\\s\\p{Cc}\\p{Cf}"])*';
const RUNS = "['=+\\-@＝＋－＠﹢﹣﹦﹫]";
const PARTS = "([,;|\\t\\r\\n])";
const runsAtStart = new RegExp(`^${PASSED_OVER}${RUNS}`, "u");
const runsWithin = new RegExp(`${PARTS}(?=${PASSED_OVER}${RUNS})`, "gu");
const guardedWithin = new RegExp(`${PARTS}'(?=${PASSED_OVER}${RUNS})`, "gu");

/** Whether a text is written with a guard before it: it could run as a formula, or begins or ends with a space. */
function needsGuard(text: string): boolean {
  return text !== "" && (runsAtStart.test(text) || text !== text.trim());
}

/** A text as it stands in a file. */
export function guardText(text: string): string {
  const guarded = text.replace(runsWithin, "$1'");
  return needsGuard(text) ? `'${guarded}` : guarded;
}

/** What a text in a file stands for; `isLiteral` where it was guarded, so that its spaces at either end belong to it. */
export interface UnguardedText {
  readonly text: string;
  readonly isLiteral: boolean;
}

/** Takes the guard off again. */
export function unguardText(found: string): UnguardedText {
  // Most texts have no apostrophe at all.
  if (!found.includes("'")) return { text: found, isLiteral: false };
  const text = found.replace(guardedWithin, "$1");
  const rest = text.slice(1);
  return text.startsWith("'") && needsGuard(rest) ? { text: rest, isLiteral: true } : { text, isLiteral: false };
}
