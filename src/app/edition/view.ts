// How a sheet is looked at: which rows, in what order, which columns. A view never touches the document.
import { rowLabel, specOf } from "../../core/document/access";
import { hasColumn, hasRow } from "../../core/document/shelf-kind";
import type { Column, Row, SheetKey, Workbook } from "../../core/document/workbook";
import { hasHad, isStepFor } from "../../core/steps/piece-steps";
import { isCellError, type Value } from "../../engine/values";

export interface SheetView {
  readonly sort?: { readonly column: string; readonly descending: boolean };
  /** Words looked for in what a row shows. */
  readonly find: string;
  /** Id of a filter from `filtersFor`. */
  readonly filter: string;
  /** Rows picked out by their numbers; undefined where all are. */
  readonly only?: ReadonlySet<string>;
}

export const WHOLE_VIEW: SheetView = { find: "", filter: "all" };

export interface RowFilter {
  readonly id: string;
  readonly title: string;
}

type Reader = (row: Row, column: string) => Value | undefined;

/** The filters a sheet offers. */
export function filtersFor(book: Workbook, sheet: SheetKey): readonly RowFilter[] {
  if (sheet !== "pieces") return [];
  return [
    { id: "all", title: "All pieces" },
    { id: "outcome:in progress", title: "In progress" },
    { id: "outcome:not started", title: "Not started" },
    { id: "outcome:good", title: "Good" },
    { id: "outcome:second", title: "Seconds" },
    { id: "outcome:lost", title: "Lost" },
    { id: "tier:special", title: "Special" },
    { id: "overridden", title: "With a value given by hand" },
    ...book.sheets.route.rows.map((step) => ({
      id: `waiting:${step.id}`,
      title: `Waiting for: ${rowLabel("route", step)}`,
    })),
  ];
}

/** Ids of the rows in view, in view order; `textOf` is a cell as it is shown, `inOrder` the order where none is asked for. */
export function rowsInView(
  book: Workbook,
  sheet: SheetKey,
  view: SheetView,
  read: Reader,
  textOf: (row: Row, column: Column) => string,
  inOrder: (rows: readonly Row[]) => readonly Row[] = (all) => all,
): readonly string[] {
  const { rows, columns } = book.sheets[sheet];
  const words = view.find.toLowerCase().split(/\s+/).filter(Boolean);
  const filter = view.filter.split(":");
  const shownColumns = columns.filter((column) => !column.hidden);
  let shown: readonly Row[] = inOrder(rows).filter(
    (row) =>
      (view.only === undefined || view.only.has(row.id)) &&
      hasRow(book, sheet, row.id) &&
      passes(book, row, filter, columns, read) &&
      (words.length === 0 ||
        mentionsAll(
          shownColumns.map((column) => textOf(row, column).toLowerCase()),
          words,
        )),
  );
  if (view.sort) shown = sorted(shown, view.sort, read);
  return shown.map((row) => row.id);
}

function passes(
  book: Workbook,
  row: Row,
  [what, wanted = ""]: readonly string[],
  columns: readonly Column[],
  read: Reader,
): boolean {
  switch (what) {
    case "outcome":
      return read(row, "outcome") === wanted;
    case "tier":
      return row.cells.tier === wanted;
    case "overridden":
      return columns.some((column) => row.cells[column.key] !== undefined && specOf(column, row).kind === "computed");
    case "waiting":
      return isWaitingFor(book, row, wanted, read);
    default:
      return true;
  }
}

/** Whether a piece has had the step before (or is new) and not this one. */
function isWaitingFor(book: Workbook, row: Row, step: string, read: Reader): boolean {
  return isUnderWay(row, read) && nextStep(book, row, read) === step;
}

/** Whether a piece has steps to come: it is in progress, or has had no step yet. */
export function isUnderWay(row: Row, read: Reader): boolean {
  const outcome = read(row, "outcome");
  return outcome === "in progress" || outcome === "not started";
}

/** The step a piece is to have next: the first after its last one that is for it. */
export function nextStep(book: Workbook, row: Row, read: Reader): string | undefined {
  return stepsAhead(book, row, read)[0]?.id;
}

/** The steps a piece still has ahead of it, in the order of the route; those as needed are not among them. */
export function stepsAhead(book: Workbook, row: Row, read: Reader): readonly Row[] {
  return book.sheets.route.rows.slice(lastHad(book, row, read) + 1).filter((step) => isStepFor(step, row));
}

/** Order in the route of the last step a piece has had; −1 where it has had none. */
export function lastHad(book: Workbook, row: Row, read: Reader): number {
  return book.sheets.route.rows.findLastIndex((step) => isHad(read(row, `${step.id}.cost`)));
}

/** A cost that can't be calculated is still the cost of a step that was done. */
const isHad = (cost: Value | undefined) => typeof cost === "number" || isCellError(cost);

const mentionsAll = (texts: readonly string[], words: readonly string[]) =>
  words.every((word) => texts.some((text) => text.includes(word)));

function sorted(rows: readonly Row[], sort: NonNullable<SheetView["sort"]>, read: Reader): readonly Row[] {
  const keyed = rows.map((row) => ({ row, value: read(row, sort.column) }));
  const sign = sort.descending ? -1 : 1;
  // Blanks and errors stay at the end, whichever way the rest runs.
  return keyed.sort((a, b) => blankLast(a.value, b.value) || sign * compare(a.value, b.value)).map(({ row }) => row);
}

const isBlank = (value: Value | undefined) =>
  value === undefined || value === null || value === "" || isCellError(value);

function blankLast(a: Value | undefined, b: Value | undefined): number {
  return Number(isBlank(a)) - Number(isBlank(b));
}

function compare(a: Value | undefined, b: Value | undefined): number {
  if (isBlank(a) || isBlank(b)) return 0;
  if (typeof a === "number" && typeof b === "number") return a - b;
  return String(a).localeCompare(String(b), "en", { numeric: true });
}

/** The sort that follows when a column title is activated: up, down, none. */
export function nextSort(view: SheetView, column: string): SheetView {
  const { sort, ...rest } = view;
  if (sort?.column !== column) return { ...rest, sort: { column, descending: false } };
  return sort.descending ? rest : { ...rest, sort: { column, descending: true } };
}

/** The columns a sheet shows: bookkeeping left out, and of folded steps only their cost. */
export function columnsInView(book: Workbook, sheet: SheetKey, folded: ReadonlySet<string>): readonly Column[] {
  return book.sheets[sheet].columns.filter(
    (column) =>
      hasColumn(book, column) &&
      !column.hidden &&
      (column.step === undefined || !folded.has(column.step) || column.staysFolded),
  );
}

/** Steps that every piece not lost has had: they are folded when an edition is opened, so that the work at hand is in sight. */
export function pastSteps(book: Workbook): ReadonlySet<string> {
  const open = book.sheets.pieces.rows.filter((row) => row.cells.lost_at === undefined);
  const past = book.sheets.route.rows.filter((step) => open.length > 0 && open.every((row) => hasHad(row, step)));
  return new Set(past.map((step) => step.id));
}
