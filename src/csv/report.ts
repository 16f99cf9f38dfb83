// What the maker sees of a planned import: counts of everything, and enough of each kind to judge it by.
import { columnOf, describeCell, rowLabel, rowOf, specOf } from "../core/document/access";
import type { Operation } from "../core/document/change";
import type { Raw, Workbook } from "../core/document/workbook";
import { choiceTexts } from "./choice-text";
import type { DateOrder } from "./date-text";
import type { HeaderMatch } from "./headers";
import type { IgnoredColumn, ImportQuestion, Rejected } from "./import-options";
import type { DecimalMark } from "./number-text";
import type { ImportPlan, LineCounts } from "./plan";

/** One cell before and after. */
interface CellChange {
  readonly where: string;
  readonly before: string;
  readonly after: string;
}

/** A column of the file and where it goes: the key of a column of ours, "" for nowhere. */
interface ColumnUse {
  readonly header: string;
  readonly kind: HeaderMatch["kind"];
  readonly key: string;
}

export interface ImportReport {
  readonly counts: LineCounts;
  /** How much the change does; nothing to bring in where it is 0. */
  readonly operations: number;
  /** The first of each. */
  readonly added: readonly string[];
  readonly changes: readonly CellChange[];
  readonly changeCount: number;
  readonly rejected: readonly Rejected[];
  readonly rejectedCount: number;
  readonly questions: readonly ImportQuestion[];
  readonly ignored: readonly IgnoredColumn[];
  readonly columns: readonly ColumnUse[];
  readonly decimal: DecimalMark | undefined;
  readonly dates: DateOrder | undefined;
}

const SHOWN = 100;
/** Of a cell that is refused, as much as is needed to know it; the file of refused lines has all of it. */
const LONGEST_FOUND = 200;

/** The report of a plan for the workbook it was made for. */
export function reportOf(plan: ImportPlan, book: Workbook): ImportReport {
  const cells = plan.change.operations.filter((operation) => operation.kind === "cell");
  return {
    counts: plan.counts,
    operations: plan.change.operations.length,
    added: plan.added.slice(0, SHOWN),
    changes: cells.slice(0, SHOWN).map((cell) => cellChange(book, plan.change.operations, cell)),
    changeCount: cells.length,
    rejected: plan.rejected.slice(0, SHOWN).map((one) => ({ ...one, found: shortened(one.found) })),
    rejectedCount: plan.rejected.length,
    questions: plan.questions,
    ignored: plan.ignored,
    columns: plan.matches.map((match) => ({
      header: match.header,
      kind: match.kind,
      key: "column" in match ? match.column.key : "",
    })),
    decimal: plan.decimal,
    dates: plan.dates,
  };
}

function shortened(text: string): string {
  return text.length > LONGEST_FOUND ? `${text.slice(0, LONGEST_FOUND)}…` : text;
}

function cellChange(
  book: Workbook,
  operations: readonly Operation[],
  { sheet, row, column, was, is }: Extract<Operation, { kind: "cell" }>,
): CellChange {
  const found = rowOf(book, sheet, row);
  const known = columnOf(book, sheet, column);
  const show = (raw: Raw | undefined): string => {
    if (raw === undefined) return "";
    if (typeof raw === "object") return raw.f;
    const spec = found && known ? specOf(known, found) : undefined;
    return typeof raw === "string" && spec?.type === "choice" ? choiceTexts(book, spec).textOf(raw) : String(raw);
  };
  const where =
    known || !found
      ? describeCell(book, { sheet, row, column })
      : `${book.sheets[sheet].title} ${rowLabel(sheet, found)}, ${ownTitle(operations, column)}`;
  return { where, before: show(was), after: show(is) };
}

function ownTitle(operations: readonly Operation[], key: string): string {
  for (const operation of operations)
    if (operation.kind === "add columns") {
      const column = operation.columns.find((one) => one.key === key);
      if (column) return column.title;
    }
  return key;
}
