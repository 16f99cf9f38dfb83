// What a posting is made of: every amount of the journal, part by part, down to the piece, the step and the element of cost.
// The parts of a period are the differences of two books, rounded so that they add up to the posting to the last unit.
import { fromMinorUnits } from "../core/money";
import { STEP_KIND_RULES } from "../core/sheets/step-kinds";
import { roundToTotal } from "./allocate";
import type { BooksAsOf, DatedBooks } from "./as-of";
import type { FiringCost, PieceCost } from "./edition-costs";
import { type AccountKey, ENTRY_MEMOS } from "./journal";
import type { SaleMinor } from "./sales";

/** Where a part of an amount comes from; what does not apply is left out. */
interface Origin {
  readonly piece?: string;
  /** Step id. */
  readonly step?: string;
  readonly firing?: string;
  /** Element of cost, such as `labour`. */
  readonly element?: string;
  /** ISO 8601. */
  readonly day?: string;
  readonly document?: string;
}

/** A part of a posting, as a debit of one account and a credit of another; below 0 the other way round. */
export interface PostedPart extends Origin {
  readonly memo: string;
  readonly debit: AccountKey;
  readonly credit: AccountKey;
  readonly minor: number;
}

/** A part of what an account was credited with, in the currency, not rounded. */
interface Part extends Origin {
  readonly amount: number;
}

/** Parts by entry and credited account. */
type Parts = Map<string, Map<string, Part>>;

const legOf = (memo: string, account: string) => `${memo}|${account}`;

class Collected {
  readonly parts: Parts = new Map();

  add(memo: string, account: AccountKey, amount: number, origin: Origin): void {
    if (amount === 0) return;
    const leg = legOf(memo, account);
    const held = this.parts.get(leg) ?? new Map<string, Part>();
    this.parts.set(leg, held);
    const key = [origin.piece, origin.step, origin.firing, origin.element].join("|");
    held.set(key, { ...origin, amount: (held.get(key)?.amount ?? 0) + amount });
  }
}

/** Everything that a journal is made of, as of the day of the books. */
function partsOf(books: DatedBooks, at: BooksAsOf): Parts {
  const found = new Collected();
  const days = daysOfEdition(books);
  putIn(found, at, days);
  losses(found, at, days);
  pieces(found, at, days);
  besides(found, at, days);
  for (const sale of at.sales) sold(found, sale, at.ledger.digits);
  return found.parts;
}

interface Days {
  readonly step: (piece: string, step: string) => string | undefined;
  readonly firing: ReadonlyMap<string, string | undefined>;
  readonly lost: ReadonlyMap<string, string | undefined>;
  readonly passed: ReadonlyMap<string, string | undefined>;
}

const daysKnown = new WeakMap<DatedBooks, Days>();

function daysOfEdition(books: DatedBooks): Days {
  const known = daysKnown.get(books);
  if (known) return known;
  const { edition } = books;
  const firing = new Map(edition.firings.map(({ id, day }) => [id, day]));
  const entries = new Map(edition.pieces.map((piece) => [piece.id, piece.entries]));
  const days: Days = {
    firing,
    step: (piece, step) => {
      const entry = entries.get(piece)?.[step];
      return entry?.firing === undefined ? entry?.day : firing.get(entry.firing);
    },
    lost: new Map(edition.pieces.map(({ id, lostOn }) => [id, lostOn])),
    passed: new Map(edition.pieces.map(({ id, passedOn }) => [id, passedOn])),
  };
  daysKnown.set(books, days);
  return days;
}

function putIn(found: Collected, { edition, costs }: BooksAsOf, days: Days): void {
  const steps = new Map(edition.steps.map((step) => [step.id, step]));
  const firings = new Map(costs.firings.map((firing) => [firing.id, firing]));
  const entriesOf = new Map(edition.pieces.map((piece) => [piece.id, piece.entries]));
  const memo = ENTRY_MEMOS.putIn;
  for (const piece of costs.pieces)
    for (const [id, done] of Object.entries(piece.steps)) {
      const step = steps.get(id);
      const firing = entriesOf.get(piece.id)?.[id]?.firing;
      const day = days.step(piece.id, id);
      const origin: Origin = {
        piece: piece.id,
        step: id,
        ...(firing === undefined ? {} : { firing }),
        ...(day === undefined ? {} : { day }),
      };
      const add = (account: AccountKey, element: string, amount: number) =>
        found.add(memo, account, amount, { ...origin, element });
      const isPrecious = step !== undefined && STEP_KIND_RULES[step.kind].material?.isPrecious === true;
      add(isPrecious ? "metal" : "materials", isPrecious ? "precious metal" : "material", done.material);
      add("mouldWear", "mould wear", done.mouldWear);
      add("labour", "labour", done.labour);
      add("overhead", "overhead", done.overhead);
      const fired = firing === undefined ? undefined : firings.get(firing);
      if (fired)
        for (const [account, element, amount] of firingElements(fired))
          add(account, element, (amount * done.firingShare) / (fired.cost || 1));
    }
}

const firingElements = ({ energy, wear, labour, overhead }: FiringCost) =>
  [
    ["energy", "kiln energy", energy],
    ["kilnWear", "kiln wear", wear],
    ["labour", "loading", labour],
    ["overhead", "overhead of loading", overhead],
  ] as const;

/** What a lost piece cost less what it gave back. */
const netOfLost = ({ own, reclaimed, scrap }: PieceCost) => own - reclaimed - scrap;

function losses(found: Collected, { edition, costs }: BooksAsOf, days: Days): void {
  const lostAt = new Map(edition.pieces.map((piece) => [piece.id, piece.lostAt]));
  const steps = new Map(costs.steps.map((step) => [step.id, step]));
  const lost = costs.pieces.filter(({ outcome }) => outcome === "lost");
  const netAt = new Map<string | undefined, number>();
  for (const piece of lost) {
    const at = lostAt.get(piece.id);
    netAt.set(at, (netAt.get(at) ?? 0) + netOfLost(piece));
  }
  const { normal, unsharedNormal } = costs.totals;
  for (const piece of lost) {
    const at = lostAt.get(piece.id);
    const step = steps.get(at ?? "");
    const day = days.lost.get(piece.id);
    const origin: Origin = {
      piece: piece.id,
      ...(at === undefined ? {} : { step: at }),
      ...(day === undefined ? {} : { day }),
    };
    found.add(ENTRY_MEMOS.clay, "inProgress", piece.reclaimed, { ...origin, element: "clay won back" });
    found.add(ENTRY_MEMOS.scrap, "inProgress", piece.scrap, { ...origin, element: "scrap" });
    const part = netOfLost(piece) / (netAt.get(at) || 1);
    found.add(ENTRY_MEMOS.abnormal, "inProgress", (step?.abnormal ?? 0) * part, {
      ...origin,
      element: "abnormal loss",
    });
    const unshared = normal === 0 ? 0 : ((step?.normal ?? 0) * part * unsharedNormal) / normal;
    found.add(ENTRY_MEMOS.unshared, "inProgress", unshared, { ...origin, element: "normal loss that no piece bears" });
  }
}

function pieces(found: Collected, { ledger, inventory }: BooksAsOf, days: Days): void {
  const money = (minor: number) => fromMinorUnits(minor, ledger.digits);
  const of = (piece: string, element: string): Origin => {
    const day = days.passed.get(piece);
    return { piece, element, ...(day === undefined ? {} : { day }) };
  };
  for (const { piece, minor } of ledger.good)
    found.add(ENTRY_MEMOS.good, "inProgress", money(minor), of(piece, "full cost"));
  for (const { piece, minor } of ledger.seconds)
    found.add(ENTRY_MEMOS.seconds, "inProgress", money(minor), of(piece, "full cost"));
  for (const { piece, group, writeDownMinor } of inventory.lines)
    found.add(ENTRY_MEMOS.writeDown, group, money(writeDownMinor), { piece, element: "write-down" });
}

function besides(found: Collected, { costs }: BooksAsOf, days: Days): void {
  for (const firing of costs.firings) {
    if (firing.pieces > 0) continue;
    const day = days.firing.get(firing.id);
    for (const [account, element, amount] of firingElements(firing))
      found.add(ENTRY_MEMOS.emptyFirings, account, amount, {
        firing: firing.id,
        element,
        ...(day === undefined ? {} : { day }),
      });
  }
  found.add(ENTRY_MEMOS.idle, "overhead", costs.totals.idleOverhead, { element: "overhead that no hour carries" });
  found.add(ENTRY_MEMOS.moulds, "mouldWear", costs.totals.mouldsCharged, { element: "left in the moulds" });
}

const LEAVES: Readonly<Record<SaleMinor["became"], string>> = {
  sold: ENTRY_MEMOS.costOfSales,
  "given away": ENTRY_MEMOS.givenAway,
  kept: ENTRY_MEMOS.kept,
  broken: ENTRY_MEMOS.broken,
  consigned: ENTRY_MEMOS.consigned,
};

function sold(found: Collected, sale: SaleMinor, digits: number): void {
  const { piece, day, document } = sale;
  const add = (memo: string, account: AccountKey, minor: number, element: string) =>
    found.add(memo, account, fromMinorUnits(minor, digits), {
      ...{ piece, element },
      ...(day === undefined ? {} : { day }),
      ...(document === undefined ? {} : { document }),
    });
  add(ENTRY_MEMOS.sold, "sales", sale.netMinor, "price without tax");
  add(ENTRY_MEMOS.sold, "salesTax", sale.taxMinor, "tax");
  add(ENTRY_MEMOS.fees, "receipts", sale.feesMinor, "fees and commission");
  add(ENTRY_MEMOS.packing, "packingApplied", sale.packingMinor, "packing and postage");
  add(LEAVES[sale.became], sale.isSecond ? "seconds" : "finished", sale.costMinor, "full cost");
}

/**
 * What moved between two books of one edition, the later less the earlier. The moves of an entry and account add up to the
 * difference of its postings exactly: where parts were rounded together, the odd unit is with the part that was nearest to it.
 */
export function partsBetween(
  books: DatedBooks,
  before: BooksAsOf | undefined,
  after: BooksAsOf,
): readonly PostedPart[] {
  const earlier = before ? partsOf(books, before) : new Map<string, Map<string, Part>>();
  const later = partsOf(books, after);
  return after.entries.flatMap((entry, at) => {
    const [hub, ...legs] = entry.postings;
    const was = before?.entries[at];
    return legs.flatMap((leg, index): PostedPart[] => {
      const total = (was?.postings[index + 1]?.minor ?? 0) - leg.minor;
      const key = legOf(entry.memo, leg.account);
      const parts = difference(earlier.get(key), later.get(key));
      if (parts.length === 0) {
        if (total === 0) return [];
        parts.push({ element: "rounding", amount: 0 });
      }
      const { digits } = after.ledger;
      const minors = roundToTotal(
        parts.map(({ amount }) => amount),
        digits,
        total,
      );
      const [debit, credit] = [hub?.account as AccountKey, leg.account as AccountKey];
      return parts.flatMap(({ amount: _, ...origin }, part): PostedPart[] => {
        const minor = minors[part] ?? 0;
        return minor === 0 ? [] : [{ ...origin, memo: entry.memo, debit, credit, minor }];
      });
    });
  });
}

/** What two lists of parts differ by, part by part; less than the noise of sums is nothing. */
function difference(was: ReadonlyMap<string, Part> | undefined, is: ReadonlyMap<string, Part> | undefined): Part[] {
  const found: Part[] = [];
  for (const [key, part] of is ?? []) {
    const amount = part.amount - (was?.get(key)?.amount ?? 0);
    if (Math.abs(amount) > 1e-9) found.push({ ...part, amount });
  }
  for (const [key, part] of was ?? []) if (!is?.has(key)) found.push({ ...part, amount: -part.amount });
  return found;
}
