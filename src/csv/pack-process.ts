// Process costing shown beside the books: equivalent units of the period by tier and cost element, and what each way of costing
// makes of the finished, unfinished and lost pieces.
import { numberType } from "./metadata";
import type { DecimalMark } from "./number-text";
import type { PackContent } from "./pack-content";
import { mayBeBlank, needed, numberCell, type PackTable, textCell } from "./pack-table";

function unitsTable({ processes, currency }: PackContent, decimal: DecimalMark): PackTable {
  const number = numberType(decimal);
  const counted = ["at the start", "finished", "in progress", "lost normal", "lost abnormal"];
  return {
    url: "equivalent-units.csv",
    title: "Equivalent units of the period, told beside the books",
    columns: [
      ...[needed("tier", "string"), needed("element", "string")],
      ...counted.map((name) => needed(name, number, "units")),
      ...["weighted average", "first in first out"].flatMap((method) => [
        needed(`units ${method}`, number, "units"),
        mayBeBlank(`rate ${method}`, number, currency),
      ]),
    ],
    rows: processes.flatMap(({ process: { tier, period }, average, firstIn }) =>
      period.elements.map(({ name }, at) => [
        ...[textCell(tier), textCell(name), numberCell(period.opening.done[at]), numberCell(period.completed)],
        ...[period.closing, period.normal, period.abnormal].map(({ done }) => numberCell(done[at])),
        ...[average, firstIn].flatMap(({ elements }) => [
          numberCell(elements[at]?.units),
          numberCell(elements[at]?.rate),
        ]),
      ]),
    ),
  };
}

function costsTable({ processes, currency }: PackContent, decimal: DecimalMark): PackTable {
  const number = numberType(decimal);
  return {
    url: "process-costing.csv",
    title: "Own cost of pieces by three ways of costing, told beside the books; normal loss before it is borne",
    columns: [
      ...[needed("tier", "string"), needed("pieces", "string")],
      ...[mayBeBlank("piece by piece", number, currency), needed("weighted average", number, currency)],
      needed("first in first out", number, currency),
    ],
    rows: processes.flatMap(({ process: { tier, books }, average, firstIn }) =>
      (
        [
          ["finished", books.completed, "completed"],
          ["in progress", books.closing, "closing"],
          ["lost, normal", undefined, "normal"],
          ["lost, abnormal", undefined, "abnormal"],
        ] as const
      ).map(([title, own, of]) => [
        ...[textCell(tier), textCell(title), numberCell(own)],
        ...[numberCell(average[of]), numberCell(firstIn[of])],
      ]),
    ),
  };
}

/** The two tables, as the pack takes them. */
export const PROCESS_TABLES = [unitsTable, costsTable] as const;
