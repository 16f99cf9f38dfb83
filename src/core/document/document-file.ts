// An edition read back from text, whatever its age or state. It brings the checker with it: what loads first does without.

import { fail, ok, problem, type Result } from "../problem";
import { checkCellsOf } from "./check-cells";
import { complete, isOfToday } from "./complete";
import { newsOf } from "./document-news";
import { readable, SHEET_MOST } from "./limits";
import { migrate } from "./migrate";
import { setAsidePlainRows } from "./plain-rows";
import { SHEET_KEYS, SHEET_TITLES } from "./sheet-keys";
import type { StoredBook, Workbook } from "./workbook";
import { storedSchema } from "./workbook-schema";
import { zodProblems } from "./zod-problems";

/** Nothing of ours is half as deep. What is deeper can be read, but no longer written, copied or compared. */
const DEEPEST = 64;
/** The first format that keeps only what is the maker's. */
const FIRST_STRIPPED = 3;
/** Nobody reads more, and a list of thousands would hold the page up. */
const MOST_PROBLEMS = 100;

/** A document that could be read. */
export interface OpenedDocument {
  readonly book: Workbook;
  /** What is different in an edition that an earlier program saved, in the maker's words. */
  readonly news: readonly string[];
  /** Saved with today's standard sheets: what was calculated then stands where it stood. */
  readonly isOfToday: boolean;
}

/** Reads an edition from the text of a file; `where` is the file's name. */
export function readDocument(text: string, where: string): Result<Workbook> {
  const opened = openDocument(text, where);
  return opened.ok ? ok(opened.value.book) : opened;
}

/** Reads an edition from the text of a file for a maker, with a message of what is different since it was saved. */
export function openDocument(text: string, where: string): Result<OpenedDocument> {
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
  const { rest, restore } = setAsidePlainRows(migrated.value, readable(SHEET_MOST.rows));
  const parsed = storedSchema.safeParse(rest);
  if (!parsed.success) return fail(...zodProblems(parsed.error, migrated.value, where, MOST_PROBLEMS));
  const stored = restore(parsed.data as unknown as StoredBook);
  const repeated = checkIds(stored, where);
  if (repeated.length > 0) return fail(...repeated.slice(0, MOST_PROBLEMS));
  const { formatVersion } = data as { readonly formatVersion: number };
  const age = { isWhole: formatVersion < FIRST_STRIPPED, sheetsVersion: stored.sheetsVersion };
  const completed = complete(stored, age);
  const problems = checkCellsOf(completed.book);
  if (problems.length > 0) return fail(...problems.slice(0, MOST_PROBLEMS));
  return ok({ book: completed.book, news: newsOf(stored, completed, age), isOfToday: isOfToday(age) });
}

function checkIds({ sheets }: StoredBook, where: string) {
  return SHEET_KEYS.flatMap((key) => {
    const sheet = sheets[key];
    const repeated = [...twice(sheet.rows.map((row) => row.id)), ...twice(sheet.columns.map((column) => column.key))];
    return repeated.map((name) =>
      problem({
        code: "file.twice",
        where: `${where}, ${SHEET_TITLES[key]}`,
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

/** What a list within a zip holds, which is no document of its own; or what was found instead. */
export function readBoundedJson(text: string): { readonly data: unknown } | { readonly found: string } {
  if (isTooDeep(text)) return { found: "entries within entries without end" };
  try {
    return { data: JSON.parse(text) };
  } catch {
    return { found: "a file that breaks off, or is no JSON" };
  }
}

/** Whether JSON text goes deeper than anything of ours; it stops at the first place that does. */
function isTooDeep(text: string): boolean {
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
