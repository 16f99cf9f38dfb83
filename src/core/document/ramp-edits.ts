// Ramps of a firing programme: one more after another, the ones behind it numbered on.
import { rowOf } from "./access";
import type { Change, Operation } from "./change";
import { freshRowId } from "./edits";
import type { Row, Workbook } from "./workbook";

/**
 * A ramp after a row of the Programmes sheet, or at the end of the last programme. Between two ramps it goes to the mean
 * of their targets at the rate of the next one, so that the course stays as it was; at the end it goes to 1000 °C.
 */
export function rampAfter(
  book: Workbook,
  selected: string | undefined,
  targetOf: (row: string) => unknown,
): { readonly change: Change; readonly id: string } {
  const { rows } = book.sheets.programmes;
  const before = (selected === undefined ? undefined : rowOf(book, "programmes", selected)) ?? lastRamp(rows);
  const programme = before?.cells.programme ?? "programme";
  const number = (row: Row) => Number(row.cells.ramp) || 0;
  const later = rows
    .filter((row) => before && row.cells.programme === programme && number(row) > number(before))
    .sort((a, b) => number(a) - number(b));
  const next = later[0];
  const [from, to] = [before && targetOf(before.id), next && targetOf(next.id)];
  const celsius = typeof from === "number" && typeof to === "number" ? Math.round((from + to) / 2) : 1000;
  const ramp = before ? number(before) + 1 : 1;
  const id = freshRowId(rows, "r");
  const rate = next?.cells.rate ?? (next ? undefined : 100);
  const cells = { programme, ramp, celsius, soak: 0, ...(rate === undefined ? {} : { rate }) };
  const at = before ? rows.indexOf(before) + 1 : rows.length;
  // Only those that would share a number with the one before them move on.
  let taken = ramp;
  const renumbered = later.flatMap((row): Operation[] => {
    const was = number(row);
    if (was > taken) return [];
    taken = was + 1;
    return [{ kind: "cell", sheet: "programmes", row: row.id, column: "ramp", was: row.cells.ramp, is: taken }];
  });
  return {
    id,
    change: {
      label: `Add a ramp to ${programme}`,
      operations: [...renumbered, { kind: "add rows", sheet: "programmes", at, rows: [{ id, cells }] }],
    },
  };
}

/** The last ramp of the programme at the end of the sheet. */
function lastRamp(rows: readonly Row[]): Row | undefined {
  const programme = rows.at(-1)?.cells.programme;
  const own = rows.filter((row) => row.cells.programme === programme);
  return own.reduce<Row | undefined>(
    (last, row) => (last && (Number(last.cells.ramp) || 0) >= (Number(row.cells.ramp) || 0) ? last : row),
    undefined,
  );
}
