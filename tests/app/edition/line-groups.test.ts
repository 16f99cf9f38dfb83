// Edition and Results in groups: every line stands once under a heading, entries before answers.
import { expect, test } from "vitest";
import { demoEdition } from "../../../src/app/demo/demo";
import { linesInGroups } from "../../../src/app/edition/line-groups";
import { applyChange } from "../../../src/core/document/change";
import { addRows } from "../../../src/core/document/edits";
import type { Workbook } from "../../../src/core/document/workbook";

const own = {
  id: "kiln_rent",
  own: true,
  cells: { label: "Kiln rent", unit: "¤", value: 30 },
  line: { kind: "input", type: "number" },
} as const;

const withOwn = (book: Workbook) => applyChange(book, addRows(book, "edition", [own], "Add an input"));
test.each(["edition", "results"] as const)("every line of %s stands once, under a heading", (sheet) => {
  const book = withOwn(demoEdition());
  const { rows } = book.sheets[sheet];
  const groups = linesInGroups(sheet, rows);
  expect([...groups.keys()].sort((a, b) => a.id.localeCompare(b.id))).toEqual(
    [...rows].sort((a, b) => a.id.localeCompare(b.id)),
  );
  for (const [row, heading] of groups) expect(heading, row.id).not.toBe("");
  // No heading comes twice, and none is longer than the column it stands over.
  const headings = [...groups.values()].filter((heading, at, all) => heading !== all[at - 1]);
  expect(new Set(headings).size).toBe(headings.length);
  for (const heading of headings) expect(heading.length).toBeLessThanOrEqual(40);
});

test("what is entered on Edition comes first, the maker's own after it, and then the answers", () => {
  const book = withOwn(demoEdition());
  const kinds = [...linesInGroups("edition", book.sheets.edition.rows).keys()].map((row) =>
    row.own ? "own" : (row.line?.kind ?? ""),
  );
  expect(kinds.filter((kind, at) => kind !== kinds[at - 1])).toEqual(["input", "own", "computed"]);
});
