// Pieces in progress by the step they have reached: what each still takes, what it will fetch, and what is written down.
import type { EditionCosts, PieceCost } from "../../accounts/edition-costs";
import type { HandWriteDown } from "../../accounts/inventory";
import { netFetch } from "../../accounts/net-fetch";
import { type PieceStage, stagesOf } from "../../accounts/stages";
import { rowLabel } from "../../core/document/access";
import type { Row, Workbook } from "../../core/document/workbook";
import type { ReadCell } from "./plain-from-sheets";
import { plannedStepsOf } from "./planned-steps";

/** Every piece in progress at its stage, in the order of the sheet. */
export function stagesFromSheets(book: Workbook, read: ReadCell, { pieces }: EditionCosts): readonly PieceStage[] {
  const [feeRate = 0, feeFixed = 0, taxRate = 0] = ["fee_rate", "fee_fixed", "tax_rate"].map((id) => line(read, id));
  const rows = new Map(book.sheets.pieces.rows.map((row) => [rowLabel("pieces", row), row]));
  const netOf = (piece: PieceCost) => {
    const row = rows.get(piece.id);
    const price = row ? offered(row, read) : 0;
    return price > 0 ? netFetch(price, { feeRate, feeFixed, taxRate }, line(read, "packing")) : undefined;
  };
  return stagesOf(plannedStepsOf(book, read), pieces, netOf);
}

const numberOr = (value: unknown, other: number) => (typeof value === "number" ? value : other);
const line = (read: ReadCell, id: string) => numberOr(read("edition", id, "value"), 0);

/** Its own price, otherwise that of the tier it is meant for. */
const offered = (row: Row, read: ReadCell) =>
  numberOr(
    read("pieces", row.id, "own_price"),
    line(read, row.cells.tier === "special" ? "price_special" : "price_standard"),
  );

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
      const said = {
        ...(typeof reason === "string" ? { reason } : {}),
        ...(typeof day === "string" ? { day } : {}),
      };
      return [[rowLabel("pieces", row), { amount, ...said }]];
    }),
  );
}
