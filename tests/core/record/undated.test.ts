// Days of what is entered: written by Record, asked for where there is none, and proposed from what is known.
import { expect, test } from "vitest";
import { demoEdition } from "../../../src/app/demo/demo";
import { rowOf } from "../../../src/core/document/access";
import { applyChange, invert, type Operation } from "../../../src/core/document/change";
import { datedColumns } from "../../../src/core/record/days";
import { record } from "../../../src/core/record/record-edits";
import { daysOutOfOrder, giveDays, undatedOf } from "../../../src/core/record/undated";

const dayOf = (at: string) => at.slice(0, 10);
const dated = demoEdition();
/** The demo as a sheet that was typed: no day anywhere but those of firings. */
const typed = applyChange(dated, {
  label: "",
  operations: dated.sheets.pieces.rows.flatMap(({ id, cells }) =>
    datedColumns(dated).flatMap(({ day }): Operation[] =>
      cells[day] === undefined
        ? []
        : [{ kind: "cell", sheet: "pieces", row: id, column: day, was: cells[day], is: undefined }],
    ),
  ),
});

test("the demo is dated through and through, and nothing in it is out of order", () => {
  expect(undatedOf(dated, dayOf)).toEqual([]);
  expect(daysOutOfOrder(dated)).toEqual([]);
});

test("what was typed is asked for with the day of the recording, else of the firing next to it", () => {
  const asked = undatedOf(typed, dayOf);
  const of = (row: string, column: string) => asked.find((one) => one.row === row && one.column === column);
  expect(asked.length).toBeGreaterThan(400);
  expect(of("p1", "cast.day")).toMatchObject({ proposed: "2026-09-21", from: "the firing or step after it" });
  expect(of("p1", "glaze.day")?.proposed).toBe(
    String(
      dated.sheets.firings.rows.find(
        ({ cells }) => cells.id === rowOf(dated, "pieces", "p1")?.cells["glaze_firing.firing"],
      )?.cells.date,
    ),
  );
  expect(of("p1", "passed_on")).toMatchObject({ proposed: "2026-11-23", from: "the run log" });
});

test("the proposals are accepted at once, and one undo takes them all back", () => {
  const change = giveDays(typed, undatedOf(typed, dayOf));
  const given = applyChange(typed, change);
  expect(undatedOf(given, dayOf)).toEqual([]);
  expect(applyChange(given, invert(change))).toEqual(typed);
  const one = giveDays(typed, undatedOf(typed, dayOf).slice(0, 3), "2026-09-10");
  expect(one.operations.map((operation) => operation.kind === "cell" && operation.is)).toEqual(
    Array(3).fill("2026-09-10"),
  );
});

test("a firing without a date is asked for once something was in it", () => {
  const [firing] = dated.sheets.firings.rows;
  const blank = applyChange(dated, {
    label: "",
    operations: [
      { kind: "cell", sheet: "firings", row: firing?.id ?? "", column: "date", was: firing?.cells.date, is: undefined },
    ],
  });
  expect(undatedOf(blank, dayOf)).toMatchObject([
    { sheet: "firings", column: "date", from: "what was entered before it" },
  ]);
});

test("what is put right later keeps its day, what is new gets the day of its recording", () => {
  const must = (result: ReturnType<typeof record>) => {
    if (!result.ok) throw new Error(result.problems[0]?.message);
    return result.value;
  };
  const waits =
    typed.sheets.pieces.rows.find(({ cells }) => cells["pack.minutes"] === undefined && !cells.lost_at)?.id ?? "";
  const first = must(record(typed, [waits], { kind: "minutes", step: "pack", amount: 9 }, "2026-11-26T09:00:00Z"));
  expect(rowOf(first, "pieces", waits)?.cells["pack.day"]).toBe("2026-11-26");
  const later = must(record(first, [waits], { kind: "minutes", step: "pack", amount: 12 }, "2026-12-03T09:00:00Z"));
  expect(rowOf(later, "pieces", waits)?.cells["pack.day"]).toBe("2026-11-26");
});

test("a piece sold before it was passed is named", () => {
  const cells = { became: "sold", became_on: "2026-11-01", passed_on: "2026-11-23", grade: "good" };
  const row = dated.sheets.pieces.rows[0];
  const sold = {
    ...dated,
    sheets: {
      ...dated.sheets,
      pieces: { ...dated.sheets.pieces, rows: [{ id: "p1", cells: { ...row?.cells, ...cells } }] },
    },
  };
  expect(daysOutOfOrder(sold)).toMatchObject([
    { row: "p1", says: "sold on 2026-11-01, and passed only on 2026-11-23" },
  ]);
});
