// Rule 9, plainly: what each tier costs, leaves and ought to be priced at, and how many pieces pay; see independent.ts.
import type { Workbook } from "../../src/core/document/workbook";
import { type Cells, inputsOf, numberIn, type Rows } from "./independent-cells";

/** The Results lines on tiers, write-downs and break-even; `known` are the lines calculated before. */
export function recomputePrices(book: Workbook, pieces: Rows, known: Cells): Cells {
  const inputs = inputsOf(book);
  const all = [...pieces.values()];
  const good = all.filter((cells) => cells.outcome === "good");
  const sum = (some: readonly Cells[], key: string) => some.reduce((total, cells) => total + numberIn(cells, key), 0);
  const tiers = ["standard", "special", "second"].map((tier) => tierLines(book, tier, all));
  const full = sum(good, "full") / good.length;
  const own = sum(good, "own") / good.length;
  const worth = sum(good, "contribution") / good.length + full;
  const { fixed_costs: fixed = 0 } = inputs;
  const losses = Math.max(0, numberIn(known, "abnormal") + numberIn(known, "unshared"));
  const others = ["empty_kiln", "overhead_idle", "mould_charged"].map((id) => numberIn(known, id));
  const period = others.reduce((total, one) => total + one, losses);
  const hasGood = good.length > 0;
  return Object.assign({}, ...tiers, {
    worth_good: hasGood ? worth : "",
    own_good: hasGood ? own : "",
    break_even_plain: hasGood ? piecesToPay(fixed, worth - own) : "",
    break_even: hasGood ? piecesToPay(fixed + period, worth - full) : "",
  }) as Cells;
}

/** Counted up one by one, so that nothing is divided. */
function piecesToPay(fixed: number, each: number): number | "never" {
  if (each <= 0) return "never";
  let count = 0;
  while (count * each < fixed - 1e-9) count += 1;
  return count;
}

/** A tier's rate of tax: its own where one was typed. */
export function taxOfTier(book: Workbook, tier: string): number {
  const { [`tax_${tier}`]: own = Number.NaN, tax_rate: all = 0 } = inputsOf(book);
  return Number.isNaN(own) ? all : own;
}

/** Whether prices are typed without tax. */
const areNet = (book: Workbook) =>
  book.sheets.edition.rows.find(({ id }) => id === "prices_are")?.cells.value === "without tax";

/** The price of a tier, as typed, that the buyer pays and that is left without tax. */
export function bothWaysOf(book: Workbook, typed: number, tax: number) {
  return areNet(book) ? { gross: typed + typed * tax, net: typed } : { gross: typed, net: typed / (1 + tax) };
}

/** The next price point, found by trying one after the other. */
function nextPoint(book: Workbook, price: number): number {
  const { price_step: own = 1 } = inputsOf(book);
  const points = String(book.sheets.edition.rows.find(({ id }) => id === "price_points")?.cells.value ?? "none");
  if (points === "none") return price;
  const step = points.startsWith("ends") ? 1 : points.endsWith("own") ? own : Number(points.split(" ").at(-1));
  let point = points.startsWith("ends") ? Number(`0${points.split(" ").at(-1)}`) : 0;
  const first = point;
  for (let count = 1; point < price - 1e-9; count += 1) point = first + count * step;
  return point;
}

/** The price to ask for a cost, and the margin it then leaves. */
export function askedFor(book: Workbook, tier: string, cost: number) {
  const inputs = inputsOf(book);
  const { fee_rate: fee = 0, fee_fixed: fixed = 0, packing = 0, wanted_margin: margin = 0 } = inputs;
  const tax = taxOfTier(book, tier);
  // The price p for which p/(1+tax) − p·fee − fixed − packing − cost is the margin of p/(1+tax).
  const gross = (cost + packing + fixed) / ((1 - margin) / (1 + tax) - fee);
  const price = nextPoint(book, areNet(book) ? gross / (1 + tax) : gross);
  const both = bothWaysOf(book, price, tax);
  return { price, margin: (both.net - both.gross * fee - fixed - packing - cost) / both.net };
}

function tierLines(book: Workbook, tier: string, all: readonly Cells[]): Cells {
  const sold = all.filter((cells) => cells.sold_as === tier);
  const cost = sold.reduce((total, cells) => total + numberIn(cells, "full"), 0) / sold.length;
  const leaves = sold.reduce((total, cells) => total + numberIn(cells, "contribution"), 0);
  const net = sold.reduce((total, cells) => total + numberIn(cells, "net"), 0);
  const hasSold = sold.length > 0;
  const asked = askedFor(book, tier, cost);
  return {
    [`sold_${tier}`]: sold.length,
    [`cost_${tier}`]: hasSold ? cost : "",
    [`leaves_${tier}`]: leaves,
    [`margin_${tier}`]: hasSold && net > 0 ? leaves / net : "",
    [`price_for_${tier}`]: hasSold ? asked.price : "",
    [`margin_at_${tier}`]: hasSold ? asked.margin : "",
  };
}
