// Explanations over a workbook and its engine's values, without a session.

import type { ExplainedPart } from "../../src/app/help/explain/part";
import { emptyMemory, type View } from "../../src/app/help/explain/view";
import { type CellName, formulaOf } from "../../src/core/document/access";
import { SHEET_KEYS, type Workbook } from "../../src/core/document/workbook";
import { isCellError } from "../../src/engine/values";
import { evaluate } from "./evaluate";

/** A view of a book with the values of an engine built for it; `reads` counts the cells that were read. */
export function viewOfBook(book: Workbook): View & { readonly reads: () => number } {
  const read = evaluate(book);
  let reads = 0;
  return {
    book,
    value: ({ sheet, row, column }) => {
      reads += 1;
      return read(sheet, row, column);
    },
    text: (value) =>
      value === undefined
        ? "…"
        : value === null || value === ""
          ? "blank"
          : isCellError(value)
            ? value.title
            : `${value}`,
    memory: emptyMemory(),
    reads: () => reads,
  };
}

/** Every cell that has a formula. */
export function computedCells(book: Workbook): CellName[] {
  return SHEET_KEYS.flatMap((sheet) =>
    book.sheets[sheet].rows.flatMap((row) =>
      book.sheets[sheet].columns
        .filter((column) => formulaOf(column, row) !== undefined)
        .map((column) => ({ sheet, row: row.id, column: column.key })),
    ),
  );
}

/** A tree as indented lines, opened `depth` levels down. */
export function outline(part: ExplainedPart, depth: number, indent = ""): string[] {
  const { joins } = part;
  const how =
    joins.kind === "term"
      ? `${joins.sign}${joins.share === undefined ? "" : ` ${(joins.share * 100).toFixed(1)}%`} `
      : joins.kind === "factor"
        ? `${joins.sign} `
        : joins.kind === "given" && joins.name !== ""
          ? `[${joins.name}] `
          : "";
  const notes = part.notes.length > 0 ? ` (${part.notes.join("; ")})` : "";
  const line = `${indent}${how}${part.words}${part.text === "" ? "" : `: ${part.text}`} <${part.role}>${notes}`;
  const inside = depth > 0 && part.open ? part.open() : undefined;
  const calculated = inside?.whole === "calculated" ? [`${indent}  as calculated`] : [];
  return [line, ...calculated, ...(inside?.parts ?? []).flatMap((one) => outline(one, depth - 1, `${indent}  `))];
}
