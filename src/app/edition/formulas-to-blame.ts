// When a calculation does not end: which formulas are to blame, and what is said of them.
import type { Workbook } from "../../core/document/workbook";
import { findGuilty, formulasIn, whereStands } from "../../engine/suspects";

/**
 * The formulas to blame, the likeliest looked at first: the `latest` that came in. None where all goes well now, undefined
 * where none is to blame. `isSound` says whether the document is calculated with some of them left out.
 */
export async function formulasToBlame(
  latest: readonly string[],
  book: Workbook,
  isSound: (leftOut: readonly string[]) => Promise<boolean>,
): Promise<readonly string[] | undefined> {
  if (latest.length > 0 && (await isSound(latest))) return findGuilty(latest, isSound);
  if (await isSound([])) return [];
  const { own, all } = formulasIn(book);
  for (const suspects of [own, all])
    if (suspects.length > 0 && (await isSound(suspects))) return findGuilty(suspects, isSound);
  return undefined;
}

/** Says which formulas were left out, and where they stand. */
export function leftOutText(book: Workbook, formulas: readonly string[]): string {
  const places = formulas.map((formula) => whereStands(book, formula)).join("; ");
  return `${places}: the formula takes too long and was set aside. Everything else is calculated. Write it another way, or undo.`;
}
