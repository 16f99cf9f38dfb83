// Whatever is done to an edition, as far as the session lets it be done, can be saved and opened again as it was.
import fc from "fast-check";
import { expect, test } from "vitest";
import { applyChange, type Change } from "../../src/core/document/change";
import { checkSize } from "../../src/core/document/check-size";
import { readDocument } from "../../src/core/document/document-file";
import { editMeta, writeEntries } from "../../src/core/document/edits";
import { COLUMN_MOST, LISTS_MOST, META_MOST, RAW_MOST } from "../../src/core/document/limits";
import { addEntry, freshEntryId } from "../../src/core/document/list-edits";
import { addOwnColumn, addOwnInput } from "../../src/core/document/own-edits";
import type { Workbook } from "../../src/core/document/workbook";
import { writeDocument } from "../../src/core/document/write-document";
import { ok, type Result } from "../../src/core/problem";
import { keepRecipe } from "../../src/core/record/recipes";
import { planRecord, recordChange } from "../../src/core/record/record-edits";
import { takeBack } from "../../src/core/record/run-log";
import { planExtraSteps, repeatOf } from "../../src/core/steps/extra-steps";
import { type Choice, changeOf, choices } from "../tools/random-commands";
import { smallEdition } from "../tools/small-edition";

const AT = "2026-03-01T10:00:00.000Z";
const start = smallEdition();
const pick = <T>(list: readonly T[], at: number): T => list[Math.floor(at * list.length)] as T;
/** A text as long as it may be, a little more, or a little less. */
const near = (most: number, at: number) => "x".repeat(most - 2 + Math.floor(at * 5));
const made = (change: Change): Result<Change> => ok(change);
const asked = (book: Workbook, row: string, column: string, typed: string) =>
  made(
    writeEntries(book, [{ cell: { sheet: "pieces", row, column }, typed }], {
      label: "Type",
      marks: { decimal: "." },
      override: true,
    }).change,
  );

type Command = (book: Workbook, choice: Choice) => Result<Change>;

/** What reaches for a limit, and what is kept beside the sheets. */
const REACHING: readonly Command[] = [
  (book, { a, b }) => {
    const plan = planRecord(book, [pick(book.sheets.pieces.rows, a).id], { kind: "note", note: near(600, b) });
    return plan.ok ? made(recordChange(book, plan.value, AT, near(LISTS_MOST.log[1].note, b))) : plan;
  },
  (book, { a, b }) => {
    const step = pick(book.sheets.route.rows, b).id;
    const plan = planRecord(book, [pick(book.sheets.pieces.rows, a).id], { kind: "lost", step, reason: near(200, a) });
    return plan.ok ? made(recordChange(book, plan.value, AT)) : plan;
  },
  (book, { a, b }) => {
    const again = repeatOf(book, pick(book.sheets.route.rows, a).id);
    const ids = [pick(book.sheets.pieces.rows, b).id];
    const steps = again && book.sheets.route.rows.length < 12 ? [again] : [];
    const plan = planExtraSteps(book, ids, { kind: "extra", title: near(60, b), steps });
    return plan.ok ? made(recordChange(book, plan.value, AT)) : plan;
  },
  (book, { a }) => {
    const entry = book.lists.log[Math.floor(a * book.lists.log.length)];
    const taken = takeBack(book, entry?.id ?? "", AT);
    return taken.ok ? made(taken.value.change) : taken;
  },
  (book, { a, b, c }) => {
    const again = repeatOf(book, pick(book.sheets.route.rows, a).id);
    const steps = again ? [again] : [];
    return keepRecipe(book, {
      title: near(80, b),
      note: near(2000, c),
      steps,
      chance: a,
      grade: "good",
      failed: b,
      days: 3,
    });
  },
  (book, { a, b, c }) => {
    const change = { sheet: "edition", row: "wage", column: "value", value: a } as const;
    const changes = Array.from({ length: 498 + Math.floor(b * 5) }, () => change);
    const entry = { id: freshEntryId(book, "cases"), title: near(LISTS_MOST.cases[1].title, c), changes };
    return made({ label: "Case", operations: [addEntry(book, "cases", entry)] });
  },
  (book, { a, b }) => {
    const cell = { sheet: "edition", row: "wage", column: "value" } as const;
    const entry = { id: freshEntryId(book, "ranges"), ...cell, low: a, high: a + b };
    return made({ label: "Range", operations: [addEntry(book, "ranges", entry)] });
  },
  (book, { a, b }) => made(editMeta(book, { title: near(META_MOST.title, a), note: near(META_MOST.note, b) }, "Title")),
  (book, { a, b }) =>
    made(editMeta(book, { accounts: { sales: near(META_MOST.account, a) }, reasons: [near(300, b)] }, "x")),
  (book, { a, b }) => {
    const formula = `=${"1".repeat(COLUMN_MOST.formula - 3 + Math.floor(a * 5))}`;
    return addOwnColumn(book, "pieces", { title: `Long ${Math.floor(b * 1000)}`, unit: "", type: "number", formula });
  },
  (book, { a }) => addOwnInput(book, near(120, a), ""),
  (book, { a, b }) =>
    asked(book, pick(book.sheets.pieces.rows, a).id, "kg", `=${"1".repeat(RAW_MOST.f - 3 + Math.floor(b * 5))}`),
  (book, { a, b }) => asked(book, pick(book.sheets.pieces.rows, a).id, "note", near(5000, b)),
  (book, { a }) => asked(book, pick(book.sheets.pieces.rows, a).id, "kg", "1e308"),
];

/** The change a session would take; undefined where it is refused. */
function taken(book: Workbook, choice: Choice): Change | undefined {
  const { command, a } = choice;
  const isReaching = command > 0.6;
  const reached = isReaching ? pick(REACHING, (command - 0.6) / 0.4)(book, choice) : undefined;
  const change = reached
    ? reached.ok
      ? reached.value
      : undefined
    : changeOf(book, { ...choice, command: (command / 0.6 + a) % 1 });
  return change && checkSize(book, applyChange(book, change), change).length === 0 ? change : undefined;
}

test("whatever commands made, the reader takes, and gives back the identical document", () => {
  let count = 0;
  fc.assert(
    fc.property(choices(80), (list) => {
      let book = start;
      for (const choice of list) {
        const change = taken(book, choice);
        if (!change) continue;
        book = applyChange(book, change);
        count += 1;
      }
      const read = readDocument(writeDocument(book), "random.edition.json");
      expect(read.ok ? [] : read.problems.map(({ message }) => message)).toEqual([]);
      expect(read.ok && read.value).toEqual(book);
    }),
    { seed: 2105, endOnFailure: true, numRuns: 60 },
  );
  expect(count).toBeGreaterThan(1000);
});
