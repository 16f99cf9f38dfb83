// Sales in an open edition: which finished pieces are where, what they are offered at, and what recording would bring.
import { netPrice, type TaxedPrice } from "../../accounts/price";
import { saleAmounts } from "../../accounts/sales";
import { rowOf } from "../../core/document/access";
import type { Row } from "../../core/document/workbook";
import { roundMoney } from "../../core/money";
import { ok, type Result } from "../../core/problem";
import type { RecordPlan } from "../../core/record/record-plan";
import { planSale, type SaleAsked } from "../../core/record/sale-edits";
import { moneyText } from "../edition/money-text";
import type { Session } from "../edition/session";
import { readerOf } from "../settle/cell-reader";
import { channelTerms, offeredPrice, soldAs, typedPrice } from "../settle/price-terms";

/** Finished pieces that are in the same place. */
export interface StockGroup {
  readonly name: string;
  readonly pieces: readonly string[];
}

const TIER_NAMES = { standard: "standard", special: "special", second: "seconds" } as const;

/** Where finished pieces in stock stand by their tier. */
const inStock = (tier: keyof typeof TIER_NAMES) => `In stock, ${TIER_NAMES[tier]}`;

/** Finished pieces that can be sold: those in stock by tier, then those consigned by channel. */
export function stockGroups(session: Session): readonly StockGroup[] {
  const groups = new Map<string, string[]>(
    (["standard", "special", "second"] as const).map((tier) => [inStock(tier), []]),
  );
  for (const row of session.book.value.sheets.pieces.rows) {
    const { lost_at: lostAt, grade, became, channel } = row.cells;
    if (lostAt !== undefined || grade === undefined || (became !== undefined && became !== "consigned")) continue;
    const name =
      became === "consigned" ? `Consigned${channel === undefined ? "" : `, ${channel}`}` : inStock(soldAs(row));
    const held = groups.get(name);
    if (held) held.push(row.id);
    else groups.set(name, [row.id]);
  }
  return [...groups].flatMap(([name, pieces]) => (pieces.length > 0 ? [{ name, pieces }] : []));
}

/** The terms under which a piece is sold through a channel, by its name; that in which it is consigned where none is said. */
function termsOf(session: Session, piece: Row, channel: string | undefined) {
  const { rows } = session.book.value.sheets.channels;
  const kept = piece.cells.became === "consigned" ? piece.cells.channel : undefined;
  const row = rows.find(({ cells }) => cells.id === (channel ?? kept));
  return channelTerms(row, soldAs(piece), readerOf(session));
}

/** What the buyer pays for each piece, by row id, in the currency's digits: at a price as it is typed, or as it is offered. */
export function pricesToPay(
  session: Session,
  ids: readonly string[],
  typed: number | undefined,
  channel: string | undefined,
): ReadonlyMap<string, TaxedPrice> {
  const read = readerOf(session);
  return new Map(
    ids.flatMap((id): [string, TaxedPrice][] => {
      const row = rowOf(session.book.value, "pieces", id);
      const price = row && (typed ?? offeredPrice(row, read));
      if (!row || price === undefined) return [];
      const terms = termsOf(session, row, channel);
      const gross = roundMoney(typedPrice(read, price, terms).gross, session.digits);
      return [[id, { gross, net: roundMoney(netPrice(gross, terms.taxRate), session.digits) }]];
    }),
  );
}

/** What recording it would do; of a sale also what it brings in, and what is left of that. */
export function planAskedSale(session: Session, pieces: readonly string[], asked: SaleAsked): Result<RecordPlan> {
  const plan = planSale(session.book.value, pieces, asked);
  if (!plan.ok || asked.became !== "sold") return plan;
  const written = (column: string) =>
    new Map(
      plan.value.operations.flatMap((one) =>
        one.kind === "cell" && one.column === column ? [[one.row, one.is] as const] : [],
      ),
    );
  const [prices, channels] = [written("paid"), written("channel")];
  const terms = new Map(session.book.value.sheets.channels.rows.map((row) => [row.cells.id, row]));
  const read = readerOf(session);
  let [paid, tax, left, cost] = [0, 0, 0, 0];
  for (const id of plan.value.takes) {
    const piece = rowOf(session.book.value, "pieces", id);
    if (!piece) continue;
    const price = prices.get(id) ?? piece.cells.paid;
    const amount = typeof price === "number" ? price : 0;
    const channel = terms.get(channels.get(id) ?? piece.cells.channel);
    const { net, tax: ofIt, fees, packing } = saleAmounts(amount, channelTerms(channel, soldAs(piece), read));
    const full = session.value({ sheet: "pieces", row: id, column: "full" });
    paid += amount;
    tax += ofIt;
    left += net - fees - packing;
    cost += typeof full === "number" ? full : 0;
  }
  if (plan.value.takes.length === 0) return plan;
  const money = (amount: number) => moneyText(session, amount);
  const leaves = left - cost;
  const says = `Together ${money(paid)}, with ${money(tax)} of tax in it. After tax, fees and packing ${money(left)}; the pieces cost ${money(cost)}, so they leave ${money(leaves)}`;
  return ok({ ...plan.value, says: [...plan.value.says, says] });
}
