// What is in stock and at which value: each piece at cost or at what it will fetch, whichever is lower (IAS 2 §9, §29).
import { roundDecimal, toDecimal } from "../core/money";
import { fail, ok, type Result } from "../core/problem";
import { comparePieceNumbers, type PieceMinor } from "./allocate";
import { needNumber } from "./checks";
import type { GroupWriteDowns } from "./journal";
import type { Ledger } from "./ledger";
import type { SaleMinor } from "./sales";

/** Consigned pieces are the maker's stock until they are sold. */
type StockGroup = "finished" | "seconds" | "consigned" | "inProgress";

interface InventoryLine {
  readonly piece: string;
  readonly group: StockGroup;
  readonly costMinor: number;
  /** What it will fetch, less the costs to complete and to sell it; undefined where nobody has said. */
  readonly netRealisableMinor: number | undefined;
  /** The lower of the two, and never below nothing. */
  readonly carriedMinor: number;
  readonly writeDownMinor: number;
}

export interface Inventory {
  /** Finished, seconds, consigned, in progress; each by piece number. */
  readonly lines: readonly InventoryLine[];
  readonly costMinor: number;
  readonly carriedMinor: number;
  readonly writeDowns: GroupWriteDowns;
}

/**
 * Lists every piece in stock; `netRealisable` holds what pieces will fetch, at full precision, by piece number, and `sales`
 * which are in stock no more, or consigned.
 */
export function listInventory(
  ledger: Ledger,
  netRealisable: ReadonlyMap<string, number>,
  sales: readonly SaleMinor[] = [],
): Result<Inventory> {
  const became = new Map(sales.map((sale) => [sale.piece, sale.became]));
  const inStock = ({ piece }: PieceMinor) => !became.has(piece);
  const problems = [...netRealisable].flatMap(([piece, value]) => needNumber(`What ${piece} fetches`, value));
  if (problems.length > 0) return fail(...problems);
  const group = (name: StockGroup, pieces: readonly PieceMinor[]) =>
    [...pieces]
      .sort((a, b) => comparePieceNumbers(a.piece, b.piece))
      .map(({ piece, minor }) => lineOf(piece, name, minor, netRealisable.get(piece), ledger.digits));
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
  piece: string,
  group: StockGroup,
  costMinor: number,
  fetches: number | undefined,
  digits: number,
): InventoryLine {
  const netRealisableMinor =
    fetches === undefined ? undefined : Number(roundDecimal(toDecimal(fetches, digits + 1), digits));
  const carriedMinor =
    netRealisableMinor === undefined ? costMinor : Math.min(costMinor, Math.max(0, netRealisableMinor));
  return { piece, group, costMinor, netRealisableMinor, carriedMinor, writeDownMinor: costMinor - carriedMinor };
}
