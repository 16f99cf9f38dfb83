// Pieces into given kilns: which piece goes where, if they all go. Several orders first, then swaps, then, for few
// pieces, a search of all ways.
import type { LoadKiln, WaitingPiece } from "./kiln-room";
import { fitsKiln } from "./load";

/** A load to be filled: its kiln and what stands in it already. */
export interface Bin {
  readonly kiln: LoadKiln;
  readonly fixed: readonly WaitingPiece[];
}

/** Above this many pieces the search of all ways is left out. */
const FEW_PIECES = 16;
/** Beyond this many pieces swaps would take too long. */
const MOST_SWAPPED = 400;
const MOST_STEPS = 3000;

type Order = (a: WaitingPiece, b: WaitingPiece) => number;
const volume = (piece: WaitingPiece) => piece.footCm2 * piece.heightCm;
/** Big ones first, by what may be short; or as they come. */
const ORDERS: readonly Order[] = [
  (a, b) => b.heightCm - a.heightCm || b.footCm2 - a.footCm2,
  (a, b) => b.footCm2 - a.footCm2 || b.heightCm - a.heightCm,
  (a, b) => volume(b) - volume(a),
  () => 0,
];

const heightOf = ({ kiln }: Bin) => kiln.heightCm ?? Number.POSITIVE_INFINITY;
const shelfOf = ({ kiln }: Bin) => kiln.shelfCm2 ?? Number.POSITIVE_INFINITY;
const less = (a: number, b: number) => (a === b ? 0 : a < b ? -1 : 1);
/** The low kilns first, so that the tall ones are left for what needs them; or as they come. */
const BIN_ORDERS: readonly ((a: Bin, b: Bin) => number)[] = [
  (a, b) => less(heightOf(a), heightOf(b)) || less(shelfOf(a), shelfOf(b)),
  (a, b) => less(shelfOf(a), shelfOf(b)) || less(heightOf(a), heightOf(b)),
  () => 0,
];

/** Puts every piece into one of the loads; gives what each load then gets beyond what stands in it, or nothing. */
export function packInto(
  pieces: readonly WaitingPiece[],
  bins: readonly Bin[],
): readonly (readonly WaitingPiece[])[] | undefined {
  for (const binOrder of BIN_ORDERS)
    for (const pieceOrder of ORDERS) {
      const sorted = [...pieces].sort(pieceOrder);
      const order = bins.map((_, at) => at).sort((a, b) => compareBins(bins, a, b, binOrder));
      const filled = firstFit(sorted, bins, order);
      if (filled) return filled;
    }
  return pieces.length > FEW_PIECES ? undefined : searchAll([...pieces].sort(ORDERS[2]), bins);
}

/** Puts pieces into so many loads of one kiln in their order, each into the first that takes it; nothing where they don't all go. */
export function packInTurn(
  pieces: readonly WaitingPiece[],
  kiln: LoadKiln,
  loads: number,
): readonly (readonly WaitingPiece[])[] | undefined {
  const bins = Array.from({ length: loads }, () => ({ kiln, fixed: [] }));
  return firstFit(pieces, bins, [...bins.keys()]);
}

function compareBins(bins: readonly Bin[], a: number, b: number, order: (a: Bin, b: Bin) => number): number {
  const [one, other] = [bins[a], bins[b]];
  return one && other ? order(one, other) : 0;
}

/** Each piece into the first load that takes it; one that goes nowhere may change places with another. */
function firstFit(
  pieces: readonly WaitingPiece[],
  bins: readonly Bin[],
  order: readonly number[],
): readonly (readonly WaitingPiece[])[] | undefined {
  const filling: Filling = { bins, order, given: bins.map(() => []), refused: bins.map(() => new Set()) };
  for (const piece of pieces) if (!addTo(filling, piece) && !swapIn(filling, piece)) return undefined;
  return filling.given;
}

interface Filling {
  readonly bins: readonly Bin[];
  readonly order: readonly number[];
  readonly given: WaitingPiece[][];
  /** Sizes that each load has refused: it is only filled further, so it refuses them again. */
  readonly refused: Set<string>[];
}

const sizeOf = (piece: WaitingPiece) => `${piece.footCm2} ${piece.heightCm}`;

function takes(bins: readonly Bin[], given: readonly (readonly WaitingPiece[])[], at: number, piece: WaitingPiece) {
  const bin = bins[at];
  return bin !== undefined && fitsKiln([...bin.fixed, ...(given[at] ?? []), piece], bin.kiln);
}

function addTo({ bins, order, given, refused }: Filling, piece: WaitingPiece): boolean {
  const size = sizeOf(piece);
  for (const at of order) {
    if (refused[at]?.has(size)) continue;
    if (takes(bins, given, at, piece)) {
      given[at]?.push(piece);
      return true;
    }
    refused[at]?.add(size);
  }
  return false;
}

/** Takes one piece out of a load so that this one goes in, and puts the other elsewhere. */
function swapIn(filling: Filling, piece: WaitingPiece): boolean {
  const { bins, order, given, refused } = filling;
  if (given.reduce((total, load) => total + load.length, 0) > MOST_SWAPPED) return false;
  for (const at of order) {
    const held = given[at] ?? [];
    for (const other of held) {
      given[at] = held.filter((one) => one !== other);
      if (takes(bins, given, at, piece)) {
        given[at] = [...(given[at] ?? []), piece];
        if (addTo(filling, other)) {
          for (const sizes of refused) sizes.clear();
          return true;
        }
      }
      given[at] = held;
    }
  }
  return false;
}

/** Every way of sharing the pieces out, as far as a fixed number of steps goes; equal kilns are tried once. */
function searchAll(
  pieces: readonly WaitingPiece[],
  bins: readonly Bin[],
): readonly (readonly WaitingPiece[])[] | undefined {
  const given: WaitingPiece[][] = bins.map(() => []);
  let steps = 0;
  const place = (at: number): boolean => {
    const piece = pieces[at];
    if (!piece) return true;
    steps += 1;
    if (steps > MOST_STEPS) return false;
    const untouched = new Set<LoadKiln>();
    for (const [index, bin] of bins.entries()) {
      const isUntouched = given[index]?.length === 0 && bin.fixed.length === 0;
      if (isUntouched && untouched.has(bin.kiln)) continue;
      if (isUntouched) untouched.add(bin.kiln);
      if (!takes(bins, given, index, piece)) continue;
      given[index]?.push(piece);
      if (place(at + 1)) return true;
      given[index]?.pop();
    }
    return false;
  };
  return place(0) ? given : undefined;
}
