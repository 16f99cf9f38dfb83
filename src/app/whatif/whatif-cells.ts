// What a what-if can change and what it can look at: cells by name, in the maker's words, the usual ones first.
import {
  type CellName,
  cellKeyOf,
  columnOf,
  formulaOf,
  type ResolvedCell,
  resolveCell,
  resolvedCell,
  rowLabel,
  rowOf,
  specOf,
} from "../../core/document/access";
import { readTyped, takesEntry } from "../../core/document/entry";
import {
  type CellSpec,
  type Column,
  type Row,
  SHEET_KEYS,
  type SheetKey,
  type Workbook,
} from "../../core/document/workbook";
import { fail, ok, problem, type Result } from "../../core/problem";
import { type Scale, scaleOfUnit } from "../../core/units/shown";
import { editableNumber, showUnit, showValue } from "../edition/format";
import type { Session } from "../edition/session";
import { textWithUnit } from "../edition/text-with-unit";

/** A cell that can be asked about. */
export interface AskCell {
  readonly cell: CellName;
  /** In the maker's words: “Glaze firing: planned loss”. */
  readonly title: string;
  /** The heading it is listed under. */
  readonly group: string;
  readonly unit: string;
  readonly spec: CellSpec;
  readonly isWhole: boolean;
  readonly scale: Scale | undefined;
}

export const USUAL = "Asked most often";
const USUAL_INPUTS = [
  ...["wanted", "starts", "confidence", "wage", "overhead_rate", "tariff"],
  ...["price_standard", "price_special", "fixed_costs"],
];
const USUAL_RESULTS = [
  ...["plan_per_good", "plan_margin", "plan_pays", "starts", "plan_cost", "plan_good"],
  ...["plan_hours", "plan_kwh", "plan_buy", "per_good", "pays"],
];

/** The value of a line of the Edition or Results sheet. */
export function lineCell(sheet: "edition" | "results", row: string): CellName {
  return { sheet, row, column: "value" };
}

/** The planned loss of a step. */
export function lossCell(step: string): CellName {
  return { sheet: "route", row: step, column: "loss" };
}

/** The steps that the plan counts on: all, but of those done as needed the ones that some pieces are expected to need. */
export function plannedSteps(book: Workbook): readonly Row[] {
  return book.sheets.route.rows.filter(({ cells }) => cells.who !== "as needed" || cells.needed !== undefined);
}

/** How a cell is asked about; undefined where there is no such cell, or it holds no number. */
export function askCell(book: Workbook, cell: CellName): AskCell | undefined {
  const found = resolveCell(book, cell);
  return found && askedCell(book, cell.sheet, found);
}

function askedCell(book: Workbook, sheet: SheetKey, { row, column, spec, unit }: ResolvedCell): AskCell | undefined {
  if (spec.type !== "number") return undefined;
  const isLine = sheet === "edition" || sheet === "results";
  const scale = spec.format === "percent" ? undefined : scaleOfUnit(unit, book.meta);
  return {
    cell: { sheet, row: row.id, column: column.key },
    title: isLine && column.key === "value" ? rowLabel(sheet, row) : titleOf(book, sheet, row, column),
    group: book.sheets[sheet].title,
    unit: spec.format === "percent" ? "" : showUnit(scale?.unit ?? unit, book.meta.currency),
    spec,
    isWhole: spec.whole === true || spec.format === "whole",
    scale,
  };
}

function titleOf(book: Workbook, sheet: SheetKey, row: Row, column: Column): string {
  const step = column.step === undefined ? undefined : rowOf(book, "route", column.step);
  const of = step ? `${rowLabel("route", step)}, ` : "";
  return `${rowLabel(sheet, row)}: ${of}${column.title}`;
}

/**
 * Numbers that can be entered and whose titles have all these words, at most `most`: the usual ones first, then sheet by
 * sheet. How many to start is among them, though the plan calculates it.
 */
export function findInputs(book: Workbook, words: string, most: number): readonly AskCell[] {
  const usual = usualInputs(book);
  const taken = new Set(usual.map(({ cell }) => cellKeyOf(cell)));
  const found = usual.filter((one) => hasWords(one, words));
  for (const one of enteredNumbers(book)) {
    if (found.length >= most) break;
    if (hasWords(one, words) && !taken.has(cellKeyOf(one.cell))) found.push(one);
  }
  return found.slice(0, most);
}

/** Whether a title, or the heading it is listed under, has all these words. */
function hasWords({ title, group }: AskCell, words: string): boolean {
  const text = `${title} ${group}`.toLowerCase();
  return words
    .toLowerCase()
    .split(/\s+/)
    .every((word) => text.includes(word));
}

// One at a time: a large edition has hundreds of thousands, and the first few dozen that match are enough.
function* enteredNumbers(book: Workbook): Generator<AskCell> {
  for (const sheet of SHEET_KEYS)
    for (const row of sheet === "results" ? [] : book.sheets[sheet].rows)
      for (const column of book.sheets[sheet].columns) {
        if (column.hidden || specOf(column, row).kind !== "input" || !takesEntry(sheet, row, column)) continue;
        const found = askedCell(book, sheet, resolvedCell(column, row));
        if (found) yield found;
      }
}

/** The inputs a maker asks about first: planned losses, the order, wage, power, prices and the price of metal. */
export function usualInputs(book: Workbook): readonly AskCell[] {
  const losses = plannedSteps(book).map((row) => lossCell(row.id));
  const lines = USUAL_INPUTS.map((id) => lineCell("edition", id));
  const metals = book.sheets.materials.rows
    .filter((row) => row.cells.sort === "lustre")
    .map((row): CellName => ({ sheet: "materials", row: row.id, column: "pack_price" }));
  return [...losses, ...lines, ...metals].flatMap((cell) => {
    const found = askCell(book, cell);
    return found ? [{ ...found, group: USUAL }] : [];
  });
}

/** Computed numbers of the Edition and Results sheets whose titles have all these words, the usual ones first. */
export function findResults(book: Workbook, words: string): readonly AskCell[] {
  const all = (["edition", "results"] as const).flatMap((sheet) => {
    const column = columnOf(book, sheet, "value");
    return book.sheets[sheet].rows.flatMap((row) => {
      if (!column || formulaOf(column, row) === undefined) return [];
      const found = askedCell(book, sheet, resolvedCell(column, row));
      return found ? [found] : [];
    });
  });
  const rank = (id: string) => USUAL_RESULTS.indexOf(id);
  const usual = all
    .filter(({ cell }) => rank(cell.row) >= 0)
    .sort((a, b) => rank(a.cell.row) - rank(b.cell.row))
    .map((one) => ({ ...one, group: USUAL }));
  return [...usual, ...all.filter(({ cell }) => rank(cell.row) < 0)].filter((one) => hasWords(one, words));
}

/** A number of a cell as it is shown, with its unit; a dash where there is none. */
export function valueText(session: Session, of: AskCell, value: number): string {
  const text = bareText(session, of, value);
  return Number.isNaN(value) ? text : textWithUnit(session, text, of.unit);
}

/** The same without its unit. */
export function bareText(session: Session, of: AskCell, value: number): string {
  return Number.isNaN(value) ? "–" : shownText(session, of, of.scale ? of.scale.toShown(value) : value);
}

/** A number that is already in the scale the maker reads. */
function shownText(session: Session, { spec, scale }: AskCell, shown: number): string {
  const { decimals } = spec;
  const places = decimals === undefined || !scale ? decimals : Math.max(0, decimals + scale.moreDigits);
  const isLong = spec.format === undefined && places === undefined;
  const tidied = isLong ? Number(shown.toPrecision(5)) : shown;
  return showValue(
    tidied,
    places === undefined ? spec : { ...spec, decimals: places },
    session.formats,
    session.digits,
  );
}

/** A difference, with its sign; of percentages in percentage points. */
export function differenceText(session: Session, of: AskCell, difference: number): string {
  if (Number.isNaN(difference)) return "–";
  // A difference of temperatures has no 32 in it.
  const shown = of.scale ? of.scale.toShown(difference) - of.scale.toShown(0) : difference;
  const text = shownText(session, of, Math.abs(shown));
  const isNothing = !/[1-9]/.test(text);
  if (isNothing) return "–";
  const points = of.spec.format === "percent" ? text.replace(/\u202f%$/, "\u00a0points") : text;
  return `${difference < 0 ? "\u2212" : "+"}${points}`;
}

/** What a number field shows. */
export function fieldText(session: Session, { spec, scale }: AskCell, value: number): string {
  if (Number.isNaN(value)) return "";
  const shown = scale ? scale.toShown(value) : value;
  const tidy = Number(shown.toPrecision(10));
  return editableNumber(tidy, spec, session.formats.locale);
}

/** Reads what was typed into a number field by the rules of its cell. */
export function readField(session: Session, { cell, title, isWhole }: AskCell, typed: string): Result<number> {
  const read = readTyped(session.book.value, cell, typed, session.marks);
  if (!read.ok) return read;
  const { value } = read.value;
  if (typeof value === "number" && !(isWhole && !Number.isInteger(value))) return ok(value);
  const allowed = isWhole ? "a whole number" : "a number";
  return fail(problem({ code: "whatif.number", where: title, found: typed, allowed }));
}
