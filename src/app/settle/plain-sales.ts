// What became of the finished pieces, as plain records, and what of it the sheets show in another way.
import type { EditionCosts } from "../../accounts/edition-costs";
import { type ChannelTerms, type PlainSale, saleAmounts } from "../../accounts/sales";
import { rowLabel } from "../../core/document/access";
import type { Row, Workbook } from "../../core/document/workbook";
import { BECAME } from "../../core/sheets/pieces-sheet";
import type { ReadCell } from "./plain-from-sheets";

/** What became of each piece of which something was said, in the order of the sheet. */
export function plainSalesOf(book: Workbook, read: ReadCell): readonly PlainSale[] {
  const channels = new Map(book.sheets.channels.rows.map((row) => [row.cells.id, row]));
  return book.sheets.pieces.rows.flatMap((row): PlainSale[] => {
    const became = BECAME.find((one) => one === row.cells.became);
    if (!became) return [];
    const { became_on: day, channel, document } = row.cells;
    return [
      {
        ...{ piece: rowLabel("pieces", row), became, price: pricePaid(row, read) },
        terms: channelTerms(channels.get(channel), read),
        ...(typeof day === "string" ? { day } : {}),
        ...(typeof channel === "string" ? { channel } : {}),
        ...(typeof document === "string" ? { document } : {}),
      },
    ];
  });
}

const numberOf = (value: unknown) => (typeof value === "number" ? value : undefined);

/** The tier a piece is sold as. */
export function soldAs({ cells }: Row): "standard" | "special" | "second" {
  return cells.grade === "second" ? "second" : cells.tier === "special" ? "special" : "standard";
}

/** What a piece is offered at: its own price, otherwise that of its tier. */
export function offeredPrice(row: Row, read: ReadCell): number | undefined {
  return numberOf(read("pieces", row.id, "own_price")) ?? numberOf(read("edition", `price_${soldAs(row)}`, "value"));
}

/** What was paid, or what it was offered at where that is not said. */
const pricePaid = (row: Row, read: ReadCell) =>
  numberOf(read("pieces", row.id, "paid")) ?? offeredPrice(row, read) ?? 0;

/** The terms of a channel as the sheets have them; those of the Edition sheet for one that is new, or where there is none. */
export function channelTerms(channel: Row | undefined, read: ReadCell): ChannelTerms {
  const of = (name: string) =>
    numberOf(channel ? read("channels", channel.id, name) : read("edition", name, "value")) ?? 0;
  return {
    ...{ taxRate: of("tax_rate"), feeRate: of("fee_rate"), feeFixed: of("fee_fixed") },
    ...{ commission: channel ? of("commission") : 0, packing: of("packing") },
  };
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
