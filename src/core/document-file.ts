// An edition read back from text, whatever its age or state. It brings the checker with it: what loads first does without.

import { checkCellsOf } from "./check-cells";
import { migrate } from "./migrate";
import { setAsidePlainRows } from "./plain-rows";
import { fail, ok, problem, type Result } from "./problem";
import { bringUpToDate } from "./sheets/standard";
import { FORMAT_VERSION, type Workbook } from "./workbook";
import { ROWS_MOST, workbookSchema } from "./workbook-schema";
import { zodProblems } from "./zod-problems";

/** Nothing of ours is half as deep. What is deeper can be read, but no longer written, copied or compared. */
const DEEPEST = 64;
/** Nobody reads more, and a list of thousands would hold the page up. */
const MOST_PROBLEMS = 100;

/** Reads an edition from the text of a file; `where` is the file's name. */
export function readDocument(text: string, where: string): Result<Workbook> {
  if (isTooDeep(text))
    return fail(
      problem({
        code: "file.depth",
        where,
        found: `entries more than ${DEEPEST} deep`,
        allowed: "an edition as it is saved here",
        fix: "Choose another file; nothing here was changed.",
      }),
    );
  let data: unknown;
  try {
    data = JSON.parse(text.replace(/^\uFEFF/, ""));
  } catch {
    const ends = text.trimStart().startsWith("{");
    return fail(
      problem({
        code: "file.json",
        where,
        found: ends ? `an edition that breaks off after ${text.length} characters` : text.slice(0, 40),
        allowed: "a whole edition file (*.edition.json)",
        fix: "Open an earlier copy; nothing here was changed.",
      }),
    );
  }
  const migrated = migrate(data, where);
  if (!migrated.ok) return migrated;
  const { rest, restore } = setAsidePlainRows(migrated.value, ROWS_MOST);
  const parsed = workbookSchema.safeParse(rest);
  if (!parsed.success) return fail(...zodProblems(parsed.error, migrated.value, where, MOST_PROBLEMS));
  const read = restore(parsed.data as unknown as Workbook);
  const isOlder = (data as { readonly formatVersion?: unknown }).formatVersion !== FORMAT_VERSION;
  const repeated = checkIds(read, where);
  if (repeated.length > 0) return fail(...repeated.slice(0, MOST_PROBLEMS));
  const book = isOlder ? bringUpToDate(read) : read;
  const problems = checkCellsOf(book);
  return problems.length > 0 ? fail(...problems.slice(0, MOST_PROBLEMS)) : ok(book);
}

function checkIds(book: Workbook, where: string) {
  return Object.values(book.sheets).flatMap((sheet) => {
    const repeated = [...twice(sheet.rows.map((row) => row.id)), ...twice(sheet.columns.map((column) => column.key))];
    return repeated.map((name) =>
      problem({
        code: "file.twice",
        where: `${where}, ${sheet.title}`,
        found: name,
        allowed: "each row and column once",
      }),
    );
  });
}

/** The names that come more than once, each time after the first; counted in one pass, however many there are. */
function twice(names: readonly string[]): string[] {
  const seen = new Set<string>();
  return names.filter((name) => seen.size === seen.add(name).size);
}

/** Whether JSON text goes deeper than anything of ours; it stops at the first place that does. */
export function isTooDeep(text: string): boolean {
  let depth = 0;
  let inText = false;
  for (let at = 0; at < text.length; at += 1) {
    const code = text.charCodeAt(at);
    if (inText) {
      if (code === 0x5c) at += 1;
      else if (code === 0x22) inText = false;
    } else if (code === 0x22) inText = true;
    else if (code === 0x7b || code === 0x5b) {
      depth += 1;
      if (depth > DEEPEST) return true;
    } else if (code === 0x7d || code === 0x5d) depth -= 1;
  }
  return false;
}
