// What a kiln has room for, and whether some pieces go into it together: by count, by shelf, by height.
// A footprint is the shelf a piece takes up with its clearance; how round feet tile is not calculated.
import { counted } from "../../core/counted";
import { type Problem, problem } from "../../core/problem";
import { type FormatAmount, formatMetric, type LoadKiln, roomOf, type WaitingPiece } from "./kiln-room";
import { type Level, levelsOf, putOnLevels } from "./levels";

/** How full a load is, level by level, and what keeps it from going in. */
export interface LoadState {
  readonly pieces: number;
  readonly footCm2: number;
  readonly kg: number;
  /** From the lowest shelf up, the tallest ware below; one where the kiln's levels are not known. */
  readonly levels: readonly Level[];
  /** Of the chamber, with shelves and gaps. */
  readonly heightCm: number;
  readonly problems: readonly Problem[];
}

const sum = (pieces: readonly WaitingPiece[], of: "footCm2" | "kg") =>
  pieces.reduce((total, piece) => total + piece[of], 0);
/** Sums of typed numbers may miss a limit by a rounding. */
const SLACK = 1e-9;

/** Whether pieces go into a kiln together. */
export function fitsKiln(pieces: readonly WaitingPiece[], kiln: LoadKiln): boolean {
  if (pieces.length > kiln.capacity) return false;
  if (sum(pieces, "footCm2") > (kiln.shelfCm2 ?? Number.POSITIVE_INFINITY) + SLACK) return false;
  return putOnLevels(pieces, kiln) !== undefined;
}

/** Says how full a load is; every limit it breaks is a problem that names the pieces. */
export function weighLoad(
  pieces: readonly WaitingPiece[],
  kiln: LoadKiln,
  format: FormatAmount = formatMetric,
): LoadState {
  const levels = putOnLevels(pieces, kiln) ?? levelsOf(pieces, kiln);
  const gap = roomOf(kiln).gapCm;
  return {
    pieces: pieces.length,
    footCm2: sum(pieces, "footCm2"),
    kg: sum(pieces, "kg"),
    levels,
    heightCm: levels.reduce((total, level) => total + level.tallestCm + gap, 0),
    problems: loadProblems(pieces, kiln, format),
  };
}

function loadProblems(pieces: readonly WaitingPiece[], kiln: LoadKiln, format: FormatAmount): readonly Problem[] {
  const single = pieces.flatMap((piece) => pieceProblem(piece, kiln, format) ?? []);
  if (single.length > 0) return single;
  const where = kiln.id;
  if (pieces.length > kiln.capacity)
    return [
      problem({
        code: "load.count",
        where,
        found: counted(pieces.length, "piece"),
        allowed: counted(kiln.capacity, "piece"),
      }),
    ];
  const foot = sum(pieces, "footCm2");
  if (kiln.shelfCm2 !== undefined && foot > kiln.shelfCm2 + SLACK)
    return [
      problem({
        code: "load.shelf",
        where,
        found: `${format(foot, "cm²")} of ware`,
        allowed: `${format(kiln.shelfCm2, "cm²")} on all its shelves`,
      }),
    ];
  // Where even as many of the tallest with the widest foot go in, nothing need be searched.
  const widest = Math.max(...pieces.map(({ footCm2 }) => footCm2), 0);
  if (roomFor({ ...typicalPiece(pieces), footCm2: widest }, kiln) >= pieces.length) return [];
  if (putOnLevels(pieces, kiln)) return [];
  return [
    problem({
      code: "load.levels",
      where,
      found: `${counted(pieces.length, "piece")} that do not all go on its shelves`,
      allowed: `levels that are together no higher than ${format(roomOf(kiln).heightCm, "cm")}: the tallest piece of each, and ${format(roomOf(kiln).gapCm, "cm")} for its shelf`,
      fix: "Take a piece out, or put the tall ones together on one level.",
    }),
  ];
}

/** Why a piece does not go into a kiln even alone, or nothing. */
export function pieceProblem(
  piece: WaitingPiece,
  kiln: LoadKiln,
  format: FormatAmount = formatMetric,
): Problem | undefined {
  const room = roomOf(kiln);
  const where = `Piece ${piece.id} in ${kiln.id}`;
  if (piece.heightCm + room.gapCm > room.heightCm + SLACK)
    return problem({
      code: "load.tall",
      where,
      found: `a height of ${format(piece.heightCm, "cm")}`,
      allowed: `pieces up to ${format(room.heightCm - room.gapCm, "cm")} tall`,
    });
  if (piece.footCm2 > room.levelCm2 + SLACK)
    return problem({
      code: "load.wide",
      where,
      found: `a foot of ${format(piece.footCm2, "cm²")}`,
      allowed: `up to ${format(room.levelCm2, "cm²")} on a shelf`,
    });
  return undefined;
}

/** How many pieces like this one a kiln takes; 0 where it takes none. */
export function roomFor(piece: WaitingPiece, kiln: LoadKiln): number {
  if (pieceProblem(piece, kiln)) return 0;
  const room = roomOf(kiln);
  const levels =
    piece.heightCm + room.gapCm <= 0 ? room.levels : Math.floor(room.heightCm / (piece.heightCm + room.gapCm) + SLACK);
  const onLevel = piece.footCm2 <= 0 ? Number.POSITIVE_INFINITY : Math.floor(room.levelCm2 / piece.footCm2 + SLACK);
  return Math.min(kiln.capacity, onLevel * Math.min(room.levels, levels));
}

/** A piece that stands for several: as tall as the tallest, since all have to go in; foot and weight are their mean. */
export function typicalPiece(pieces: readonly WaitingPiece[]): WaitingPiece {
  const count = Math.max(1, pieces.length);
  return {
    id: "",
    heightCm: Math.max(0, ...pieces.map(({ heightCm }) => heightCm)),
    footCm2: sum(pieces, "footCm2") / count,
    kg: sum(pieces, "kg") / count,
    firing: pieces[0]?.firing ?? "",
  };
}

/** Pieces in a full load of the like of these: never fewer than are in it. */
export function fullLoad(pieces: readonly WaitingPiece[], kiln: LoadKiln): number {
  return Math.max(pieces.length, roomFor(typicalPiece(pieces), kiln));
}

/** What keeps a load from going in, in few words, by the code of its problem. */
const WARNINGS: Readonly<Record<string, string>> = {
  "load.tall": "a piece is taller than the chamber",
  "load.wide": "a piece is wider than a shelf",
  "load.count": "more pieces than there is room for",
  "load.shelf": "more shelf than there is",
  "load.levels": "its pieces do not go on the shelves together",
};

/** Says in few words why a load does not go into a kiln; nothing where it does. */
export function loadWarning(pieces: readonly WaitingPiece[], kiln: LoadKiln): string {
  const [first] = loadProblems(pieces, kiln, formatMetric);
  return first ? (WARNINGS[first.code] ?? first.message) : "";
}
