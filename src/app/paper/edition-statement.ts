// The edition statement: what the edition came to, on one paper. Money is rounded once; every total is the sum of what
// stands above it.

import { emptyFiringsTotal } from "../../accounts/journal";
import { lossTable } from "../../accounts/loss-table";
import { sumOfSales } from "../../accounts/sales";
import type { StatementRow } from "../../accounts/statement";
import { rowLabel } from "../../core/document/access";
import { toMinorUnits } from "../../core/money";
import { ok, type Result } from "../../core/problem";
import { showNumber } from "../edition/format";
import { lossRule } from "../settle/loss-rule";
import type { Settled } from "../settle/settle";
import { type Fact, factsOf, type PaperSource, withUnit } from "./source";

/** How many pieces came to what. */
interface Count {
  readonly label: string;
  readonly pieces: number;
}

/** A tier as it was or may be sold: `leaves` = `bringsIn` − `cost`, in whole minor units. */
export interface TierLine {
  readonly tier: string;
  readonly pieces: number;
  /** Prices without tax, fees and packing. */
  readonly bringsIn: number;
  readonly cost: number;
  readonly leaves: number;
}

/** What was lost at a step, less clay and scrap, in whole minor units: `together` = `normal` + `abnormal`. */
export interface LossLine {
  readonly title: string;
  readonly entered: number;
  readonly lost: number;
  readonly normal: number;
  readonly abnormal: number;
  readonly together: number;
}

export interface EditionStatement {
  readonly digits: number;
  readonly counts: readonly Count[];
  readonly started: number;
  readonly statement: readonly StatementRow[];
  readonly tiers: readonly TierLine[];
  readonly allTiers: TierLine;
  readonly losses: readonly LossLine[];
  readonly allLosses: LossLine;
  /** What is normal, what abnormal, and who bears it. */
  readonly lossRule: string;
  /** From what sales leave to whether the edition paid, and what the stock may still add. */
  readonly pays: readonly StatementRow[];
  readonly quantities: readonly Fact[];
}

/** The statement of a settled edition. */
export function editionStatement(source: PaperSource, settled: Settled): Result<EditionStatement> {
  const tiers = tierLines(source, settled);
  if (!tiers.ok) return tiers;
  const losses = lossLines(source, settled);
  const allTiers = together(tiers.value);
  const pays = payLines(source, settled, allTiers.leaves);
  if (!pays.ok) return pays;
  const { count } = settled.costs.totals;
  const counts: readonly Count[] = [
    { label: "Good", pieces: count.good },
    { label: "Seconds", pieces: count.second },
    { label: "In progress", pieces: count["in progress"] },
    ...(count["not started"] > 0 ? [{ label: "Not started", pieces: count["not started"] }] : []),
    { label: "Lost", pieces: count.lost },
  ];
  return ok({
    ...{ digits: settled.ledger.digits, counts, started: settled.costs.pieces.length },
    statement: settled.statement.filter((row) => row.minor !== 0 || row.kind === "total"),
    ...{
      tiers: tiers.value,
      allTiers,
      losses,
      allLosses: allLost(losses),
      lossRule: lossRule(settled.edition.lossRuns),
    },
    ...{ pays: pays.value, quantities: quantities(source) },
  });
}

const TIERS = ["standard", "special", "second"] as const;

/** Finished pieces by the tier they are sold as, those in stock at their prices: cost as the books have it, what they bring in rounded piece by piece together. */
function tierLines(source: PaperSource, { ledger }: Settled): Result<readonly TierLine[]> {
  const minors = new Map([...ledger.good, ...ledger.seconds].map(({ piece, minor }) => [piece, minor]));
  const sums = new Map<string, { pieces: number; brings: number; cost: number }>();
  for (const row of source.book.sheets.pieces.rows) {
    const read = (column: string) => source.read("pieces", row.id, column);
    const [tier, full, leaves] = [read("sold_as"), read("full"), read("contribution")];
    if (typeof tier !== "string" || typeof full !== "number" || typeof leaves !== "number") continue;
    const held = sums.get(tier) ?? { pieces: 0, brings: 0, cost: 0 };
    const cost = held.cost + (minors.get(rowLabel("pieces", row)) ?? 0);
    sums.set(tier, { pieces: held.pieces + 1, brings: held.brings + full + leaves, cost });
  }
  const lines: TierLine[] = [];
  for (const tier of TIERS) {
    const sum = sums.get(tier);
    if (!sum) continue;
    const bringsIn = toMinorUnits(sum.brings, ledger.digits);
    if (!bringsIn.ok) return bringsIn;
    const { pieces, cost } = sum;
    lines.push({ tier, pieces, bringsIn: bringsIn.value, cost, leaves: bringsIn.value - cost });
  }
  return ok(lines);
}

function together(lines: readonly TierLine[]): TierLine {
  const sum = (of: (line: TierLine) => number) => lines.reduce((total, line) => total + of(line), 0);
  return {
    tier: "all",
    pieces: sum(({ pieces }) => pieces),
    bringsIn: sum(({ bringsIn }) => bringsIn),
    cost: sum(({ cost }) => cost),
    leaves: sum(({ leaves }) => leaves),
  };
}

/** Steps that lost a piece. */
function lossLines(source: PaperSource, settled: Settled): readonly LossLine[] {
  const rows = source.book.sheets.route.rows;
  return lossTable(settled.costs, settled.ledger)
    .filter(({ step }) => step.lost > 0)
    .map(({ step: { id, entered, lost }, normal, abnormal }) => {
      const row = rows.find((one) => one.id === id);
      const title = row ? rowLabel("route", row) : id;
      return { title, entered, lost, normal, abnormal, together: normal + abnormal };
    });
}

function allLost(lines: readonly LossLine[]): LossLine {
  const sum = (of: (line: LossLine) => number) => lines.reduce((total, line) => total + of(line), 0);
  return {
    ...{ title: "Together", entered: 0, lost: sum(({ lost }) => lost) },
    normal: sum(({ normal }) => normal),
    abnormal: sum(({ abnormal }) => abnormal),
    together: sum((line) => line.together),
  };
}

/** From what sales leave to what the edition made; then what the stock would leave at its prices. */
function payLines(source: PaperSource, settled: Settled, leaves: number): Result<readonly StatementRow[]> {
  const { ledger, sales, inventory } = settled;
  const typed = source.read("edition", "fixed_costs", "value");
  const fixed = toMinorUnits(typeof typed === "number" ? typed : 0, ledger.digits);
  if (!fixed.ok) return fixed;
  const sold = (of: Parameters<typeof sumOfSales>[1]) => sumOfSales(sales, of, "sold");
  const left = sold("netMinor") - sold("feesMinor") - sold("packingMinor") - sold("costMinor");
  const gone = sumOfSales(sales, "costMinor", "given away", "kept", "broken");
  const { finished, seconds, consigned } = inventory.writeDowns;
  const written = finished + seconds + consigned;
  const taken: readonly StatementRow[] = [
    { label: "Pieces given away, kept or broken", kind: "deduction", minor: gone },
    { label: "Finished stock carried below cost", kind: "deduction", minor: written },
    { label: "Abnormal loss", kind: "deduction", minor: ledger.abnormal },
    { label: "Planned loss that no piece can bear", kind: "deduction", minor: ledger.unsharedNormal },
    { label: "Firings with nothing in them", kind: "deduction", minor: emptyFiringsTotal(ledger.emptyFirings) },
    { label: "Overhead that no hour carries", kind: "deduction", minor: ledger.besides.idleOverhead },
    { label: "Left in the moulds and charged", kind: "deduction", minor: ledger.besides.mouldsCharged },
    { label: "Design and model-making", kind: "deduction", minor: fixed.value },
  ];
  const minor = taken.reduce((rest, row) => rest - row.minor, left);
  const isSold = sales.some(({ became }) => became === "sold");
  // What all finished pieces leave, sold or not, less what the sold ones and the others leave, is the stock's.
  const stock = leaves - left + gone + written;
  const paid = minor < 0 ? "Not paid yet" : "The edition has paid";
  return ok([
    { label: isSold ? "Sales leave" : "Sales leave: nothing is sold yet", kind: "part", minor: left },
    ...taken.filter((row) => row.minor !== 0),
    { label: isSold ? paid : "Made so far", kind: "total", minor },
    ...(inventory.lines.some(({ group }) => group !== "inProgress")
      ? ([
          { label: "Stock, beyond what it is carried at, if sold at its prices", kind: "part", minor: stock },
          { label: "Once the stock is sold", kind: "total", minor: minor + stock },
        ] as const)
      : []),
  ]);
}

/** Yields and what was used, from the Results sheet. */
function quantities(source: PaperSource): readonly Fact[] {
  const number = (id: string) => {
    const value = source.read("results", id, "value");
    return typeof value === "number" ? value : undefined;
  };
  const percent = (id: string) => {
    const value = number(id);
    return value === undefined ? undefined : `${showNumber(value * 100, 1, 1, source.locale)}\u202f%`;
  };
  const amount = (id: string, unit: string, digits: number) => {
    const value = number(id);
    return value ? withUnit(source, value, unit, digits, digits) : undefined;
  };
  return factsOf([
    ["First-pass yield", percent("first_pass")],
    ["Final yield", percent("final_yield")],
    ["Saleable yield", percent("saleable")],
    ["Labour", amount("hours", "h", 1)],
    ["Kiln energy", amount("kwh", "kWh", 0)],
    ["Lustre used", amount("lustre", "g", 2)],
    ["Fine metal in it", amount("fine", "g", 3)],
  ]);
}
