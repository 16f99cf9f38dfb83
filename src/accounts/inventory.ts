// What is in stock and at which value: each piece at cost or at what it will fetch, whichever is lower (IAS 2 §9, §29).
import { roundDecimal, toDecimal } from "../core/money";
import { fail, ok, type Result } from "../core/problem";
import { comparePieceNumbers, type PieceMinor } from "./allocate";
import { needFromZero, needNumber } from "./checks";
import type { GroupWriteDowns } from "./journal";
import type { Ledger } from "./ledger";
import type { SaleMinor } from "./sales";

/** Consigned pieces are the maker's stock until they are sold. */
type StockGroup = "finished" | "seconds" | "consigned" | "inProgress";

export interface InventoryLine {
  readonly piece: string;
  readonly group: StockGroup;
  readonly costMinor: number;
  /** What it will fetch, less the costs to complete and to sell it; undefined where nobody has said. */
  readonly netRealisableMinor: number | undefined;
  /** The lower of what it will fetch and cost less what is written down by hand; never below nothing. */
  readonly carriedMinor: number;
  readonly writeDownMinor: number;
  /** The part of the write-down that the maker made by hand. */
  readonly byHandMinor: number;
  /** Why it is written down; undefined where it is not. */
  readonly reason: string | undefined;
}

/** What a maker writes down of a piece: at full precision, with why and on which day (ISO 8601), where that is said. */
export interface HandWriteDown {
  readonly amount: number;
  readonly reason?: string;
  readonly day?: string;
}

/** The reason of a write-down that follows from prices and costs. */
const WILL_NOT_FETCH = "will not fetch its cost";
const BY_HAND = "written down by hand";

export interface Inventory {
  /** Finished, seconds, consigned, in progress; each by piece number. */
  readonly lines: readonly InventoryLine[];
  readonly costMinor: number;
  readonly carriedMinor: number;
  readonly writeDowns: GroupWriteDowns;
}

/**
 * Lists every piece in stock; `netRealisable` holds what pieces will fetch, at full precision, by piece number, `sales`
 * which are in stock no more, or consigned, and `byHand` what the maker has written down.
 */
export function listInventory(
  ledger: Ledger,
  netRealisable: ReadonlyMap<string, number>,
  sales: readonly SaleMinor[] = [],
  byHand: ReadonlyMap<string, HandWriteDown> = new Map(),
): Result<Inventory> {
  const became = new Map(sales.map((sale) => [sale.piece, sale.became]));
  const inStock = ({ piece }: PieceMinor) => !became.has(piece);
  const problems = [
    ...[...netRealisable].flatMap(([piece, value]) => needNumber(`What ${piece} fetches`, value)),
    ...[...byHand].flatMap(([piece, { amount }]) => needFromZero(`Written down of ${piece}`, amount)),
  ];
  if (problems.length > 0) return fail(...problems);
  const group = (name: StockGroup, pieces: readonly PieceMinor[]) =>
    [...pieces]
      .sort((a, b) => comparePieceNumbers(a.piece, b.piece))
      .map((one) => lineOf(one, name, netRealisable.get(one.piece), byHand.get(one.piece), ledger.digits));
  const finished = group("finished", ledger.good.filter(inStock));
  const seconds = group("seconds", ledger.seconds.filter(inStock));
  const isConsigned = ({ piece }: PieceMinor) => became.get(piece) === "consigned";
  const consigned = group("consigned", [...ledger.good, ...ledger.seconds].filter(isConsigned));
  const inProgress = group("inProgress", ledger.inProgress);
  const lines = [...finished, ...seconds, ...consigned, ...inProgress];
  const written = (some: readonly InventoryLine[]) => some.reduce((sum, line) => sum + line.writeDownMinor, 0);
  return ok({
    lines,
    costMinor: lines.reduce((sum, line) => sum + line.costMinor, 0),
    carriedMinor: lines.reduce((sum, line) => sum + line.carriedMinor, 0),
    writeDowns: {
      ...{ finished: written(finished), seconds: written(seconds) },
      ...{ consigned: written(consigned), inProgress: written(inProgress) },
    },
  });
}

function lineOf(
  { piece, minor: costMinor }: PieceMinor,
  group: StockGroup,
  fetches: number | undefined,
  byHand: HandWriteDown | undefined,
  digits: number,
): InventoryLine {
  const minor = (amount: number) => Number(roundDecimal(toDecimal(amount, digits + 1), digits));
  const netRealisableMinor = fetches === undefined ? undefined : minor(fetches);
  const byHandMinor = Math.min(costMinor, minor(byHand?.amount ?? 0));
  const left = costMinor - byHandMinor;
  const carriedMinor = netRealisableMinor === undefined ? left : Math.min(left, Math.max(0, netRealisableMinor));
  const reasons = [
    ...(byHandMinor > 0 ? [byHand?.reason?.trim() || BY_HAND] : []),
    ...(carriedMinor < left ? [WILL_NOT_FETCH] : []),
  ];
  const reason = reasons.length === 0 ? undefined : reasons.join("; ");
  const writeDownMinor = costMinor - carriedMinor;
  return { piece, group, costMinor, netRealisableMinor, carriedMinor, writeDownMinor, byHandMinor, reason };
}
