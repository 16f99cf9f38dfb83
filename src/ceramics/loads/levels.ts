// Pieces on the levels of a kiln: each level is as high as its tallest piece, and all of them stand in one chamber.
import { type KilnRoom, type LoadKiln, roomOf, type WaitingPiece } from "./kiln-room";

/** One shelf with ware on it. */
export interface Level {
  readonly pieces: readonly WaitingPiece[];
  readonly footCm2: number;
  readonly tallestCm: number;
}

/** Orders looked at before a load is held not to go in. Loads of up to about ten pieces are settled exactly. */
const MOST_TRIES = 4000;
const SLACK = 1e-9;

interface OpenLevel {
  readonly pieces: WaitingPiece[];
  foot: number;
  readonly tallest: number;
}

/** The tallest first: then each level is as high as the piece that opens it. */
function tallestFirst(pieces: readonly WaitingPiece[]): readonly WaitingPiece[] {
  return [...pieces].sort((a, b) => b.heightCm - a.heightCm || b.footCm2 - a.footCm2);
}

/** Puts pieces on the levels of a kiln, or gives nothing where they do not go (or no way was found in a fair search). */
export function putOnLevels(pieces: readonly WaitingPiece[], kiln: LoadKiln): readonly Level[] | undefined {
  const search = new LevelSearch(tallestFirst(pieces), roomOf(kiln));
  return search.place(0, 0, 0) ? closed(search.open) : undefined;
}

/** Puts pieces on levels with no regard to the chamber's height: how a load that is too much would stand. */
export function levelsOf(pieces: readonly WaitingPiece[], kiln: LoadKiln): readonly Level[] {
  const room = { ...roomOf(kiln), heightCm: Number.POSITIVE_INFINITY, levels: Number.POSITIVE_INFINITY };
  const widest = Math.max(0, ...pieces.map(({ footCm2 }) => footCm2));
  const search = new LevelSearch(tallestFirst(pieces), { ...room, levelCm2: Math.max(room.levelCm2, widest) });
  search.place(0, 0, 0);
  return closed(search.open);
}

function closed(open: readonly OpenLevel[]): readonly Level[] {
  return open.map((level) => ({ pieces: level.pieces, footCm2: level.foot, tallestCm: level.tallest }));
}

/** One search for places, piece by piece in the order given. */
class LevelSearch {
  readonly open: OpenLevel[] = [];
  private tries = 0;
  private readonly pieces: readonly WaitingPiece[];
  private readonly room: KilnRoom;
  /** Shelf that the pieces from each index on still need, and the least that one of them takes. */
  private readonly needed: readonly number[];
  private readonly narrowest: readonly number[];
  private readonly lowest: number;

  constructor(pieces: readonly WaitingPiece[], room: KilnRoom) {
    this.pieces = pieces;
    this.room = room;
    const [needed, narrowest] = [[0], [Number.POSITIVE_INFINITY]];
    for (const { footCm2 } of [...pieces].reverse()) {
      needed.push((needed.at(-1) ?? 0) + footCm2);
      narrowest.push(Math.min(narrowest.at(-1) ?? footCm2, footCm2));
    }
    this.needed = needed.reverse();
    this.narrowest = narrowest.reverse();
    this.lowest = (pieces.at(-1)?.heightCm ?? 0) + room.gapCm;
  }

  /** Places the pieces from `at` on; one like the piece before it goes no lower than that one did. */
  place(at: number, used: number, from: number): boolean {
    const piece = this.pieces[at];
    if (!piece) return true;
    this.tries += 1;
    if (this.tries > MOST_TRIES + this.pieces.length || this.isHopeless(at, used)) return false;
    const next = this.pieces[at + 1];
    const isAlike = next?.footCm2 === piece.footCm2 && next.heightCm === piece.heightCm;
    for (let index = from; index < this.open.length; index += 1) {
      const level = this.open[index];
      if (!level || level.foot + piece.footCm2 > this.room.levelCm2 + SLACK) continue;
      level.pieces.push(piece);
      level.foot += piece.footCm2;
      if (this.place(at + 1, used, isAlike ? index : 0)) return true;
      level.pieces.pop();
      level.foot -= piece.footCm2;
    }
    return this.openLevel(piece, at, used, isAlike);
  }

  private openLevel(piece: WaitingPiece, at: number, used: number, isAlike: boolean): boolean {
    const height = used + piece.heightCm + this.room.gapCm;
    if (this.open.length >= this.room.levels || height > this.room.heightCm + SLACK) return false;
    if (piece.footCm2 > this.room.levelCm2 + SLACK) return false;
    this.open.push({ pieces: [piece], foot: piece.footCm2, tallest: piece.heightCm });
    if (this.place(at + 1, height, isAlike ? this.open.length - 1 : 0)) return true;
    this.open.pop();
    return false;
  }

  /** Whether the shelf that is left, on levels there are and levels that could still be opened, is too small. */
  private isHopeless(at: number, used: number): boolean {
    const { room, open } = this;
    if (room.levelCm2 === Number.POSITIVE_INFINITY) return false;
    const byHeight = this.lowest > 0 ? Math.floor((room.heightCm - used) / this.lowest + SLACK) : room.levels;
    const more = Math.min(room.levels - open.length, byHeight);
    const free = open.reduce((total, level) => total + room.levelCm2 - level.foot, more * room.levelCm2);
    if ((this.needed[at] ?? 0) > free + SLACK) return true;
    const narrowest = this.narrowest[at] ?? 0;
    if (narrowest <= 0) return false;
    const places = (cm2: number) => Math.floor(cm2 / narrowest + SLACK);
    const left = open.reduce(
      (total, level) => total + places(room.levelCm2 - level.foot),
      more * places(room.levelCm2),
    );
    return this.pieces.length - at > left;
  }
}
