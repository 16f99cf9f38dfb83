// Reading the cells of a document, whether it is open on a page or was just calculated.
import type { SheetKey } from "../../core/document/workbook";
import type { Value } from "../../engine/values";
import type { Session } from "../edition/session";

/** Reads the value of a cell as the sheet shows it; undefined where it has not been computed yet. */
export type ReadCell = (sheet: SheetKey, row: string, column: string) => Value | undefined;

/** Reads the cells of an open edition. */
export const readerOf =
  (session: Session): ReadCell =>
  (sheet, row, column) =>
    session.value({ sheet, row, column });

/** A value where it is a number; undefined for a blank, a text or an error. */
export const asNumber = (value: unknown) => (typeof value === "number" ? value : undefined);
