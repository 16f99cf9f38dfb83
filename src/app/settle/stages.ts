// Pieces in progress by the step they have reached: what each still takes, what it will fetch, and what is written down.
import type { EditionCosts } from "../../accounts/edition-costs";
import type { HandWriteDown } from "../../accounts/inventory";
import { netFetch } from "../../accounts/net-fetch";
import type { PlainEdition } from "../../accounts/plain-edition";
import { fetchedWhenFinished, type ToFinish, toFinish } from "../../accounts/to-finish";
import { rowLabel } from "../../core/document/access";
import type { Row, Workbook } from "../../core/document/workbook";
import type { ReadCell } from "./plain-from-sheets";
import { plannedStepsOf } from "./planned-steps";

/** A piece in progress at its stage. */
export interface PieceStage {
  /** Row id on Pieces, and the piece's number. */
  readonly row: string;
  readonly piece: string;
  readonly isSpecial: boolean;
  /** Route row of the last step that it has had. */
  readonly step: string;
  readonly toFinish: ToFinish;
  /** What it will fetch less that and the costs to sell it; undefined where its tier has no price. */
  readonly fetches: number | undefined;
}

/** Every piece in progress, in the order of the sheet. */
export function stagesOf(
  book: Workbook,
  read: ReadCell,
  edition: PlainEdition,
  { pieces }: EditionCosts,
): readonly PieceStage[] {
  const planned = plannedStepsOf(book, read);
  const known = new Map<string, ToFinish>();
  const comes = (reached: number, isSpecial: boolean) => {
    const key = `${reached} ${isSpecial}`;
    const held = known.get(key) ?? toFinish(planned, reached, isSpecial);
    known.set(key, held);
    return held;
  };
  return book.sheets.pieces.rows.flatMap((row, at): PieceStage[] => {
    const cost = pieces[at];
    if (cost?.outcome !== "in progress" || cost.reached === undefined) return [];
    const isSpecial = row.cells.tier === "special";
    const still = comes(cost.reached, isSpecial);
    const net = edition.pieces[at]?.fetches ?? netOfTier(read, isSpecial);
    const hasPrice = offered(row, read, isSpecial) > 0;
    return [
      {
        ...{ row: row.id, piece: rowLabel("pieces", row), isSpecial },
        ...{ step: planned.find(({ order }) => order === cost.reached)?.id ?? "", toFinish: still },
        fetches: hasPrice ? fetchedWhenFinished(net, still) : undefined,
      },
    ];
  });
}

const numberOr = (value: unknown, other: number) => (typeof value === "number" ? value : other);
const line = (read: ReadCell, id: string) => numberOr(read("edition", id, "value"), 0);
const priceLine = (isSpecial: boolean) => (isSpecial ? "price_special" : "price_standard");

/** Its own price, otherwise that of the tier it is meant for. */
const offered = (row: Row, read: ReadCell, isSpecial: boolean) =>
  numberOr(read("pieces", row.id, "own_price"), line(read, priceLine(isSpecial)));

function netOfTier(read: ReadCell, isSpecial: boolean): number {
  const [feeRate = 0, feeFixed = 0, taxRate = 0] = ["fee_rate", "fee_fixed", "tax_rate"].map((id) => line(read, id));
  return netFetch(line(read, priceLine(isSpecial)), { feeRate, feeFixed, taxRate }, line(read, "packing"));
}

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
