import { describe, expect, test } from "vitest";
import { applyChange, type Change } from "../../../src/core/document/change";
import { EMPTY_HISTORY, HISTORY_LIMIT, type History, remember, walk } from "../../../src/core/document/history";
import type { Workbook } from "../../../src/core/document/workbook";
import { addStep, removeStep, repeatStep } from "../../../src/core/steps/step-edits";
import { smallEdition, typed } from "../../tools/small-edition";

const named = (label: string): Change => ({ label, operations: [] });

describe("history", () => {
  test("has nothing to undo or redo at first", () => {
    expect(walk(EMPTY_HISTORY, -1)).toBeUndefined();
    expect(walk(EMPTY_HISTORY, 1)).toBeUndefined();
  });

  test("undoes the last first and redoes in order", () => {
    const history = ["a", "b", "c"].reduce((held, label) => remember(held, named(label)), EMPTY_HISTORY);
    const back = walk(history, -1);
    expect(back?.change.label).toBe("c");
    const further = back && walk(back.history, -1);
    expect(further?.change.label).toBe("b");
    const forward = further && walk(further.history, 1);
    expect(forward?.change.label).toBe("b");
    expect(forward?.history).toEqual(back?.history);
  });

  test("a new change ends what could be redone", () => {
    const back = walk(remember(EMPTY_HISTORY, named("a")), -1);
    const history = remember(back?.history ?? EMPTY_HISTORY, named("b"));
    expect(walk(history, 1)).toBeUndefined();
    expect(history.done.map(({ label }) => label)).toEqual(["b"]);
  });

  test("keeps the newest steps when there are too many", () => {
    let history = EMPTY_HISTORY;
    for (let at = 0; at < HISTORY_LIMIT + 3; at += 1) history = remember(history, named(String(at)));
    expect(history.done).toHaveLength(HISTORY_LIMIT);
    expect([history.done[0]?.label, history.done.at(-1)?.label]).toEqual(["3", String(HISTORY_LIMIT + 2)]);
  });
});

/** Entries, repeated steps, new steps and removed steps in turn. */
function nextChange(book: Workbook, at: number): Change {
  const asked =
    at % 4 === 1
      ? repeatStep(book, "firing")
      : at % 4 === 2
        ? addStep(book, { kind: "coat", title: `Coat ${at}` }, "glaze")
        : at % 4 === 3
          ? removeStep(book, book.sheets.route.rows.find(({ id }) => /^(coat|glaze_firing)_/.test(id))?.id ?? "")
          : { ok: true as const, value: typed(book, [["pieces", "p1", "cast.slip", String(700 + at)]]) };
  if (!asked.ok) throw new Error(asked.problems[0]?.message);
  return asked.value;
}

test("six hundred steps, most of them structural, are all undone and all redone", () => {
  const first = smallEdition(3);
  const books = [first];
  let history: History = EMPTY_HISTORY;
  for (let at = 0; at < 600; at += 1) {
    const book = books.at(-1) ?? first;
    const change = nextChange(book, at);
    history = remember(history, change);
    books.push(applyChange(book, change));
  }
  const last = books.at(-1) ?? first;
  let book = last;
  for (let at = 600; at > 0; at -= 1) {
    const back = walk(history, -1);
    if (!back) throw new Error(`nothing left to undo at ${at}`);
    history = back.history;
    book = applyChange(book, back.change);
    if (at % 50 === 0) expect(book).toEqual(books[at - 1]);
  }
  expect(book).toEqual(first);
  for (let step = walk(history, 1); step; step = walk(history, 1)) {
    history = step.history;
    book = applyChange(book, step.change);
  }
  expect(book).toEqual(last);
});
