// One cell as it stands in a file.
import { rawAt, specOf } from "../core/document/access";
import type { CellSpec, Column, Row, SheetKey, Workbook } from "../core/document/workbook";
import { roundMoney } from "../core/money";
import { type ChoiceTexts, choiceTexts } from "./choice-text";
import { type DecimalMark, numberText, percentText } from "./number-text";
import { guardText } from "./text-guard";

/** A computed value: what the engine gives for a cell, null where it is blank. */
export type CellValue = number | string | boolean | null;

/** What cells of one sheet need to be written. */
export interface CellWriter {
  /** What was typed: blank where nothing was, and a formula typed by hand as guarded text. */
  readonly entered: (row: Row, column: Column) => string;
  /** What a cell comes to. */
  readonly value: (row: Row, column: Column, value: CellValue) => string;
}

/** How numbers are written. */
export interface NumberForm {
  readonly decimal: DecimalMark;
  /** Decimal places that computed money is rounded to; without it every number keeps all its digits. */
  readonly moneyDigits?: number;
}

/** Prepares the writing of a sheet's cells. */
export function cellWriter(book: Workbook, sheet: SheetKey, { decimal, moneyDigits }: NumberForm): CellWriter {
  const choices = new Map<string, ChoiceTexts>();
  const textsOf = (column: Column, spec: CellSpec): ChoiceTexts => {
    const known = choices.get(column.key) ?? choiceTexts(book, spec);
    choices.set(column.key, known);
    return known;
  };
  const textOf = (row: Row, column: Column, shown: CellValue, digits: number | undefined): string => {
    if (shown === null) return "";
    if (typeof shown === "boolean") return shown ? "TRUE" : "FALSE";
    const spec = specOf(column, row);
    if (typeof shown === "number") {
      const isRounded = digits !== undefined && spec.format === "money";
      return numberOf(column, spec, isRounded ? roundMoney(shown, digits) : shown, decimal);
    }
    return guardText(spec.type === "choice" ? textsOf(column, spec).textOf(shown) : shown);
  };
  return {
    value: (row, column, shown) => textOf(row, column, shown, moneyDigits),
    entered: (row, column) => {
      const raw = rawAt(book, { sheet, row: row.id, column: column.key });
      if (raw === undefined) return "";
      return typeof raw === "object" ? guardText(raw.f) : textOf(row, column, raw, undefined);
    },
  };
}

/**
 * A column of percentages is written as fractions, which its header says; on a sheet that reads line by line the unit
 * stands in the line, so the number has its percent sign.
 */
function numberOf(column: Column, spec: CellSpec, value: number, decimal: DecimalMark): string {
  const isPercentLine = spec !== column && spec.format === "percent";
  return isPercentLine ? percentText(value, decimal) : numberText(value, decimal);
}
