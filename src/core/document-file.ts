// An edition as text: writing it, and reading it back whatever its age or state.

import { checkCellsOf } from "./check-cells";
import { migrate } from "./migrate";
import { fail, ok, problem, type Result } from "./problem";
import { bringUpToDate } from "./sheets/standard";
import { FORMAT_VERSION, type Workbook } from "./workbook";
import { workbookSchema } from "./workbook-schema";
import { zodProblems } from "./zod-problems";

/** More than this is no edition: it is refused before it is read whole. */
export const LARGEST_FILE_BYTES = 100_000_000;

/** The edition as the text of a file. */
export function writeDocument(book: Workbook): string {
  return JSON.stringify(book);
}

/** Reads an edition from the text of a file; `where` is the file's name. */
export function readDocument(text: string, where: string): Result<Workbook> {
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
  const parsed = workbookSchema.safeParse(migrated.value);
  if (!parsed.success) return fail(...zodProblems(parsed.error, migrated.value, where));
  const read = parsed.data as unknown as Workbook;
  const isOlder = (data as { readonly formatVersion?: unknown }).formatVersion !== FORMAT_VERSION;
  const twice = checkIds(read, where);
  if (twice.length > 0) return fail(...twice);
  const book = isOlder ? bringUpToDate(read) : read;
  const problems = checkCellsOf(book);
  return problems.length > 0 ? fail(...problems) : ok(book);
}

function checkIds(book: Workbook, where: string) {
  return Object.values(book.sheets).flatMap((sheet) => {
    const twice = (names: readonly string[]) =>
      names.filter((name, at) => names.indexOf(name) !== at && names.length < 50_000);
    const rows =
      new Set(sheet.rows.map((row) => row.id)).size === sheet.rows.length ? [] : twice(sheet.rows.map((row) => row.id));
    const repeated = [...rows, ...twice(sheet.columns.map((column) => column.key))];
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
