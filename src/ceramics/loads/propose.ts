// Which pieces go into which kiln: as few firings as can be found, and of those the cheapest. Firings that are planned
// anyway and have room are filled first. Number by number of new firings, every choice of kilns is tried from the
// cheapest on; whether the pieces go in is what pack.ts finds.
import type { Problem } from "../../core/problem";
import { type FormatAmount, type LoadKiln, roomOf, type WaitingPiece } from "./kiln-room";
import { fitsKiln, fullLoad, pieceProblem, roomFor } from "./load";
import { type Bin, packInTurn, packInto } from "./pack";

/** What a firing costs with nothing added for its pieces, and what each piece adds, in the edition's currency. */
export interface LoadCost {
  readonly empty: number;
  readonly each: number;
}

/** A firing that is planned already and has room. */
export interface OpenLoad {
  readonly id: string;
  readonly kiln: string;
  readonly firing: string;
  readonly pieces: readonly WaitingPiece[];
}

/** What is known of the kilns and the firings; a kiln that can't fire by a programme has no cost there. */
export interface LoadPlan {
  readonly kilns: readonly LoadKiln[];
  readonly open: readonly OpenLoad[];
  readonly costOf: (kiln: string, firing: string) => LoadCost | undefined;
  /** How amounts are written where a piece is refused. */
  readonly say?: FormatAmount;
}

/** A load that is proposed; with `tops` the pieces go into a firing that is planned already. */
interface ProposedLoad {
  readonly kiln: string;
  readonly firing: string;
  readonly pieces: readonly WaitingPiece[];
  readonly tops?: string;
}

/** A piece that goes into no kiln, and why not, kiln by kiln; no reasons where no kiln can fire it at all. */
export interface RefusedPiece {
  readonly piece: WaitingPiece;
  readonly reasons: readonly Problem[];
}

export interface Proposal {
  readonly loads: readonly ProposedLoad[];
  readonly refused: readonly RefusedPiece[];
}

const MOST_CHOICES = 30_000;
const MOST_PACKED = 300;

/** Proposes loads for the pieces that wait, kind of firing by kind of firing, in the order in which they first come. */
export function proposeLoads(pieces: readonly WaitingPiece[], plan: LoadPlan): Proposal {
  const loads: ProposedLoad[] = [];
  const refused: RefusedPiece[] = [];
  for (const firing of new Set(pieces.map((piece) => piece.firing))) {
    const able = plan.kilns.filter((kiln) => plan.costOf(kiln.id, firing) !== undefined);
    const group: WaitingPiece[] = [];
    for (const piece of pieces.filter((one) => one.firing === firing)) {
      const reasons = able.map((kiln) => pieceProblem(piece, kiln, plan.say));
      if (reasons.some((reason) => reason === undefined)) group.push(piece);
      else refused.push({ piece, reasons: reasons.filter((reason) => reason !== undefined) });
    }
    loads.push(...loadsOf(group, firing, able, plan));
  }
  return { loads, refused };
}

type Loads = readonly (readonly WaitingPiece[])[];

/** Beyond this many pieces the fewest loads are not searched for: they are filled in turn. */
const MOST_SEARCHED = 400;

/**
 * Parts pieces into as few loads of one kiln as `proposeLoads` finds, the first pieces in the first loads as far as that
 * takes no load more. Each piece has to go into the kiln alone.
 */
export function loadsInTurn(pieces: readonly WaitingPiece[], kiln: LoadKiln): Loads {
  const group = pieces.map((piece) => ({ ...piece, firing: "" }));
  if (group.length > MOST_SEARCHED) return fillInTurn(group, kiln);
  const isEnough = (loads: number) => mayHold(group, new Array<Bin>(loads).fill({ kiln, fixed: [] }));
  let least = Math.min(1, group.length);
  while (least < group.length && !isEnough(least)) least += 1;
  const indices = new Map(group.map((piece, at) => [piece, at]));
  const firstOf = (load: readonly WaitingPiece[]) => Math.min(...load.map((piece) => indices.get(piece) ?? 0));
  return [...fewestInTurn(group, kiln, least)].sort((a, b) => firstOf(a) - firstOf(b));
}

/** The fewest loads from `least` on, the first pieces first as far as that goes. */
function fewestInTurn(group: readonly WaitingPiece[], kiln: LoadKiln, least: number): Loads {
  const inTurn = packInTurn(group, kiln, least);
  if (inTurn) return inTurn;
  const plan = { kilns: [kiln], open: [], costOf: () => ({ empty: 1, each: 0 }) };
  const fewest = proposeLoads(group, plan).loads.map((load) => load.pieces);
  return packInTurn(group, kiln, fewest.length) ?? fewest;
}

/** One load after another, each with the pieces next in turn that go into it. */
function fillInTurn(pieces: readonly WaitingPiece[], kiln: LoadKiln): Loads {
  const loads: (readonly WaitingPiece[])[] = [];
  let left = pieces;
  while (left.length > 0) {
    const load = fill(left.slice(0, MOST_SEARCHED), kiln);
    if (load.length === 0) return [...loads, left];
    const gone = new Set(load);
    left = left.filter((piece) => !gone.has(piece));
    loads.push(load);
  }
  return loads;
}

interface Choice {
  readonly kilns: readonly LoadKiln[];
  readonly leastCost: number;
}

function loadsOf(
  group: readonly WaitingPiece[],
  firing: string,
  able: readonly LoadKiln[],
  plan: LoadPlan,
): readonly ProposedLoad[] {
  if (group.length === 0) return [];
  const kilns = able.filter((kiln) => group.some((piece) => pieceProblem(piece, kiln) === undefined));
  const cost = (kiln: LoadKiln): LoadCost => plan.costOf(kiln.id, firing) ?? { empty: 0, each: 0 };
  const open = plan.open.flatMap((load): (Bin & { readonly tops: string })[] => {
    const kiln = plan.kilns.find((one) => one.id === load.kiln);
    return kiln && load.firing === firing ? [{ kiln, fixed: load.pieces, tops: load.id }] : [];
  });
  const certain = greedy(group, kilns, cost);
  for (let count = 0; count <= certain.length; count += 1) {
    const found = cheapest(group, open, choicesOf(kilns, count, group.length, cost), cost);
    if (found) return found.map((load) => ({ ...load, firing }));
  }
  return certain.map((load) => ({ ...load, firing }));
}

type Unnamed = Omit<ProposedLoad, "firing">;

/** One load after another, each in the kiln that takes most of what is left: a way that always exists. */
function greedy(
  group: readonly WaitingPiece[],
  kilns: readonly LoadKiln[],
  cost: (kiln: LoadKiln) => LoadCost,
): readonly Unnamed[] {
  const loads: Unnamed[] = [];
  let left = [...group].sort((a, b) => b.heightCm - a.heightCm || b.footCm2 - a.footCm2);
  while (left.length > 0) {
    const filled = kilns.map((kiln) => ({ kiln, pieces: fill(left, kiln) }));
    const best = filled.reduce((a, b) =>
      b.pieces.length > a.pieces.length ||
      (b.pieces.length === a.pieces.length && cost(b.kiln).empty < cost(a.kiln).empty)
        ? b
        : a,
    );
    if (best.pieces.length === 0) return loads;
    loads.push({ kiln: best.kiln.id, pieces: best.pieces });
    const gone = new Set(best.pieces);
    left = left.filter((piece) => !gone.has(piece));
  }
  return loads;
}

function fill(pieces: readonly WaitingPiece[], kiln: LoadKiln): readonly WaitingPiece[] {
  const taken: WaitingPiece[] = [];
  const refused = new Set<string>();
  for (const piece of pieces) {
    if (taken.length >= kiln.capacity) break;
    const size = `${piece.footCm2} ${piece.heightCm}`;
    if (refused.has(size)) continue;
    if (fitsKiln([...taken, piece], kiln)) taken.push(piece);
    else refused.add(size);
  }
  return taken;
}

/** Every choice of so many kilns, the cheapest first. Where there are too many, the kilns with least room are left out. */
function choicesOf(
  kilns: readonly LoadKiln[],
  count: number,
  pieces: number,
  cost: (kiln: LoadKiln) => LoadCost,
): readonly Choice[] {
  let used = [...kilns].sort((a, b) => b.capacity - a.capacity);
  while (used.length > 2 && choices(used.length, count) > MOST_CHOICES) used = used.slice(0, -1);
  const least = Math.min(...used.map((kiln) => cost(kiln).each));
  const found: Choice[] = [];
  const pick = (from: number, chosen: readonly LoadKiln[], empty: number) => {
    if (chosen.length === count) {
      found.push({ kilns: chosen, leastCost: empty + least * pieces });
      return;
    }
    for (const [at, kiln] of used.entries()) if (at >= from) pick(at, [...chosen, kiln], empty + cost(kiln).empty);
  };
  pick(0, [], 0);
  return found.sort((a, b) => a.leastCost - b.leastCost);
}

/** Ways to choose `count` of `kinds` where a kind may be chosen again. */
function choices(kinds: number, count: number): number {
  let ways = 1;
  for (let at = 1; at < kinds; at += 1) ways = (ways * (count + at)) / at;
  return ways;
}

function cheapest(
  group: readonly WaitingPiece[],
  open: readonly (Bin & { readonly tops: string })[],
  tried: readonly Choice[],
  cost: (kiln: LoadKiln) => LoadCost,
): readonly Unnamed[] | undefined {
  let best: { readonly loads: readonly Unnamed[]; readonly cost: number } | undefined;
  let packed = 0;
  for (const choice of tried) {
    if (packed >= MOST_PACKED || (best && choice.leastCost >= best.cost)) break;
    const bins: readonly (Bin & { readonly tops?: string })[] = [
      ...open,
      ...choice.kilns.map((kiln) => ({ kiln, fixed: [] })),
    ];
    if (!mayHold(group, bins)) continue;
    packed += 1;
    const given = packInto(group, bins);
    if (!given) continue;
    const total = bins.reduce(
      (sum, { kiln, tops }, at) =>
        sum + (tops === undefined ? cost(kiln).empty : 0) + cost(kiln).each * (given[at]?.length ?? 0),
      0,
    );
    if (best && total >= best.cost) continue;
    const loads = bins.flatMap(({ kiln, tops }, at): Unnamed[] => {
      const pieces = given[at] ?? [];
      return pieces.length === 0 ? [] : [{ kiln: kiln.id, pieces, ...(tops === undefined ? {} : { tops }) }];
    });
    best = { loads, cost: total };
  }
  return best?.loads;
}

/** Whether loads could hold the pieces by count and by shelf, as high as the lowest piece lets the levels go. */
function mayHold(group: readonly WaitingPiece[], bins: readonly Bin[]): boolean {
  const lowest = Math.min(...group.map(({ heightCm }) => heightCm));
  const smallest = Math.min(...group.map(({ footCm2 }) => footCm2));
  const needed = group.reduce((total, { footCm2 }) => total + footCm2, 0);
  let [places, shelf] = [0, 0];
  for (const { kiln, fixed } of bins) {
    const room = roomOf(kiln);
    const height = Math.min(lowest, ...fixed.map((piece) => piece.heightCm)) + room.gapCm;
    const levels = Math.min(room.levels, height > 0 ? Math.floor(room.heightCm / height + 1e-9) : room.levels);
    const taken = fixed.reduce((total, { footCm2 }) => total + footCm2, 0);
    if (levels > 0) shelf += Math.max(0, room.levelCm2 * levels - taken);
    const tiny = { id: "", footCm2: smallest, heightCm: lowest, kg: 0, firing: "" };
    places += Math.max(0, Math.min(kiln.capacity - fixed.length, roomFor(tiny, kiln)));
  }
  return places >= group.length && shelf + 1e-6 >= needed;
}

/** What a piece bears of a firing as it is filled and of one filled with its like, in the edition's currency. */
export interface Company {
  readonly here: number;
  readonly full: number;
  /** Pieces like it that the kiln takes. */
  readonly pieces: number;
}

/** Compares a piece's share in a load with its share in a full one; nothing where no more would go in. */
export function companyFor(load: readonly WaitingPiece[], kiln: LoadKiln, cost: LoadCost): Company | undefined {
  const count = load.length;
  const pieces = fullLoad(load, kiln);
  if (count < 1 || pieces <= count) return undefined;
  return { here: cost.empty / count + cost.each, full: cost.empty / pieces + cost.each, pieces };
}
