// What leaves the sheets of the open edition as a whole: ledger, inventory and statements. Nothing is given out unless the plain
// calculation and the sheets agree on every piece, so that a cost written over by hand can't slip into the books.

import { buildPieceCosts } from "../../accounts/cost-build";
import type { EditionCosts, PieceCost } from "../../accounts/edition-costs";
import { type Inventory, listInventory } from "../../accounts/inventory";
import { type Ledger, roundLedger, settlementOf } from "../../accounts/ledger";
import type { PlainEdition } from "../../accounts/plain-edition";
import { roundSales, type SaleMinor } from "../../accounts/sales";
import type { PieceStage } from "../../accounts/stages";
import { costStatement, type MaterialUse, type StatementRow } from "../../accounts/statement";
import type { TierFlow } from "../../accounts/step-flow";
import { counted } from "../../core/counted";
import { currencyDigits } from "../../core/currency";
import { type CellName, describeCell, overridesIn, rowLabel } from "../../core/document/access";
import type { Workbook } from "../../core/document/workbook";
import { toMinorUnits } from "../../core/money";
import { fail, ok, type Problem, problem, type Result } from "../../core/problem";
import { rulesOf } from "../../core/sheets/step-kinds";
import { isCellError, type Value } from "../../engine/values";
import type { ReadCell } from "./cell-reader";
import { plainEditionOf } from "./plain-from-sheets";
import { plainSalesOf, saleLines } from "./plain-sales";
import { fetchedInProgress, handWriteDowns, stagesFromSheets } from "./stages";
import { REWORK_BEYOND } from "./statement-cells";
import { stepStatements } from "./step-statements";

/** Everything for the books of one edition, in whole minor units of its currency. */
export interface Settled {
  readonly edition: PlainEdition;
  readonly costs: EditionCosts;
  readonly ledger: Ledger;
  readonly inventory: Inventory;
  readonly statement: readonly StatementRow[];
  readonly flows: readonly TierFlow[];
  /** What became of finished pieces. */
  readonly sales: readonly SaleMinor[];
  /** Pieces in progress: what they still take and will fetch. */
  readonly stages: readonly PieceStage[];
}

/** What the references of the journal begin with: as it was set, or the edition's title. */
export function journalReferenceOf({ meta }: Workbook): string {
  return meta.journal?.reference ?? meta.title.slice(0, 40);
}

/** Settles an edition, or says in plain words what stands in the way and where. */
export function settle(book: Workbook, read: ReadCell): Result<Settled> {
  const digits = currencyDigits(book.meta.currency);
  if (!digits.ok) return digits;
  const edition = plainEditionOf(book, read);
  if (!edition.ok) return edition;
  const costs = buildPieceCosts(edition.value);
  if (!costs.ok) return costs;
  const plainSales = plainSalesOf(book, read);
  const stages = stagesFromSheets(book, read, costs.value);
  const apart = disagreements(book, read, costs.value, saleLines(plainSales, costs.value), stages);
  if (apart.length > 0) return fail(...apart);
  const ledger = roundLedger(settlementOf(costs.value), digits.value);
  if (!ledger.ok) return ledger;
  const sales = roundSales(ledger.value, plainSales);
  if (!sales.ok) return sales;
  const inventory = listInventory(
    ledger.value,
    new Map([...fetches(book, read), ...fetchedInProgress(stages)]),
    sales.value,
    handWriteDowns(book, read),
  );
  if (!inventory.ok) return inventory;
  const statement = costStatement(ledger.value, materialUses(book, costs.value), sales.value);
  if (!statement.ok) return statement;
  const rework = reworkRow(read, digits.value);
  if (!rework.ok) return rework;
  const flows = stepStatements(book, edition.value, costs.value, ledger.value);
  if (!flows.ok) return flows;
  return ok({
    ...{ edition: edition.value, costs: costs.value, ledger: ledger.value },
    ...{ inventory: inventory.value, statement: [...statement.value, rework.value], flows: flows.value },
    ...{ sales: sales.value, stages },
  });
}

/**
 * What was done over again beyond plan and chance. It is judged by the rule of losses, and shown but not booked: the work is in
 * a piece that is sold, so the lower of cost and what the piece fetches bounds it, and whether it was wasted (IAS 2 §16(a)) is
 * for the accountant to say.
 */
function reworkRow(read: ReadCell, digits: number): Result<StatementRow> {
  const cost = read("results", "rework_beyond_cost", "value");
  const minor = toMinorUnits(typeof cost === "number" ? cost : 0, digits);
  return minor.ok ? ok({ label: REWORK_BEYOND, kind: "note", minor: minor.value }) : minor;
}

/** Computed costs on Pieces and Firings that were written over by hand: the first places to look. */
export function costOverrides(book: Workbook): readonly CellName[] {
  return (["pieces", "firings", "route", "materials", "edition", "results"] as const).flatMap((sheet) =>
    overridesIn(book, sheet),
  );
}

type SaleLines = ReturnType<typeof saleLines>;

/** Results lines that the books are given, and what the plain calculation says of each. */
function linesApart(read: ReadCell, { totals }: EditionCosts, sales: SaleLines): readonly Problem[] {
  const lines = [
    ["put_in", "Everything put in", totals.putInTotal],
    ["abnormal", "Abnormal loss", totals.abnormal],
    ["unshared", "Normal loss that no piece can bear", totals.unsharedNormal],
    ["reclaimed", "Clay won back", totals.reclaimed],
    ["scrap", "Scrap of lost pieces", totals.scrap],
    ["empty_kiln", "Firings with nothing in them", totals.emptyFirings],
    ["overhead_hours", "Hours that carry overhead", totals.overheadHours],
    ["overhead_idle", "Overhead that no hour carries", totals.idleOverhead],
    ["mould_left", "Left in the moulds", totals.mouldsLeft],
    ["mould_charged", "… of which is charged", totals.mouldsCharged],
    ...sales,
  ] as const;
  return lines.flatMap(([id, title, calculated]) => {
    const shown = read("results", id, "value");
    // An edition from before a line was added has nothing to say of it.
    if (shown === null || isSame(shown, calculated, totals.putInTotal)) return [];
    return [apartProblem(`Results, ${title}`, shown, calculated)];
  });
}

function apartProblem(where: string, shown: Value | undefined, calculated: number): Problem {
  const found = typeof shown === "number" ? round(shown) : isCellError(shown) ? shown.title : shown;
  return problem({
    code: "settle.apart",
    where,
    found,
    allowed: `${round(calculated)}, which is what its entries give`,
  });
}

/** Pieces and lines whose amount on the sheet is not what the entries give. */
function disagreements(
  book: Workbook,
  read: ReadCell,
  costs: EditionCosts,
  sales: SaleLines,
  stages: readonly PieceStage[],
): readonly Problem[] {
  const apart = [
    ...piecesApart(book, read, costs.pieces),
    ...stagesApart(book, read, stages),
    ...linesApart(read, costs, sales),
  ];
  if (apart.length === 0) return [];
  const overrides = costOverrides(book);
  const [first] = overrides;
  const lead = problem({
    code: "settle.gap",
    where: "The edition does not add up",
    found: `${counted(apart.length, "amount that is", "amounts that are")} not what was put in`,
    allowed: "sheets that show what the entries come to",
    fix: first
      ? `Give back the ${overrides.length === 1 ? "value" : counted(overrides.length, "value")} written over by hand, first ${describeCell(book, first)}.`
      : "Look at what is named below.",
  });
  return [lead, ...apart.slice(0, 20)];
}

function piecesApart(book: Workbook, read: ReadCell, pieces: readonly PieceCost[]): readonly Problem[] {
  return book.sheets.pieces.rows.flatMap((row, at): Problem[] => {
    const piece = pieces[at];
    const pairs = [
      ["own cost", read("pieces", row.id, "own"), piece?.own],
      ["full cost", read("pieces", row.id, "full"), piece?.full],
    ] as const;
    const odd = pairs.find(([, shown, calculated]) => !isSame(shown, calculated));
    if (!odd) return [];
    const [what, shown, calculated] = odd;
    return [apartProblem(`Piece ${rowLabel("pieces", row)}, ${what}`, shown, calculated ?? 0)];
  });
}

/** Pieces in progress whose cost to finish or value on the sheet is not what the plan gives. */
function stagesApart(book: Workbook, read: ReadCell, stages: readonly PieceStage[]): readonly Problem[] {
  const rows = new Map(book.sheets.pieces.rows.map((row) => [rowLabel("pieces", row), row.id]));
  return stages.flatMap(({ piece, toFinish, fetches: worth }): Problem[] => {
    const row = rows.get(piece) ?? "";
    const pairs = [
      ["still to finish", read("pieces", row, "to_finish"), toFinish.cost],
      ["will fetch", read("pieces", row, "fetches"), worth],
    ] as const;
    const size = Math.abs(toFinish.cost) + Math.abs(worth ?? 0);
    const odd = pairs.find(([, shown, calculated]) => !isSame(shown, calculated, size));
    if (!odd) return [];
    const [what, shown, calculated] = odd;
    return [apartProblem(`Piece ${piece}, ${what}`, shown, calculated ?? 0)];
  });
}

const round = (amount: number) => Number(amount.toPrecision(8));

function isSame(shown: unknown, calculated: number | undefined, size = 1): boolean {
  if (calculated === undefined) return shown === "" || shown === null;
  return typeof shown === "number" && Math.abs(shown - calculated) <= 1e-9 * Math.max(1, size, Math.abs(calculated));
}

/** What each finished piece will fetch after tax, fees and packing. */
function fetches(book: Workbook, read: ReadCell): ReadonlyMap<string, number> {
  return new Map(
    book.sheets.pieces.rows.flatMap((row): [string, number][] => {
      const [full, leaves] = [read("pieces", row.id, "full"), read("pieces", row.id, "contribution")];
      return typeof full === "number" && typeof leaves === "number" ? [[rowLabel("pieces", row), full + leaves]] : [];
    }),
  );
}

/** What was used of each material; a metal is what a step of a precious kind lays on. */
export function materialUses(book: Workbook, costs: EditionCosts): readonly MaterialUse[] {
  const uses = new Map<string, MaterialUse>();
  book.sheets.route.rows.forEach((step, at) => {
    const { material } = step.cells;
    const totals = costs.steps[at];
    if (typeof material !== "string" || !totals || totals.gramsUsed === 0) return;
    const isMetal = rulesOf(step)?.material?.isPrecious === true;
    const before = uses.get(`${isMetal} ${material}`);
    uses.set(`${isMetal} ${material}`, {
      material,
      isMetal,
      grams: (before?.grams ?? 0) + totals.gramsUsed,
      fineGrams: (before?.fineGrams ?? 0) + totals.fineGrams,
      cost: (before?.cost ?? 0) + totals.material,
    });
  });
  return [...uses.values()];
}
