// Rule 9, plainly: what each tier costs, leaves and ought to be priced at, and how many pieces pay; see independent.ts.
import type { Workbook } from "../../src/core/document/workbook";
import { type Cells, inputsOf, numberIn, type Rows } from "./independent-cells";

/** The Results lines on tiers, write-downs and break-even; `known` are the lines calculated before. */
export function recomputePrices(book: Workbook, pieces: Rows, known: Cells): Cells {
  const inputs = inputsOf(book);
  const all = [...pieces.values()];
  const good = all.filter((cells) => cells.outcome === "good");
  const sum = (some: readonly Cells[], key: string) => some.reduce((total, cells) => total + numberIn(cells, key), 0);
  const tiers = ["standard", "special", "second"].map((tier) => tierLines(tier, all, inputs));
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

function tierLines(tier: string, all: readonly Cells[], inputs: Readonly<Record<string, number>>): Cells {
  const { tax_rate: tax = 0, fee_rate: fee = 0, fee_fixed: fixed = 0, packing = 0, wanted_margin: margin = 0 } = inputs;
  const sold = all.filter((cells) => cells.sold_as === tier);
  const cost = sold.reduce((total, cells) => total + numberIn(cells, "full"), 0) / sold.length;
  const leaves = sold.reduce((total, cells) => total + numberIn(cells, "contribution"), 0);
  const net = sold.reduce((total, cells) => total + numberIn(cells, "net"), 0);
  const hasSold = sold.length > 0;
  // The price p for which p/(1+tax) − p·fee − fixed − packing − cost is the margin of p/(1+tax).
  const price = (cost + packing + fixed) / ((1 - margin) / (1 + tax) - fee);
  return {
    [`sold_${tier}`]: sold.length,
    [`cost_${tier}`]: hasSold ? cost : "",
    [`leaves_${tier}`]: leaves,
    [`margin_${tier}`]: hasSold && net > 0 ? leaves / net : "",
    [`price_for_${tier}`]: hasSold ? price : "",
  };
}
