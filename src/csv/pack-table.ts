// A table of the pack: its columns with types and units, its cells, and how both are written.
import Papa from "papaparse";
import { minorUnitsText } from "../core/money";
import type { DescribedColumn, Json } from "./metadata";
import { type DecimalMark, numberText } from "./number-text";
import { guardText } from "./text-guard";
import type { Delimiter } from "./write";

/** How the tables are written. */
export interface PackForm {
  readonly delimiter: Delimiter;
  readonly decimal: DecimalMark;
  readonly hasMark: boolean;
}

/** A cell: text is guarded, a number has its mark, money is minor units, nothing is blank. */
export type PackCell =
  | { readonly text: string }
  | { readonly number: number | undefined }
  | { readonly minor: number | undefined };

/** A table of the pack. */
export interface PackTable {
  readonly url: string;
  readonly title: string;
  readonly columns: readonly DescribedColumn[];
  readonly primaryKey?: string;
  readonly rows: readonly (readonly PackCell[])[];
}

/** A text. */
export const textCell = (value: string): PackCell => ({ text: value });
/** A number. Sums of sums end in digits that mean nothing, such as 12.000000000000002 g; twelve digits are a microgram in a tonne. */
export const numberCell = (value: number | undefined): PackCell => ({
  number: value === undefined ? undefined : Number(value.toPrecision(12)),
});
/** An amount in minor units. */
export const moneyCell = (value: number | undefined): PackCell => ({ minor: value });
/** A column whose cells may be blank; its name is its title with underscores. */
export const mayBeBlank = (name: string, datatype: Json, unit = ""): DescribedColumn => ({
  ...{ name: name.replaceAll(" ", "_"), title: name, datatype, required: false },
  ...(unit === "" ? {} : { unit }),
});
/** A column whose cells are all filled. */
export const needed = (name: string, datatype: Json, unit = ""): DescribedColumn => ({
  ...mayBeBlank(name, datatype, unit),
  required: true,
});

/** A day, ISO 8601. */
export const DAY_TYPE: Json = { base: "date", format: "yyyy-MM-dd" };

/** The table as the text of its file. */
export function textOfTable({ columns, rows }: PackTable, digits: number, { delimiter, decimal }: PackForm): string {
  const show = (cell: PackCell): string => {
    if ("text" in cell) return guardText(cell.text);
    if ("number" in cell) return cell.number === undefined ? "" : numberText(cell.number, decimal);
    return cell.minor === undefined ? "" : minorUnitsText(cell.minor, digits).replace(".", decimal);
  };
  const lines = [columns.map(({ title }) => title), ...rows.map((row) => row.map(show))];
  return `${Papa.unparse(lines, { delimiter, newline: "\r\n" })}\r\n`;
}
