// The invented edition drawn out over twelve months: its firings a month apart, everything else dated by the proposals, and what
// is finished sold month by month.
import { demoEdition } from "../../src/app/demo/demo";
import { applyChange, type Operation } from "../../src/core/document/change";
import type { Raw, Row, Workbook } from "../../src/core/document/workbook";
import { giveDays, undatedOf } from "../../src/core/record/undated";

const month = (at: number) => String(at).padStart(2, "0");

/** Twelve months of 2026, with sales, a consignment and pieces that broke. */
export function yearEdition(from: Workbook = demoEdition()): Workbook {
  const put = (row: Row, sheet: "pieces" | "firings", cells: Readonly<Record<string, Raw | undefined>>): Operation[] =>
    Object.entries(cells).flatMap(([column, is]) =>
      row.cells[column] === is ? [] : [{ kind: "cell", sheet, row: row.id, column, was: row.cells[column], is }],
    );
  const firings = from.sheets.firings.rows.flatMap((row, at) =>
    put(row, "firings", { date: `2026-${month(1 + at)}-${month(3 + 2 * at)}` }),
  );
  const blank = from.sheets.pieces.rows.flatMap((row) =>
    put(
      row,
      "pieces",
      Object.fromEntries(
        Object.keys(row.cells)
          .filter((column) => /(\.day|^lost_on|^passed_on)$/.test(column))
          .map((column) => [column, undefined]),
      ),
    ),
  );
  const undated = applyChange(
    { ...from, lists: { ...from.lists, log: [] } },
    { label: "", operations: [...firings, ...blank] },
  );
  const meta = { ...undated.meta, started: "2026-01-02" };
  const started = { ...undated, meta };
  const dated = applyChange(
    started,
    giveDays(
      started,
      undatedOf(started, (at) => at.slice(0, 10)),
    ),
  );
  const sold = dated.sheets.pieces.rows.flatMap((row, at) => {
    if (row.cells.grade === undefined || at % 4 === 3) return [];
    const day = String(row.cells.passed_on);
    const [later = day] = [day, [day, `${day.slice(0, 8)}28`, "2026-12-05", "2026-12-30"][at % 4] ?? day]
      .sort()
      .reverse();
    const became = at % 11 === 5 ? "broken" : at % 7 === 2 ? "consigned" : "sold";
    const document = became === "sold" ? { document: `R-${at}` } : {};
    return put(row, "pieces", { became, became_on: later, ...document });
  });
  return applyChange(dated, { label: "", operations: sold });
}
