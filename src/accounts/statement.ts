// The cost statement: what was put in, what it was spent on, and what it turned into.
import { toDecimal } from "../core/money";
import { fail, ok, type Problem, type Result } from "../core/problem";
import { roundTogether } from "./allocate";
import { need, needFromZero } from "./checks";
import { emptyFiringsTotal } from "./journal";
import type { Ledger } from "./ledger";
import { type SaleMinor, sumOfSales } from "./sales";

/** How much of one material was used, and what it cost. */
export interface MaterialUse {
  readonly material: string;
  readonly isMetal: boolean;
  readonly grams: number;
  /** Pure metal in it; 0 where it is none. */
  readonly fineGrams: number;
  readonly cost: number;
}

/** `part` adds to the total that follows, `deduction` is taken off it, `note` is shown within another row and is not added. */
type RowKind = "part" | "deduction" | "total" | "note";

export interface StatementRow {
  readonly label: string;
  readonly kind: RowKind;
  readonly minor: number;
  readonly grams?: number;
  readonly fineGrams?: number;
}

/** The statement row by row; the uses must add up to the ledger's material and metal, or be left out. */
export function costStatement(
  ledger: Ledger,
  uses: readonly MaterialUse[] = [],
  sales: readonly SaleMinor[] = [],
): Result<readonly StatementRow[]> {
  const problems = uses.flatMap(useProblems);
  if (problems.length > 0) return fail(...problems);
  const material = materialRows(
    "Materials",
    ledger.putIn.material,
    uses.filter((use) => !use.isMetal),
    ledger.digits,
  );
  const metal = materialRows(
    "Precious metal",
    ledger.putIn.metal,
    uses.filter((use) => use.isMetal),
    ledger.digits,
  );
  if (!material.ok) return material;
  if (!metal.ok) return metal;
  return ok([...material.value, ...metal.value, ...otherRows(ledger, sales)]);
}

function otherRows(ledger: Ledger, sales: readonly SaleMinor[]): readonly StatementRow[] {
  const { putIn, emptyFirings, besides } = ledger;
  return [
    { label: "Moulds", kind: "part", minor: putIn.mouldWear },
    { label: "Labour on pieces", kind: "part", minor: putIn.labour },
    { label: "Labour at the kiln", kind: "part", minor: putIn.loadingLabour },
    { label: "Overhead", kind: "part", minor: putIn.overhead },
    { label: "Overhead of loading", kind: "part", minor: putIn.loadingOverhead },
    { label: "Kiln energy", kind: "part", minor: putIn.energy },
    { label: "Kiln wear", kind: "part", minor: putIn.kilnWear },
    { label: "Everything put in", kind: "total", minor: ledger.putInTotal },
    { label: "Clay won back", kind: "deduction", minor: ledger.reclaimed },
    { label: "Scrap of lost pieces", kind: "deduction", minor: ledger.scrap },
    { label: "Abnormal loss, a cost of the period", kind: "deduction", minor: ledger.abnormal },
    { label: "Planned loss that no piece can bear", kind: "deduction", minor: ledger.unsharedNormal },
    { label: "In progress", kind: "deduction", minor: ledger.inProgressTotal },
    { label: "Cost of finished pieces", kind: "total", minor: ledger.goodTotal + ledger.secondsTotal },
    { label: "of which good pieces", kind: "note", minor: ledger.goodTotal },
    { label: "of which seconds", kind: "note", minor: ledger.secondsTotal },
    { label: "Cost of sales", kind: "note", minor: sumOfSales(sales, "costMinor", "sold") },
    {
      label: "Cost of pieces given away, kept or broken",
      kind: "note",
      minor: sumOfSales(sales, "costMinor", "given away", "kept", "broken"),
    },
    { label: "Normal loss within the pieces", kind: "note", minor: ledger.normalInPieces },
    {
      label: "Firings with nothing in them, a cost of the period",
      kind: "note",
      minor: emptyFiringsTotal(emptyFirings),
    },
    { label: "Overhead that no hour carries, a cost of the period", kind: "note", minor: besides.idleOverhead },
    { label: "Left in the moulds", kind: "note", minor: besides.mouldsLeft },
    { label: "of which charged to the period", kind: "note", minor: besides.mouldsCharged },
  ];
}

function materialRows(
  label: string,
  totalMinor: number,
  uses: readonly MaterialUse[],
  digits: number,
): Result<readonly StatementRow[]> {
  if (uses.length === 0) return ok([{ label, kind: "part", minor: totalMinor }]);
  const rounded = roundTogether(
    uses.map((use) => toDecimal(use.cost, digits + 1)),
    digits,
    totalMinor,
  );
  if (!rounded.ok) return fail(...rounded.problems.map((one) => ({ ...one, where: `${label} on the statement` })));
  return ok(
    uses.map(({ material, grams, fineGrams }, index) => ({
      label: material,
      kind: "part",
      minor: rounded.value[index] ?? 0,
      grams,
      ...(fineGrams > 0 ? { fineGrams } : {}),
    })),
  );
}

function useProblems(use: MaterialUse): readonly Problem[] {
  return [
    ...need(use.material.trim() !== "", "A material", use.material, "a name"),
    ...needFromZero(`${use.material}, grams`, use.grams),
    ...needFromZero(`${use.material}, fine metal`, use.fineGrams),
    ...needFromZero(`${use.material}, cost`, use.cost),
  ];
}
