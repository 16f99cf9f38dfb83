// Books as of a day: the edition is cut at it, and every rule applied to what had happened by then. What moved in a period
// is the difference of two such books, so that closing is the next opening and periods add up, whatever they are.
import { ok, type Result } from "../core/problem";
import { buildPieceCosts } from "./cost-build";
import type { EditionCosts } from "./edition-costs";
import { type HandWriteDown, type Inventory, listInventory } from "./inventory";
import { type AccountKey, bookEntries, type Entry, USUAL_ACCOUNT_NAMES } from "./journal";
import { type Ledger, roundLedger, settlementOf } from "./ledger";
import type { PlainEdition, PlainEntry, PlainPiece } from "./plain-edition";
import { type ChannelTerms, type PlainSale, roundSales, type SaleMinor, saleAmounts } from "./sales";

/** Every account, in the order of the table. */
export const ACCOUNT_KEYS = Object.keys(USUAL_ACCOUNT_NAMES) as readonly AccountKey[];

/** What a piece is offered at as long as it is not sold, and through which terms. */
export interface PieceOffer {
  readonly price: number;
  readonly terms: ChannelTerms;
}

/** An edition with everything dated, ready to be cut at any day. */
export interface DatedBooks {
  readonly edition: PlainEdition;
  readonly sales: readonly PlainSale[];
  /** By piece number. */
  readonly offers: ReadonlyMap<string, PieceOffer>;
  /** What pieces in progress will fetch at their stage, by piece number; at cost where nobody has said. */
  readonly inProgress?: (costs: EditionCosts) => ReadonlyMap<string, number>;
  /** What the maker has written down, by piece number. */
  readonly byHand?: ReadonlyMap<string, HandWriteDown>;
  readonly digits: number;
}

/** The books as of a day. */
export interface BooksAsOf {
  readonly edition: PlainEdition;
  readonly costs: EditionCosts;
  readonly ledger: Ledger;
  readonly sales: readonly SaleMinor[];
  readonly inventory: Inventory;
  /** All entries up to the day, in whole minor units. */
  readonly entries: readonly Entry[];
  /** What each account holds: debits above 0. */
  readonly balances: Balances;
}

export type Balances = Readonly<Partial<Record<AccountKey, number>>>;

/** The books with everything dated up to a day (ISO 8601), that day included. What has no day is in none. */
export function booksAsOf(books: DatedBooks, day: string): Result<BooksAsOf> {
  const edition = cutAt(books.edition, day);
  const costs = buildPieceCosts(edition);
  if (!costs.ok) return costs;
  const ledger = roundLedger(settlementOf(costs.value), books.digits);
  if (!ledger.ok) return ledger;
  const known = salesAt(books.sales, day);
  const sales = roundSales(ledger.value, known);
  if (!sales.ok) return sales;
  const worth = new Map([...fetchesAt(books, known), ...(books.inProgress?.(costs.value) ?? [])]);
  const byHand = new Map([...(books.byHand ?? [])].filter(([, one]) => isBy(one.day, day)));
  const inventory = listInventory(ledger.value, worth, sales.value, byHand);
  if (!inventory.ok) return inventory;
  const { writeDowns } = inventory.value;
  const entries = bookEntries({ ledger: ledger.value, writeDowns, sales: sales.value });
  const standing = { edition, costs: costs.value, ledger: ledger.value, sales: sales.value };
  return ok({ ...standing, inventory: inventory.value, entries, balances: balancesOf(entries) });
}

const isBy = (is: string | undefined, day: string) => is !== undefined && is <= day;

/** Whether everything in the edition has happened by a day, so that the books as of it are those of the whole. */
export function isAllBy({ edition, sales, byHand }: DatedBooks, day: string): boolean {
  const days = [
    ...edition.firings.map((firing) => firing.day),
    ...edition.pieces.flatMap(({ entries, lostAt, lostOn, grade, passedOn }) => [
      ...Object.values(entries).flatMap((entry) => (entry.firing === undefined ? [entry.day] : [])),
      ...(lostAt === undefined ? [] : [lostOn]),
      ...(grade === undefined ? [] : [passedOn]),
    ]),
    ...sales.map((sale) => sale.day),
    ...[...(byHand ?? [])].map(([, one]) => one.day),
  ];
  return days.every((one) => one === undefined || one <= day);
}

/** The edition as it was at the end of a day. */
function cutAt(edition: PlainEdition, day: string): PlainEdition {
  const firings = edition.firings.filter((firing) => isBy(firing.day, day));
  const fired = new Set(firings.map(({ id }) => id));
  const isKept = (entry: PlainEntry) => (entry.firing === undefined ? isBy(entry.day, day) : fired.has(entry.firing));
  const pieces = edition.pieces.map(({ lostAt, grade, entries, ...piece }): PlainPiece => {
    return {
      ...piece,
      entries: Object.fromEntries(Object.entries(entries).filter(([, entry]) => isKept(entry))),
      ...(lostAt !== undefined && isBy(piece.lostOn, day) ? { lostAt } : {}),
      ...(grade !== undefined && isBy(piece.passedOn, day) ? { grade } : {}),
    };
  });
  return { ...edition, firings, pieces };
}

/** What had become of pieces by a day: one sold later was consigned until then, or in stock. */
function salesAt(sales: readonly PlainSale[], day: string): readonly PlainSale[] {
  return sales.flatMap((sale): PlainSale[] => {
    if (isBy(sale.day, day)) return [sale];
    if (!sale.consigned || !isBy(sale.consigned.day, day)) return [];
    const { channel: _, document: __, consigned, ...rest } = sale;
    return [{ ...rest, ...consigned, became: "consigned" }];
  });
}

/** What pieces in stock bring at what they are offered at, whatever they were sold at later. */
function fetchesAt({ offers }: DatedBooks, sales: readonly PlainSale[]): ReadonlyMap<string, number> {
  const consigned = new Map(sales.flatMap((sale) => (sale.became === "consigned" ? [[sale.piece, sale]] : [])));
  return new Map(
    [...offers].map(([piece, offer]) => {
      const { price, terms } = consigned.get(piece) ?? offer;
      const { net, fees, packing } = saleAmounts(price, terms);
      return [piece, net - fees - packing];
    }),
  );
}

/** What each account holds after some entries; accounts with nothing are left out. */
function balancesOf(entries: readonly Entry[]): Balances {
  const sums: Partial<Record<AccountKey, number>> = {};
  for (const { postings } of entries)
    for (const { account, minor } of postings) sums[account] = (sums[account] ?? 0) + minor;
  return Object.fromEntries(Object.entries(sums).filter(([, minor]) => minor !== 0));
}
