import Papa from "papaparse";
import { describe, expect, test } from "vitest";
import { undo } from "../../../src/app/commands/commands";
import { demoEdition } from "../../../src/app/demo/demo";
import {
  addReason,
  lossReasons,
  planAsked,
  recordPieces,
  removeReason,
  takeEntryBack,
  waitingGroups,
} from "../../../src/app/record/record";
import { filterLog, type LogFilter, WHOLE_LOG } from "../../../src/app/record/run-log";
import { choosePieces, piecesAsText } from "../../../src/core/record/choose-pieces";
import { record } from "../../../src/core/record/record-edits";
import { writeLogCsv } from "../../../src/csv/log-csv";
import { must } from "../../accounts/results";
import { openSession } from "../../tools/open-session";

const demo = demoEdition();
const logged = must(
  record(demo, ["p120", "p121"], { kind: "coats", step: "glaze", amount: 4 }, "2026-11-25T08:00:00.000Z"),
);

describe("filtering the run log", () => {
  const labels = (filter: Partial<LogFilter>) =>
    must(filterLog(logged, { ...WHOLE_LOG, ...filter })).map(({ act, label }) => `${act}: ${label.split(":")[0]}`);

  test("newest first, by step, act, pieces, words and day", () => {
    expect(labels({})).toEqual([
      "coats: Glaze, 4 coats",
      "lost: Lost at Inspect and pack",
      "passed: Passed as second",
      "passed: Passed as good",
    ]);
    expect(labels({ step: "glaze" })).toEqual(["coats: Glaze, 4 coats"]);
    expect(labels({ step: "pack" })).toEqual(["lost: Lost at Inspect and pack"]);
    expect(labels({ act: "passed" })).toHaveLength(2);
    expect(labels({ pieces: "84, 42" })).toEqual(["lost: Lost at Inspect and pack", "passed: Passed as second"]);
    expect(labels({ words: "passed GOOD" })).toEqual(["passed: Passed as good"]);
    expect(labels({ day: "2026-11-24" })).toEqual(["lost: Lost at Inspect and pack"]);
    expect(filterLog(logged, { ...WHOLE_LOG, pieces: "999" }).ok).toBe(false);
  });
});

test("a file of the log: guarded texts, a line an entry", () => {
  const line = {
    at: "2026-11-25T08:00:00Z",
    act: "Note",
    what: "=1+1, “a”",
    steps: ["Glaze"],
    pieces: ["001", "002"],
    cells: 2,
    note: "",
    takenBack: "",
  };
  const text = writeLogCsv([line, line], ";");
  const read = Papa.parse<string[]>(text.trimEnd(), { delimiter: ";" });
  expect(read.data[0]).toContain("taken back");
  expect(read.data).toHaveLength(3);
  expect(read.data[1]).toEqual(["2026-11-25T08:00:00Z", "Note", "'=1+1, “a”", "Glaze", "001 002", "2", "2", "", ""]);
});

describe("at the bench", () => {
  test("pieces in progress stand under what they wait for", async () => {
    const { session, settled } = openSession(demo);
    await settled();
    const groups = waitingGroups(session);
    expect(groups.map(({ title, pieces }) => `${title} ${pieces.length}`)).toEqual([
      "Glaze 12",
      "Glaze firing 9",
      "Lustre 2",
      "Low firing 2",
      "Lustre 2 2",
      "Inspect and pack 22",
    ]);
    expect(groups.reduce((sum, { pieces }) => sum + pieces.length, 0)).toBe(session.result("in_progress"));
  });

  test("looked over, packed and passed is one press, for pieces with nothing but that before them", async () => {
    const { session, settled } = openSession(demo);
    await settled();
    const last = waitingGroups(session).filter(({ isLast }) => isLast);
    expect(last.map(({ title }) => title)).toEqual(["Inspect and pack"]);
    const pieces = last[0]?.pieces ?? [];
    const asked = { kind: "passed", grade: "good", isFinished: true } as const;
    const plan = planAsked(session, pieces, asked);
    expect(plan.ok && plan.value.warnings).toEqual([]);
    expect(recordPieces(session, pieces, asked)).toBe(true);
    const of = (id: string) => session.book.value.sheets.pieces.rows.find((row) => row.id === id)?.cells;
    expect(pieces.map((id) => [of(id)?.grade, of(id)?.["pack.minutes"]])).toEqual(pieces.map(() => ["good", 8]));
    undo(session);
    expect(session.book.value).toEqual(demo);
    // One that still waits for a firing keeps it to come, and that is warned of.
    const early = planAsked(session, ["p120"], asked);
    expect(early.ok && early.value.warnings.map(({ says }) => says)).toEqual([
      expect.stringMatching(/^still to come: .*Glaze firing/),
    ]);
  });

  test("before it is recorded, a firing says how full it would be and what a piece in it bears", async () => {
    const { session, settled } = openSession(demo);
    await settled();
    const wish = { kind: "new", name: "N1", kiln: "Large kiln" } as const;
    const saysOf = (pieces: readonly string[]) => {
      const plan = planAsked(session, pieces, { kind: "firing", step: "glaze_firing", firing: wish });
      return plan.ok ? (plan.value.says.find((says) => says.startsWith("N1 holds")) ?? "") : plan.problems[0]?.message;
    };
    const [alone, nine] = [saysOf(["p120"]), saysOf(waitingGroups(session)[1]?.pieces ?? [])];
    expect(alone).toMatch(/^N1 holds 1 of \d+: a piece bears about €\u00a0[\d.]+; in a full load €\u00a0[\d.]+$/);
    const number = (text: string | undefined, before: string) =>
      Number(new RegExp(`${before} €\u00a0([\\d.]+)`).exec(text ?? "")?.[1]);
    expect(number(alone, "about")).toBeGreaterThan(8 * number(nine, "about"));
    expect(number(nine, "about")).toBeGreaterThan(number(nine, "load"));
    expect(number(alone, "load")).toBeCloseTo(number(nine, "load"), 1);
  });

  test("one recording is one undo, and one line in the log that undo takes out too", () => {
    const { session } = openSession(demo);
    expect(recordPieces(session, ["p120"], { kind: "lost", step: "glaze", reason: "crawled" })).toBe(true);
    expect(session.history.value.done).toHaveLength(1);
    expect(session.book.value.lists.log).toHaveLength(4);
    undo(session);
    expect(session.book.value).toEqual(demo);
  });

  test("where no piece takes part, it is refused with the reasons and nothing is done", () => {
    const { session } = openSession(demo);
    expect(recordPieces(session, ["p57"], { kind: "passed", grade: "good" })).toBe(false);
    expect(session.notices.value.at(-1)?.text).toContain("1: lost at Glaze firing");
    expect(session.book.value).toBe(demo);
  });

  test("an entry taken back says what stays because of what came after", () => {
    const { session } = openSession(logged);
    recordPieces(session, ["p121"], { kind: "coats", step: "glaze", amount: 5 });
    expect(takeEntryBack(session, "l4")).toBe(true);
    expect(session.notices.value.map(({ text }) => text).slice(-2)).toEqual([
      "Taken back: Glaze, 4 coats: 120, 121. 1 cell is as it was before.",
      "1 left as they are, because of what came after.",
    ]);
    expect(takeEntryBack(session, "l4")).toBe(false);
  });

  test("reasons are the maker's own list, kept in one step each", () => {
    const { session } = openSession(demo);
    const before = lossReasons(demo);
    expect(addReason(session, " bloated ")).toBe(true);
    expect(lossReasons(session.book.value)).toEqual([...before, "bloated"]);
    expect(addReason(session, "Bloated")).toBe(true);
    expect(lossReasons(session.book.value)).toHaveLength(before.length + 1);
    removeReason(session, "bloated");
    expect(lossReasons(session.book.value)).toEqual(before);
    expect(addReason(session, " ")).toBe(false);
    undo(session);
    expect(lossReasons(session.book.value)).toContain("bloated");
  });
});

test.each([["1-3, 7, 9-141"], ["5"], ["1, 3, 5, 7"]])("pieces named as %s are read back as the same ones", (text) => {
  const ids = must(choosePieces(demo, text));
  expect(must(choosePieces(demo, piecesAsText(demo, ids)))).toEqual(ids);
});
