// What was sold, by plain loops: a piece brings in what was paid for it, less what its channel takes; see independent.ts.
import type { Row, Workbook } from "../../src/core/document/workbook";
import { type Cells, inputsOf, numberIn, type Rows, typedNumber } from "./independent-cells";
import { bothWaysOf, taxOfTier } from "./independent-prices";

/** What a sale gives up: the channel's own terms where it has them, the Edition's otherwise. */
interface Terms {
  readonly tax: number;
  readonly fee: number;
  readonly fixed: number;
  readonly commission: number;
  readonly packing: number;
}

function termsOf(book: Workbook, channel: Row | undefined, tier: string): Terms {
  const { fee_rate: fee = 0, fee_fixed: fixed = 0, packing = 0 } = inputsOf(book);
  return {
    tax: typedNumber(channel, "tax_rate", taxOfTier(book, tier)),
    fee: typedNumber(channel, "fee_rate", fee),
    fixed: typedNumber(channel, "fee_fixed", fixed),
    commission: typedNumber(channel, "commission", 0),
    packing: typedNumber(channel, "packing", packing),
  };
}

const channelOf = (book: Workbook, piece: Row) =>
  book.sheets.channels.rows.find((row) => row.cells.id === piece.cells.channel);

/** State, price and what a piece leaves; `full` and `outcome` are known. */
export function sellPiece(book: Workbook, piece: Row, cells: Cells): void {
  const became = String(piece.cells.became ?? "");
  const isFinished = cells.outcome === "good" || cells.outcome === "second";
  cells.stock = isFinished ? (became === "" ? "in stock" : became) : became === "" ? "" : "not finished";
  cells.sold_through = cells.stock === "sold" ? String(piece.cells.channel ?? "") : "";
  cells.sold_as = !isFinished ? "" : cells.outcome === "second" ? "second" : String(piece.cells.tier ?? "standard");
  if (!isFinished) {
    for (const key of ["tax_rate", "price", "net", "sale_cost", "contribution"]) cells[key] = "";
    return;
  }
  const asked = typedNumber(piece, "own_price", inputsOf(book)[`price_${cells.sold_as}`]);
  const tier = String(cells.sold_as);
  const { tax, fee, fixed, commission, packing } = termsOf(book, channelOf(book, piece), tier);
  cells.tax_rate = tax;
  const isStock = cells.stock === "in stock" || cells.stock === "consigned";
  const brings = isStock || cells.stock === "sold";
  const offered = bothWaysOf(book, asked, tax).gross;
  const price = !brings ? 0 : isStock ? offered : typedNumber(piece, "paid", offered);
  const net = price / (1 + tax);
  const cost = brings ? price * fee + net * commission + fixed + packing : 0;
  const full = numberIn(cells, "full");
  Object.assign(cells, { price, net, sale_cost: cost, contribution: net - cost - full });
}

/** What a piece that is not sold will fetch, and at what it is carried; the plan's columns of the route are known. */
export function valuePiece(book: Workbook, piece: Row, cells: Cells, route: Rows): void {
  const isWaiting = cells.outcome === "in progress";
  const isStock = cells.stock === "in stock" || cells.stock === "consigned";
  const tier = piece.cells.tier === "special" ? "special" : "standard";
  const last = book.sheets.route.rows.find((step) => Number(step.cells.order) === cells.reached);
  const stage = route.get(last?.id ?? "");
  const kind = tier === "special" ? "special" : "all";
  cells.to_finish = isWaiting ? numberIn(stage, `finish_${kind}`) : "";
  const asked = typedNumber(piece, "own_price", inputsOf(book)[`price_${tier}`]);
  const { tax, fee, fixed, packing } = termsOf(book, undefined, tier);
  const { net, gross } = bothWaysOf(book, asked, tax);
  const brings = net - gross * fee - fixed - packing;
  cells.may_bring = isWaiting && asked !== 0 ? brings * numberIn(stage, `comes_${kind}`) : "";
  cells.fetches = "";
  if (isStock) cells.fetches = numberIn(cells, "net") - numberIn(cells, "sale_cost");
  if (cells.may_bring !== "") cells.fetches = Number(cells.may_bring) - Number(cells.to_finish);
  cells.carried = "";
  if (typeof cells.full !== "number" || (cells.stock !== "" && cells.stock !== "not finished" && !isStock)) return;
  cells.carried = Math.max(0, cells.full - typedNumber(piece, "down_by"));
  if (cells.fetches !== "") cells.carried = Math.min(cells.carried, Math.max(0, Number(cells.fetches)));
}

/** What was sold through each channel, and its terms. */
export function recomputeChannels(book: Workbook, pieces: Rows): Rows {
  return new Map(
    book.sheets.channels.rows.map((row): [string, Cells] => {
      const own = [...pieces.values()].filter((cells) => cells.sold_through === row.cells.id);
      const sum = (key: string) => own.reduce((total, cells) => total + numberIn(cells, key), 0);
      const { fee, fixed, commission, packing } = termsOf(book, row, "standard");
      const terms = { fee_rate: fee, fee_fixed: fixed, commission, packing };
      return [
        row.id,
        { ...terms, sold: own.length, brought: sum("net"), took: sum("sale_cost"), left: sum("contribution") },
      ];
    }),
  );
}

/** The Results lines on sales, stock, and pieces that went otherwise. */
export function recomputeSales(pieces: Rows) {
  const states = (...names: readonly string[]) =>
    [...pieces.values()].filter(({ stock }) => names.includes(String(stock)));
  const sum = (some: readonly Cells[], key: string) => some.reduce((total, cells) => total + numberIn(cells, key), 0);
  const sold = states("sold");
  const stock = states("in stock", "consigned");
  const gone = states("given away", "kept", "broken");
  const brings = sum(stock, "net") - sum(stock, "sale_cost");
  const waiting = [...pieces.values()].filter(({ outcome }) => outcome === "in progress");
  const waitingDown = sum(waiting, "full") - sum(waiting, "carried");
  return {
    progress_finish: sum(waiting, "to_finish"),
    progress_fetch: sum(waiting, "fetches"),
    progress_carried: sum(waiting, "carried"),
    progress_down: waitingDown,
    sold: sold.length,
    sold_price: sum(sold, "price"),
    sold_net: sum(sold, "net"),
    sold_fees: sum(sold, "sale_cost"),
    sold_cost: sum(sold, "full"),
    sold_leaves: sum(sold, "contribution"),
    in_stock: stock.length,
    stock_cost: sum(stock, "full"),
    stock_carried: sum(stock, "carried"),
    stock_brings: brings,
    stock_leaves: brings - sum(stock, "carried"),
    gone: gone.length,
    gone_cost: sum(gone, "full"),
    write_down: sum(stock, "full") - sum(stock, "carried") + waitingDown,
  };
}
