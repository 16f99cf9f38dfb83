// Which sheets are shown in which way.
import type { SheetKey } from "../../core/document/workbook";

/** The sheets of few rows, whose rows are shown as cards too. */
export const CARD_SHEETS = [
  "materials",
  "purchases",
  "kilns",
  "programmes",
  "tariffs",
  "firings",
  "channels",
] as const satisfies SheetKey[];
export type CardSheet = (typeof CARD_SHEETS)[number];

export const isCardSheet = (sheet: SheetKey): sheet is CardSheet =>
  (CARD_SHEETS as readonly SheetKey[]).includes(sheet);

/** Whether a sheet is read line by line, in groups. */
export const isLineSheet = (sheet: SheetKey): boolean => sheet === "edition" || sheet === "results";
