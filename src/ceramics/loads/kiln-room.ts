// A piece that waits and a kiln that has room, as plain numbers.

/** A piece that waits for a firing. */
export interface WaitingPiece {
  readonly id: string;
  readonly footCm2: number;
  readonly heightCm: number;
  readonly kg: number;
  /** What it is to be fired by; pieces share a load only where this is the same. */
  readonly firing: string;
}

/** The room in a kiln; what is left out is not known and so not checked. */
export interface LoadKiln {
  readonly id: string;
  /** Pieces it has room for. */
  readonly capacity: number;
  /** Of all its shelves together. */
  readonly shelfCm2?: number;
  /** Levels of ware when it is full. */
  readonly levels?: number;
  /** What a shelf and the room above the ware take up, for each level. */
  readonly gapCm?: number;
  readonly heightCm?: number;
}

/** The room in a kiln as the levels see it; what is not known is without limit. */
export interface KilnRoom {
  readonly levels: number;
  readonly levelCm2: number;
  readonly heightCm: number;
  readonly gapCm: number;
}

/** Gives the room in a kiln; where its levels are not known it is one shelf, with no shelf height to take off. */
export function roomOf(kiln: LoadKiln): KilnRoom {
  const levels = kiln.levels ?? 1;
  return {
    levels,
    levelCm2: (kiln.shelfCm2 ?? Number.POSITIVE_INFINITY) / levels,
    heightCm: kiln.heightCm ?? Number.POSITIVE_INFINITY,
    gapCm: kiln.levels === undefined ? 0 : (kiln.gapCm ?? 0),
  };
}

/** Pieces of one size that are in a load together. */
interface SizeCount {
  readonly footCm2: number;
  readonly heightCm: number;
  readonly count: number;
}

/** Writes the sizes of a load, the tallest first, as “foot height count” in cm² and cm: the same for any order. */
export function sizesText(pieces: readonly Pick<WaitingPiece, "footCm2" | "heightCm">[]): string {
  const counts = new Map<string, SizeCount>();
  for (const { footCm2, heightCm } of pieces) {
    const key = `${footCm2} ${heightCm}`;
    counts.set(key, { footCm2, heightCm, count: (counts.get(key)?.count ?? 0) + 1 });
  }
  const sizes = [...counts.values()].sort((a, b) => b.heightCm - a.heightCm || b.footCm2 - a.footCm2);
  return sizes.map(({ footCm2, heightCm, count }) => `${footCm2} ${heightCm} ${count}`).join(";");
}

/** Reads what `sizesText` wrote, or several of them joined by semicolons, as pieces; what is no size is passed over. */
export function piecesOfSizes(text: string): readonly WaitingPiece[] {
  return text.split(";").flatMap((size): WaitingPiece[] => {
    const [footCm2 = Number.NaN, heightCm = Number.NaN, count = Number.NaN] = size.split(" ").map(Number);
    if (!Number.isFinite(footCm2 + heightCm) || !(count >= 1 && count <= MOST_PIECES)) return [];
    return Array.from({ length: Math.floor(count) }, () => ({ id: "", footCm2, heightCm, kg: 0, firing: "" }));
  });
}

/** No load holds more; keeps a text that was typed from filling the memory. */
const MOST_PIECES = 100_000;

/** Writes an amount for a message, in the maker's own units. */
export type FormatAmount = (value: number, unit: "cm" | "cm²") => string;

/** Writes amounts as they are kept. */
export function formatMetric(value: number, unit: string): string {
  return `${Number(value.toFixed(1))} ${unit}`;
}
