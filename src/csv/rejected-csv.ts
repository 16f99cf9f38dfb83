// Lines that were not imported, as a file to mend and bring in again: as they stood, with their line and the reasons.
import Papa from "papaparse";
import { readNumber } from "../core/document/entry";
import type { Rejected } from "./import-options";
import type { SheetTable } from "./read";
import { guardText, unguardText } from "./text-guard";

const LINE_NAME = "line in the file";
const WHY_NAME = "why not brought in";

/** The text of that file, with the delimiter of the one it came from. */
export function writeRejectedCsv(table: SheetTable, rejected: readonly Rejected[]): string {
  const reasons = new Map<number, string[]>();
  for (const one of rejected) {
    const reason = `${one.column}: ${one.reason}`;
    const known = reasons.get(one.line);
    if (known) known.push(reason);
    else reasons.set(one.line, [reason]);
  }
  const lines = table.rows
    .filter((row) => reasons.has(row.line))
    .map((row) => {
      const width = Math.max(row.cells.length, table.header.length);
      const cells = Array.from({ length: width }, (_, at) => harmless(row.cells[at] ?? ""));
      return [String(row.line), guardText((reasons.get(row.line) ?? []).join(" ")), ...cells];
    });
  const header = [LINE_NAME, WHY_NAME, ...table.header.map(guardText)];
  const text = Papa.unparse([header, ...lines], { delimiter: table.delimiter, newline: "\r\n" });
  return `${text}\r\n`;
}

/** A cell as it stood, unless it could run as a formula; a number with a sign is left alone. */
function harmless(cell: string): string {
  const isNumeric = [".", ","].some((decimal) => readNumber(cell, { decimal: decimal as "." | "," }) !== undefined);
  return isNumeric || unguardText(cell).isLiteral ? cell : guardText(cell);
}
