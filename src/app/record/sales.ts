// Sales in an open edition: which finished pieces are where, what they are offered at, and what recording would bring.
import { type ChannelTerms, saleAmounts } from "../../accounts/sales";
import { rowOf } from "../../core/document/access";
import type { Row } from "../../core/document/workbook";
import { roundMoney } from "../../core/money";
import { ok, type Result } from "../../core/problem";
import type { RecordPlan } from "../../core/record/record-plan";
import { planSale, type SaleAsked } from "../../core/record/sale-edits";
import { moneyText } from "../edition/money-text";
import type { Session } from "../edition/session";

/** Finished pieces that are in the same place. */
export interface StockGroup {
  readonly name: string;
  readonly pieces: readonly string[];
}

const TIERS = ["standard", "special", "second"] as const;
const TIER_NAMES = { standard: "standard", special: "special", second: "seconds" } as const;
type Tier = (typeof TIERS)[number];

/** The tier a piece is sold as. */
function tierOf({ cells }: Row): Tier {
  return cells.grade === "second" ? "second" : cells.tier === "special" ? "special" : "standard";
}

/** Finished pieces that can be sold: those in stock by tier, then those consigned by channel. */
export function stockGroups(session: Session): readonly StockGroup[] {
  const groups = new Map<string, string[]>(TIERS.map((tier) => [`In stock, ${TIER_NAMES[tier]}`, []]));
  for (const row of session.book.value.sheets.pieces.rows) {
    const { lost_at: lostAt, grade, became, channel } = row.cells;
    if (lostAt !== undefined || grade === undefined || (became !== undefined && became !== "consigned")) continue;
    const name =
      became === "consigned"
        ? `Consigned${channel === undefined ? "" : `, ${channel}`}`
        : `In stock, ${TIER_NAMES[tierOf(row)]}`;
    const held = groups.get(name);
    if (held) held.push(row.id);
    else groups.set(name, [row.id]);
  }
  return [...groups].flatMap(([name, pieces]) => (pieces.length > 0 ? [{ name, pieces }] : []));
}

/** What each piece is offered at, by row id: its own price, otherwise that of its tier, in the currency's digits. */
export function offeredPrices(session: Session, ids: readonly string[]): ReadonlyMap<string, number> {
  return new Map(
    ids.flatMap((id): [string, number][] => {
      const row = rowOf(session.book.value, "pieces", id);
      if (!row) return [];
      const own = session.value({ sheet: "pieces", row: id, column: "own_price" });
      const price = typeof own === "number" ? own : session.result(`price_${tierOf(row)}`, "edition");
      return typeof price === "number" ? [[id, roundMoney(price, session.digits)]] : [];
    }),
  );
}

/** The terms of a channel as the sheets show them; those of the Edition sheet for one that is new, or where there is none. */
function termsOf(session: Session, name: unknown): ChannelTerms {
  const channel = session.book.value.sheets.channels.rows.find((row) => row.cells.id === name);
  const of = (term: string) => {
    const value = channel
      ? session.value({ sheet: "channels", row: channel.id, column: term })
      : session.result(term, "edition");
    return typeof value === "number" ? value : 0;
  };
  return {
    ...{ taxRate: of("tax_rate"), feeRate: of("fee_rate"), feeFixed: of("fee_fixed") },
    ...{ commission: channel ? of("commission") : 0, packing: of("packing") },
  };
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
  let [paid, left, cost] = [0, 0, 0];
  for (const id of plan.value.takes) {
    const held = rowOf(session.book.value, "pieces", id)?.cells;
    const price = prices.get(id) ?? held?.paid;
    const amount = typeof price === "number" ? price : 0;
    const { net, fees, packing } = saleAmounts(amount, termsOf(session, channels.get(id) ?? held?.channel));
    const full = session.value({ sheet: "pieces", row: id, column: "full" });
    paid += amount;
    left += net - fees - packing;
    cost += typeof full === "number" ? full : 0;
  }
  if (plan.value.takes.length === 0) return plan;
  const money = (amount: number) => moneyText(session, amount);
  const leaves = left - cost;
  const says = `Together ${money(paid)}. After tax, fees and packing ${money(left)}; the pieces cost ${money(cost)}, so they leave ${money(leaves)}`;
  return ok({ ...plan.value, says: [...plan.value.says, says] });
}
