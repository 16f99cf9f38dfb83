// The engine's errors in the maker's words, with the cell where each began.
import { type DetailedCellError, ErrorType } from "hyperformula";
import type { CellName } from "../core/access";
import { didYouMean } from "../core/formula";
import { SHEET_KEYS, type SheetKey } from "../core/workbook";
import { FUNCTIONS } from "./functions/index";
import type { Layout } from "./layout";
import type { Trouble } from "./values";

/** An engine error as a trouble that says what to do. */
export function toTrouble(error: DetailedCellError, layout: Layout): Trouble {
  const from = error.address === undefined ? undefined : nameOf(error.address, layout);
  return { trouble: titleOf(error.type), message: messageOf(error), ...(from ? { from } : {}) };
}

function titleOf(type: ErrorType): string {
  switch (type) {
    case ErrorType.DIV_BY_ZERO:
      return "divides by nothing";
    case ErrorType.CYCLE:
      return "goes in a circle";
    case ErrorType.NAME:
      return "unknown name";
    case ErrorType.REF:
      return "names something removed";
    case ErrorType.NA:
      return "not found";
    default:
      return "no number";
  }
}

function messageOf(error: DetailedCellError): string {
  switch (error.type) {
    case ErrorType.DIV_BY_ZERO:
      return "It divides by 0 or by a blank cell. Enter the number it divides by.";
    case ErrorType.CYCLE:
      return "It depends on itself, directly or through other cells. Change one of them to a typed value.";
    case ErrorType.REF:
      return "It names a row or column that is no longer there. Undo, or write the formula anew.";
    case ErrorType.NAME: {
      const name = /[A-Za-z_][\w.]*/.exec(error.message.replace(/^.*(name|Function)\s/i, ""))?.[0] ?? "";
      const near = didYouMean(
        name,
        FUNCTIONS.map((declaration) => declaration.name),
      );
      return `${error.message}${near ? ` Did you mean ${near}?` : " Look it up in the list of functions."}`;
    }
    default:
      return OWN_MESSAGES.test(error.message) ? error.message : `${error.message} Check the cells it is computed from.`;
  }
}

/** Messages of our functions start with the function's name. */
const OWN_MESSAGES = /^[A-Z_]+[,:]/;

/** The cell at an engine address such as `pieces!C5`. */
function nameOf(address: string, layout: Layout): CellName | undefined {
  const match = /^'?([a-z]+)'?!\$?([A-Z]+)\$?(\d+)$/.exec(address);
  const sheet = SHEET_KEYS.find((key) => key === match?.[1]);
  if (!match || !sheet) return undefined;
  let place = 0;
  for (const letter of match[2] ?? "") place = place * 26 + letter.charCodeAt(0) - 64;
  return find(layout, sheet, Number(match[3]) - 1, place - 1);
}

function find(layout: Layout, sheet: SheetKey, at: number, place: number): CellName | undefined {
  const row = [...layout[sheet].rows].find(([, held]) => held === at)?.[0];
  const column = [...layout[sheet].columns].find(([, held]) => held === place)?.[0];
  return row !== undefined && column !== undefined ? { sheet, row, column } : undefined;
}
