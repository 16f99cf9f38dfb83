// The prices of the days, taken over from the shelf into an edition: what each step's material cost on the day it was recorded,
// as rows of its own Purchases and a name in each piece, so that the edition gives the same numbers alone.
import type { StockLine } from "../../accounts/stock";
import type { Change, Operation } from "../../core/document/change";
import { freshRowId } from "../../core/document/edits";
import type { Row, Workbook } from "../../core/document/workbook";
import { ok, type Result } from "../../core/problem";
import { pricedSteps } from "../../core/record/day-prices";
import { recordedDays } from "../../core/steps/drawn";
import { localDay } from "../edition/written-days";
import { type MaterialStock, methodOf, shelfStock } from "./stock";
import type { EditionUse } from "./uses";

/** What taking the prices over would do. */
export interface DayPricesPlan {
  readonly change: Change;
  /** Steps of pieces that have the price of their day then, and those of which nobody knows the day. */
  readonly priced: number;
  readonly undated: number;
  /** Steps of pieces whose price is another one then. */
  readonly moved: number;
}

const FROM_SHELF = "From the shelf";

/** A row of the edition's Purchases in the making: a price and the day from which it held. */
interface DayPrice {
  readonly name: string;
  /** The purchases on the shelf that it comes from. */
  readonly base: string;
  readonly material: string;
  readonly date: string;
  readonly grams: number;
  readonly perGram: number;
}

/** The change that takes them over; `uses` holds what the edition of that `id` and all others took. */
export function planDayPrices(
  book: Workbook,
  id: string,
  shelf: Workbook,
  uses: readonly EditionUse[],
  { digits, today }: { readonly digits: number; readonly today: string },
): Result<DayPricesPlan> {
  const stock = shelfStock(shelf, uses, digits);
  if (!stock.ok) return stock;
  const named = new Map(stock.value.map((one) => [one.material.toLowerCase(), one]));
  const prices = new DayPrices(book);
  const priceOn = new Map<string, DayPrice>();
  for (const row of book.sheets.materials.rows) {
    const material = String(row.cells.id);
    const held = named.get(material.toLowerCase());
    if (!held?.isKept) continue;
    for (const line of ownLines(held, id)) {
      const price = prices.add(material, line.movement.day, Math.abs(line.grams), line.perGram ?? 0, line.from);
      priceOn.set(`${material} ${line.movement.day}`, price);
    }
    const { perGram, from } = held.stock.next;
    prices.add(material, today, Math.max(1, held.stock.leftGrams), perGram, from ? [from] : []);
  }
  const rows = rowOperations(book, prices.all, `${FROM_SHELF}: ${methodOf(shelf)}`);
  const cells = cellOperations(book, priceOn);
  const label = "Prices of the days from the shelf";
  return ok({ ...cells, change: { label, operations: [...rows, ...cells.operations] } });
}

/** What the edition used on known days, the oldest first. */
function ownLines({ stock }: MaterialStock, id: string): readonly StockLine[] {
  return stock.lines.filter(
    ({ movement }) => movement.kind === "used" && movement.edition === id && movement.day !== "",
  );
}

/** The prices, each a row as long as it is the same price of the same purchases. */
class DayPrices {
  readonly all: DayPrice[] = [];
  /** Names of rows that the maker typed. */
  readonly #own: ReadonlySet<unknown>;

  constructor(book: Workbook) {
    this.#own = new Set(book.sheets.purchases.rows.filter((row) => !isFromShelf(row)).map(({ cells }) => cells.id));
  }

  add(material: string, date: string, grams: number, perGram: number, from: readonly string[]): DayPrice {
    const base = from.length > 0 ? from.join("+") : material;
    const at = this.all.findIndex(
      (one) =>
        one.material === material && one.base === base && Math.abs(one.perGram - perGram) <= 1e-12 * Math.abs(perGram),
    );
    const held = this.all[at];
    if (held) {
      this.all[at] = { ...held, grams: held.grams + grams };
      return held;
    }
    const isTaken = (name: string) => this.#own.has(name) || this.all.some((one) => one.name === name);
    let name = base;
    for (let count = 2; isTaken(name); count += 1) name = `${base}, ${count}`;
    const made = { name, base, material, date, grams, perGram };
    this.all.push(made);
    return made;
  }
}

const isFromShelf = ({ cells }: Row) => String(cells.note ?? "").startsWith(FROM_SHELF);

/** Rows that were taken over before are brought up to date, new ones come; those of earlier days stay. */
function rowOperations(book: Workbook, prices: readonly DayPrice[], note: string): readonly Operation[] {
  const { rows } = book.sheets.purchases;
  const held = new Map(rows.map((row) => [row.cells.id, row]));
  const operations: Operation[] = [];
  const made: Row[] = [];
  for (const { name, material, date, grams, perGram } of prices) {
    // Without the digits that are left of adding up; their ratio is what counts.
    const quantity = Number(grams.toPrecision(9));
    const paid = Number((perGram * quantity).toPrecision(14));
    const cells: Row["cells"] = { id: name, date, sort: "bought", material, grams: quantity, paid, note };
    const row = held.get(name);
    if (!row) made.push({ id: freshRowId([...rows, ...made], "b"), cells });
    else
      for (const [column, is] of Object.entries(cells))
        if (row.cells[column] !== is)
          operations.push({ kind: "cell", sheet: "purchases", row: row.id, column, was: row.cells[column], is });
  }
  if (made.length > 0) operations.push({ kind: "add rows", sheet: "purchases", at: rows.length, rows: made });
  return operations;
}

/** The name of the price in each piece that was recorded on a known day. */
function cellOperations(book: Workbook, priceOn: ReadonlyMap<string, DayPrice>) {
  const days = recordedDays(book, localDay);
  const usual = new Map(
    book.sheets.materials.rows.map(({ cells }) => [cells.id, Number(cells.pack_price) / Number(cells.pack_grams)]),
  );
  const perGramOf = new Map(
    book.sheets.purchases.rows.map(({ cells }) => [cells.id, Number(cells.paid) / Number(cells.grams)]),
  );
  const operations: Operation[] = [];
  let [priced, undated, moved] = [0, 0, 0];
  const steps = pricedSteps(book);
  for (const piece of book.sheets.pieces.rows)
    for (const { material, entered, priced: column } of steps) {
      if (piece.cells[entered] === undefined) continue;
      const day = days.get(`${piece.id} ${entered}`);
      const price = day === undefined ? undefined : priceOn.get(`${material} ${day}`);
      if (!price) {
        if (day === undefined) undated += 1;
        continue;
      }
      priced += 1;
      const was = piece.cells[column];
      const now = (was === undefined ? undefined : perGramOf.get(was)) ?? usual.get(material) ?? 0;
      if (Math.abs(now - price.perGram) > 1e-12 * price.perGram) moved += 1;
      if (was !== price.name)
        operations.push({ kind: "cell", sheet: "pieces", row: piece.id, column, was, is: price.name });
    }
  return { operations, priced, undated, moved };
}
