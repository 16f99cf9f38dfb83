// The engine's errors in the maker's words, with the cell where each began.
import type { ErrorType } from "hyperformula";
import type { CellName } from "../core/document/access";
import type { SheetKey } from "../core/document/workbook";
import { didYouMean } from "../core/formula/did-you-mean";
import { FUNCTIONS } from "./functions/index";
import { LEFT_OUT, MESSAGES } from "./hyperformula/words";
import type { Layout } from "./layout";
import { TOOK_TOO_LONG } from "./set-aside";
import type { CellError } from "./values";

/** An error as the engine gives it: its kind and, for some, its own words. */
export interface EngineError {
  readonly type: `${ErrorType}`;
  readonly message: string;
}

/** An engine error as a cell error that says what to do; `from` is the cell where it began. */
export function toCellError(error: EngineError, from: CellName | undefined): CellError {
  return { title: titleOf(error), message: messageOf(error), ...(from ? { from } : {}) };
}

/** Whether an error is of a sort that the engine does not mark with the cell where it began. */
export function isUnmarked(error: EngineError): boolean {
  return error.type === "ERROR" || error.message === MESSAGES.noFiniteNumber;
}

/** The engine's own messages in the maker's words. */
const IN_WORDS: Readonly<Record<string, string>> = {
  [MESSAGES.noFiniteNumber]:
    "The result is no finite number. Look for the root of a negative number or a power that is far too large.",
  [MESSAGES.wrongCount]: "A function is given too many or too few values. Look it up in the list of functions.",
  [MESSAGES.wrongKind]: "A function is given a whole column where it takes one value, or one value for a column.",
  [MESSAGES.noRange]: "A whole column stands where one value is needed. Name one cell, or sum the column.",
  [MESSAGES.noNumber]: "Text or a blank text stands where a number is needed. Check the cells it names.",
  [TOOK_TOO_LONG]: TOOK_TOO_LONG,
};

function titleOf({ type, message }: EngineError): string {
  if (message === MESSAGES.wrongCount) return "wrong arguments";
  if (message === TOOK_TOO_LONG) return "took too long";
  switch (type) {
    case "ERROR":
      return "no formula";
    case "DIV_BY_ZERO":
      return "divides by nothing";
    case "CYCLE":
      return "goes in a circle";
    case "NAME":
      return "unknown name";
    case "REF":
      return "names something removed";
    case "NA":
      return "not found";
    default:
      return "no number";
  }
}

function messageOf(error: EngineError): string {
  switch (error.type) {
    case "DIV_BY_ZERO":
      return "It divides by 0 or by a blank cell. Enter the number it divides by.";
    case "CYCLE":
      return "It depends on itself, directly or through other cells. Change one of them to a typed value.";
    case "REF":
      return "It names a row or column that is no longer there. Undo, or write the formula again.";
    case "NAME": {
      const name = /[A-Za-z_][\w.]*/.exec(error.message.replace(/^.*(name|Function)\s/i, ""))?.[0] ?? "";
      if (LEFT_OUT.includes(name.toUpperCase()))
        return `${name} is not among the functions here: with large numbers it can run for hours.`;
      const near = didYouMean(
        name,
        FUNCTIONS.map((declaration) => declaration.name),
      );
      return `${error.message}${near ? ` Did you mean ${near}?` : " Look it up in the list of functions."}`;
    }
    case "ERROR":
      return UNREADABLE;
    default:
      return (
        IN_WORDS[error.message] ??
        (OWN_MESSAGES.test(error.message) ? error.message : `${error.message} Check the cells it is computed from.`)
      );
  }
}

/** Said of a text that is no formula. */
const UNREADABLE = "It can't be read as a formula. Look for a bracket, a sign or a value that is missing.";

/** Messages of our functions start with the function's name. */
const OWN_MESSAGES = /^[A-Z][A-Z\d_.]*[,:]/;

/** Names of the cells at engine indexes; the indexes of a sheet are inverted round when the first is asked for. */
export function cellNamer(layout: Layout): (sheet: SheetKey, row: number, column: number) => CellName | undefined {
  const inverted = new Map<SheetKey, { rows: Map<number, string>; columns: Map<number, string> }>();
  return (sheet, rowIndex, columnIndex) => {
    let names = inverted.get(sheet);
    if (!names) {
      names = { rows: invert(layout[sheet].rows), columns: invert(layout[sheet].columns) };
      inverted.set(sheet, names);
    }
    const row = names.rows.get(rowIndex);
    const column = names.columns.get(columnIndex);
    return row !== undefined && column !== undefined ? { sheet, row, column } : undefined;
  };
}

function invert(indices: ReadonlyMap<string, number>): Map<number, string> {
  return new Map([...indices].map(([name, index]) => [index, name]));
}
