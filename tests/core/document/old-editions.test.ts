// Editions saved by earlier commits, by their own code, open complete; what moved is told.
import { readdirSync, readFileSync } from "node:fs";
import { gunzipSync } from "node:zlib";
import { describe, expect, test } from "vitest";
import { columnOf, rowOf } from "../../../src/core/document/access";
import { openDocument, readDocument } from "../../../src/core/document/document-file";
import { FORMAT_VERSION, SHEETS_VERSION } from "../../../src/core/document/sheet-keys";
import { type Raw, SHEET_KEYS, type SheetKey, type Workbook } from "../../../src/core/document/workbook";
import { writeDocument } from "../../../src/core/document/write-document";
import { parseFormula } from "../../../src/core/formula/formula";
import { allNodes } from "../../../src/core/formula/tree";
import { EARLIER_CHANGES, SHEET_CHANGES } from "../../../src/core/sheets/changes";
import { standardSheets } from "../../../src/core/sheets/standard";
import { errorsOf, evaluate } from "../../tools/evaluate";

const folder = new URL("../../fixtures/old-editions/", import.meta.url);
const textOf = (name: string) => gunzipSync(readFileSync(new URL(name, folder))).toString();
const names = readdirSync(folder);
const commits = names.filter((name) => name.endsWith(".edition.json.gz")).map((name) => name.slice(0, 7));

interface OldBook {
  readonly formatVersion: number;
  readonly sheets: Readonly<
    Record<string, { readonly rows: readonly { readonly id: string; readonly cells: Readonly<Record<string, Raw>> }[] }>
  >;
}

const open = (commit: string) => {
  const opened = openDocument(textOf(`${commit}.edition.json.gz`), commit);
  if (!opened.ok) throw new Error(opened.problems.map(({ message }) => message).join("\n"));
  return opened.value;
};
const isNear = (a: unknown, b: unknown) =>
  a === b || (typeof a === "number" && typeof b === "number" && Math.abs(a - b) <= 1e-8 * Math.max(1, Math.abs(a)));

/** What lines say of themselves is the program's; everything else in a cell was entered. */
function isEntry(sheet: string, column: string): boolean {
  return (sheet !== "edition" && sheet !== "results") || column === "value";
}

function heldAnywhere(book: Workbook, sheet: SheetKey, row: string, column: string, raw: Raw): boolean {
  const cells = rowOf(book, sheet, row)?.cells ?? {};
  const held = cells[column] ?? cells[`was_${column.replace(".", "_")}`];
  return JSON.stringify(held) === JSON.stringify(raw);
}

/** A column or line as `sheet:key`; the columns of all steps are one, as in `pieces:@.cost`. */
const nameOf = (sheet: SheetKey, key: string) => `${sheet}:${sheet === "pieces" ? key.replace(/^\w+\./, "@.") : key}`;

/** The columns and lines that follow from some of them: those themselves, and what names them however far away. */
function followersOf(book: Workbook, names: readonly string[]): ReadonlySet<string> {
  const uses = SHEET_KEYS.flatMap((sheet) => [
    ...book.sheets[sheet].columns.map(({ key, formula }) => [nameOf(sheet, key), namesIn(sheet, formula)] as const),
    ...book.sheets[sheet].rows.map(({ id, line }) => [nameOf(sheet, id), namesIn(sheet, line?.formula)] as const),
  ]);
  const found = new Set(names);
  for (let size = -1; size !== found.size; ) {
    size = found.size;
    for (const [name, used] of uses) if (used.some((one) => found.has(one))) found.add(name);
  }
  return found;
}

function namesIn(sheet: SheetKey, formula = ""): string[] {
  const parsed = parseFormula(formula);
  if (!parsed.ok) return [];
  return allNodes(parsed.value).flatMap((node) => {
    if (node.kind === "name") return [`edition:${node.name}`];
    if (node.kind === "call") return node.name === "FIRING_SHARE" ? ["firings:cost", "firings:weight"] : [];
    if (node.kind !== "reference") return [];
    const { to } = node;
    if (to.kind === "own") return [nameOf(sheet, to.column)];
    return [nameOf(to.sheet, to.kind === "cell" && to.column === "value" ? to.row : to.column)];
  });
}

describe.each(commits)("an edition saved by %s", (commit) => {
  const { book, news } = open(commit);
  const old = JSON.parse(textOf(`${commit}.edition.json.gz`)) as OldBook;

  test("has all of today's columns and lines", () => {
    const today = standardSheets(book.sheets.route.rows);
    for (const key of SHEET_KEYS) {
      expect(book.sheets[key].columns.filter(({ own }) => !own)).toEqual(today[key].columns);
      expect(book.sheets[key].title).toBe(today[key].title);
      if (today[key].rows.length > 0)
        expect(book.sheets[key].rows.map(({ id, line }) => ({ id, line }))).toEqual(
          today[key].rows.map(({ id, line }) => ({ id, line })),
        );
    }
  });

  test("holds everything that was entered", () => {
    const missing = Object.entries(old.sheets).flatMap(([sheet, { rows }]) =>
      rows.flatMap(({ id, cells }) =>
        Object.entries(cells)
          .filter(([column, raw]) => isEntry(sheet, column) && !heldAnywhere(book, sheet as SheetKey, id, column, raw))
          .map(([column]) => `${sheet} ${id} ${column}`),
      ),
    );
    expect(missing).toEqual([]);
    for (const key of SHEET_KEYS)
      if (key !== "edition" && key !== "results")
        expect(book.sheets[key].rows.map(({ id }) => id)).toEqual((old.sheets[key]?.rows ?? []).map(({ id }) => id));
  });

  test("calculates without errors, and tells of every number that moved", () => {
    const values = evaluate(book);
    expect(errorsOf(book, values)).toEqual([]);
    if (!names.includes(`${commit}.values.json.gz`)) return;
    const were = Object.entries(JSON.parse(textOf(`${commit}.values.json.gz`)) as Record<string, unknown>);
    expect(were.length).toBeGreaterThan(100);
    const moved = were.flatMap(([name, was]) => {
      const [sheet, row = "", column = ""] = name.split(" ") as [SheetKey, string?, string?];
      const now = columnOf(book, sheet, column) && rowOf(book, sheet, row) ? values(sheet, row, column) : "gone";
      return isNear(was, now) ? [] : [nameOf(sheet, column === "value" ? row : column)];
    });
    const named = [...EARLIER_CHANGES, ...SHEET_CHANGES].filter(({ words }) => news.includes(words));
    const follows = followersOf(
      book,
      named.flatMap(({ of }) => of as readonly string[]),
    );
    expect([...new Set(moved)].filter((name) => !follows.has(name))).toEqual([]);
  });

  test("is written and opened again as it is, with nothing to tell", () => {
    expect(openDocument(writeDocument(book), commit)).toEqual({ ok: true, value: { book, news: [], isOfToday: true } });
  });
});

test("every format, and every set of standard sheets that was released, has an edition that was saved with it", () => {
  const saved = commits.map(
    (commit) => JSON.parse(textOf(`${commit}.edition.json.gz`)) as { formatVersion: number; sheetsVersion?: number },
  );
  const upTo = (from: number, end: number) => Array.from({ length: end - from }, (_, at) => from + at);
  expect(new Set(saved.map(({ formatVersion }) => formatVersion))).toEqual(new Set(upTo(1, FORMAT_VERSION + 1)));
  // The fourth was the first that was released; today's get theirs with the next change.
  const FIRST_RELEASED = 4;
  const versions = new Set(saved.map(({ sheetsVersion }) => sheetsVersion));
  expect(upTo(FIRST_RELEASED, SHEETS_VERSION).filter((version) => !versions.has(version))).toEqual([]);
});

test("the earliest editions open without programmes and tariffs, and free programme names stay beside the firings", () => {
  const { book, news } = open("7d19233");
  expect(book.sheets.programmes.rows).toEqual([]);
  expect(columnOf(book, "firings", "was_programme")).toMatchObject({ title: "programme, as it was", own: true });
  expect(rowOf(book, "firings", "f1")?.cells).toMatchObject({ was_programme: "slow bisque", cone: "06" });
  expect(news).toContain(
    "No longer part of the sheets, and kept as your own: Firings, cone; Firings, programme, as it was.",
  );
});

test("editions of format 2 get the lines that came later, and it is said", () => {
  const { book, news } = open("386996b");
  expect(rowOf(book, "edition", "plan_margin")).toBeDefined();
  for (const line of ["Edition, Pieces to deliver bring in", "Edition, Plan leaves", "Edition, Planned margin"])
    expect(news.join()).toContain(line);
});

test("numbers that moved are told with the reason", () => {
  for (const commit of ["7d19233", "04d1d0a"]) {
    expect(open(commit).news).toContain(
      "Pieces to start may be fewer: a step as needed loses no planned pieces any more, and a step for special pieces only where special pieces are wanted. Say on Edition how many of them are special.",
    );
  }
});

describe("a document that a program with other standard sheets wrote", () => {
  const { book } = open("3a92ba9");
  const stored = JSON.parse(writeDocument(book));
  const older = (change: (at: typeof stored) => void) => {
    const at = structuredClone(stored);
    at.sheetsVersion = -1;
    change(at);
    return readDocument(JSON.stringify(at), "older");
  };

  test("keeps entries of a column and of a line that are gone as the maker's own", () => {
    const read = older(({ sheets }) => {
      sheets.pieces.rows[0].cells.sparkle = 3;
      sheets.pieces.rows[1].cells.mood = "calm";
      sheets.edition.rows.push({ id: "luck", cells: { value: 7 } });
    });
    if (!read.ok) throw new Error(read.problems[0]?.message);
    expect(columnOf(read.value, "pieces", "sparkle")).toMatchObject({ type: "number", own: true });
    expect(columnOf(read.value, "pieces", "mood")).toMatchObject({ type: "text", own: true });
    expect(rowOf(read.value, "edition", "luck")).toMatchObject({ own: true, cells: { label: "luck", value: 7 } });
  });

  test("gives a line that is new its usual value, and leaves one that the maker blanked blank", () => {
    const read = older(({ sheets }) => {
      sheets.edition.rows = sheets.edition.rows.filter(({ id }: { id: string }) => id !== "packing");
      sheets.edition.rows.find(({ id }: { id: string }) => id === "wage").cells = {};
    });
    if (!read.ok) throw new Error(read.problems[0]?.message);
    expect(rowOf(read.value, "edition", "packing")?.cells.value).toBe(6);
    expect(rowOf(read.value, "edition", "wage")?.cells.value).toBeUndefined();
  });

  test("the same is refused where the sheets are of today: it is damage then", () => {
    const at = structuredClone(stored);
    at.sheets.pieces.rows[0].cells.sparkle = 3;
    const read = readDocument(JSON.stringify(at), "today");
    expect(read.ok ? [] : read.problems.map(({ code }) => code)).toEqual(["cell.column"]);
  });
});
