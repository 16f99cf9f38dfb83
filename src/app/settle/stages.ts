// Pieces in progress by the step they have reached: what each still takes, what it will fetch, and what is written down.
import type { EditionCosts, PieceCost } from "../../accounts/edition-costs";
import type { HandWriteDown } from "../../accounts/inventory";
import { type PieceStage, stagesOf } from "../../accounts/stages";
import { rowLabel } from "../../core/document/access";
import type { Workbook } from "../../core/document/workbook";
import type { ReadCell } from "./cell-reader";
import { plannedStepsOf } from "./planned-steps";
import { netOfPrice, offeredPrice, soldAs } from "./price-terms";

/** Every piece in progress at its stage, in the order of the sheet. */
export function stagesFromSheets(book: Workbook, read: ReadCell, { pieces }: EditionCosts): readonly PieceStage[] {
  const rows = new Map(book.sheets.pieces.rows.map((row) => [rowLabel("pieces", row), row]));
  const netOf = (piece: PieceCost) => {
    const row = rows.get(piece.id);
    const price = row ? (offeredPrice(row, read) ?? 0) : 0;
    return row && price > 0 ? netOfPrice(read, soldAs(row), price) : undefined;
  };
  return stagesOf(plannedStepsOf(book, read), pieces, netOf);
}

const numberOr = (value: unknown, other: number) => (typeof value === "number" ? value : other);

/** What the pieces of some stages will fetch, by piece number; those without a price left out. */
export function fetchedInProgress(stages: readonly PieceStage[]): ReadonlyMap<string, number> {
  return new Map(
    stages.flatMap(({ piece, fetches }): [string, number][] => (fetches === undefined ? [] : [[piece, fetches]])),
  );
}

/** What the maker has written down, by piece number. */
export function handWriteDowns(book: Workbook, read: ReadCell): ReadonlyMap<string, HandWriteDown> {
  return new Map(
    book.sheets.pieces.rows.flatMap((row): [string, HandWriteDown][] => {
      const amount = numberOr(read("pieces", row.id, "down_by"), 0);
      const { down_why: reason, down_on: day } = row.cells;
      if (amount <= 0) return [];
      const note = {
        ...(typeof reason === "string" ? { reason } : {}),
        ...(typeof day === "string" ? { day } : {}),
      };
      return [[rowLabel("pieces", row), { amount, ...note }]];
    }),
  );
}
