// The fewest and cheapest loads by looking at every way: sets of pieces as bits, every split of a set into levels and
// of all pieces into loads. For up to about ten pieces; knows nothing of the builder it is held against.
interface Piece {
  readonly footCm2: number;
  readonly heightCm: number;
}
interface Kiln {
  readonly capacity: number;
  readonly shelfCm2: number;
  readonly levels: number;
  readonly gapCm: number;
  readonly heightCm: number;
  readonly empty: number;
  readonly each: number;
}

/** Fewest loads for the pieces, and the least cost with so few; nothing where some piece goes in no kiln. */
export function bestLoads(
  pieces: readonly Piece[],
  kilns: readonly Kiln[],
): { count: number; cost: number } | undefined {
  const all = 2 ** pieces.length;
  const fits = kilns.map((kiln) => allThatFit(pieces, kiln));
  const best: ({ count: number; cost: number } | undefined)[] = [{ count: 0, cost: 0 }];
  for (let mask = 1; mask < all; mask += 1) {
    const lowest = mask & -mask;
    for (let sub = mask; sub > 0; sub = (sub - 1) & mask) {
      if ((sub & lowest) === 0) continue;
      const rest = best[mask ^ sub];
      if (!rest) continue;
      for (const [k, kiln] of kilns.entries()) {
        if (!fits[k]?.[sub]) continue;
        const found = { count: rest.count + 1, cost: rest.cost + kiln.empty + kiln.each * bits(sub) };
        const held = best[mask];
        if (!held || found.count < held.count || (found.count === held.count && found.cost < held.cost))
          best[mask] = found;
      }
    }
  }
  return best[all - 1];
}

function bits(mask: number): number {
  let count = 0;
  for (let left = mask; left > 0; left &= left - 1) count += 1;
  return count;
}

/** For every set of pieces, whether it goes into the kiln. */
function allThatFit(pieces: readonly Piece[], kiln: Kiln): boolean[] {
  const all = 2 ** pieces.length;
  const onOne = Array.from({ length: all }, (_, mask) => {
    const within = pieces.filter((_piece, at) => (mask >> at) & 1);
    const foot = within.reduce((total, piece) => total + piece.footCm2, 0);
    const tall = Math.max(0, ...within.map((piece) => piece.heightCm));
    return foot <= kiln.shelfCm2 / kiln.levels + 1e-9 ? tall + kiln.gapCm : Number.POSITIVE_INFINITY;
  });
  // least[mask]: the least height of chamber that holds the set on so many levels; a level more each round.
  let least: number[] = Array.from({ length: all }, (_, mask) => (mask === 0 ? 0 : Number.POSITIVE_INFINITY));
  for (let level = 0; level < kiln.levels; level += 1) {
    const before = least;
    least = before.map((height, mask) => {
      let low = height;
      for (let sub = mask; sub > 0; sub = (sub - 1) & mask)
        low = Math.min(low, (before[mask ^ sub] ?? 0) + (onOne[sub] ?? 0));
      return low;
    });
  }
  return least.map((height, mask) => bits(mask) <= kiln.capacity && height <= kiln.heightCm + 1e-9);
}
