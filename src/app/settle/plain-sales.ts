// What became of the finished pieces, as plain records, and what of it the sheets show in another way.
import type { PieceOffer } from "../../accounts/as-of";
import type { EditionCosts } from "../../accounts/edition-costs";
import { type PlainSale, saleAmounts } from "../../accounts/sales";
import { rowLabel } from "../../core/document/access";
import { consignedOn } from "../../core/document/consigned-day";
import type { Workbook } from "../../core/document/workbook";
import { BECAME } from "../../core/sheets/pieces-sheet";
import type { ReadCell } from "./cell-reader";
import { channelTerms, offeredGross, pricePaid, soldAs } from "./price-terms";

/** What became of each piece of which something was said, in the order of the sheet. */
export function plainSalesOf(book: Workbook, read: ReadCell): readonly PlainSale[] {
  const channels = new Map(book.sheets.channels.rows.map((row) => [row.cells.id, row]));
  return book.sheets.pieces.rows.flatMap((row): PlainSale[] => {
    const became = BECAME.find((one) => one === row.cells.became);
    if (!became) return [];
    const { became_on: day, channel, document } = row.cells;
    const terms = channelTerms(channels.get(channel), soldAs(row), read);
    const since = consignedOn(row);
    return [
      {
        ...{ piece: rowLabel("pieces", row), became, price: pricePaid(row, read, terms) ?? 0, terms },
        ...(typeof day === "string" ? { day } : {}),
        ...(typeof channel === "string" ? { channel } : {}),
        ...(typeof document === "string" ? { document } : {}),
        ...(became === "consigned" || since === undefined
          ? {}
          : {
              consigned: {
                ...{ day: since, terms, price: offeredGross(row, read, terms) ?? 0 },
                ...(typeof channel === "string" ? { channel } : {}),
              },
            }),
      },
    ];
  });
}

/** What finished pieces are offered at, by piece number, and through which terms, as long as they are in stock. */
export function pieceOffers(book: Workbook, read: ReadCell): ReadonlyMap<string, PieceOffer> {
  const channels = new Map(book.sheets.channels.rows.map((row) => [row.cells.id, row]));
  return new Map(
    book.sheets.pieces.rows.flatMap((row): [string, PieceOffer][] => {
      // The channel of a piece that was sold says nothing of the days before.
      const channel = row.cells.became === undefined ? channels.get(row.cells.channel) : undefined;
      const terms = channelTerms(channel, soldAs(row), read);
      const price = offeredGross(row, read, terms);
      return row.cells.grade === undefined || price === undefined ? [] : [[rowLabel("pieces", row), { price, terms }]];
    }),
  );
}

/** What is summed on the Results sheet of sales, calculated by plain loops at full precision. */
export function saleLines(
  sales: readonly PlainSale[],
  costs: EditionCosts,
): readonly (readonly [line: string, title: string, calculated: number])[] {
  const finished = costs.pieces.filter(({ outcome }) => outcome === "good" || outcome === "second");
  const fullOf = new Map(finished.map((piece) => [piece.id, piece.full ?? 0]));
  let [net, fees, cost, gone] = [0, 0, 0, 0];
  for (const sale of sales) {
    const full = fullOf.get(sale.piece);
    if (full === undefined || sale.became === "consigned") continue;
    if (sale.became !== "sold") {
      gone += full;
      continue;
    }
    const amounts = saleAmounts(sale.price, sale.terms);
    net += amounts.net;
    fees += amounts.fees + amounts.packing;
    cost += full;
  }
  return [
    ["sold_net", "Sold, without tax", net],
    ["sold_fees", "Fees, commission and packing", fees],
    ["sold_cost", "Cost of sales", cost],
    ["gone_cost", "Cost of pieces given away, kept or broken", gone],
  ];
}
