// Which value of an input makes a result what it is to be. The range is scanned, and every stretch between two values on
// different sides is cut into parts again and again, all of them in one run, until nothing is left between. A result may
// cross several times, jump over the wanted value (loads and starts are whole), keep it over a stretch, or never reach it.

interface Point {
  readonly x: number;
  readonly y: number;
}

export type Crossing =
  /** The result is what it is to be. */
  | { readonly kind: "met"; readonly at: Point }
  /** It is so over a whole stretch. */
  | { readonly kind: "stretch"; readonly from: Point; readonly to: Point }
  /** It jumps from one side to the other: the last value before the step and the first after it. */
  | { readonly kind: "step"; readonly before: Point; readonly after: Point };

export interface BreakEven {
  /** Rising by the input; at most `MOST_CROSSINGS`. */
  readonly crossings: readonly Crossing[];
  /** Where the result came nearest; undefined where it was never a number. */
  readonly nearest: Point | undefined;
  /** Everything that was tried, rising; NaN where the result is no number. */
  readonly tried: readonly Point[];
  /** Whether more crossings were seen than are listed. */
  readonly hasMore: boolean;
}

export interface BreakEvenQuestion {
  readonly low: number;
  readonly high: number;
  readonly target: number;
  /** Whether the input takes whole numbers only. */
  readonly isWhole: boolean;
  /** How many values the range is scanned at. */
  readonly scanned?: number;
}

/** Gives the result at each of the values. */
export type Evaluate = (values: Float64Array) => Promise<Float64Array>;

export const MOST_CROSSINGS = 20;
const PARTS = 24;
const MOST_ROUNDS = 14;

/** Searches a range for the values at which the result is `target`. */
export async function findBreakEven(evaluate: Evaluate, question: BreakEvenQuestion): Promise<BreakEven> {
  const tries = new Tries(evaluate, question);
  await tries.take(scanOf(question));
  for (let round = 0; round < MOST_ROUNDS; round += 1) {
    const finer = tries.betweenSides();
    if (finer.length === 0) break;
    await tries.take(finer);
  }
  // A result may touch the wanted value between two values tried without crossing it: look closer where it was nearest.
  for (let round = 0; round < MOST_ROUNDS && !tries.isMet(); round += 1) {
    const finer = tries.aroundNearest();
    if (finer.length === 0) break;
    await tries.take(finer);
  }
  const all = tries.crossings();
  return {
    crossings: all.slice(0, MOST_CROSSINGS),
    nearest: tries.nearest(),
    tried: tries.points,
    hasMore: all.length > MOST_CROSSINGS,
  };
}

function scanOf({ low, high, isWhole, scanned = 201 }: BreakEvenQuestion): number[] {
  if (!(high > low)) return [low];
  const values = Array.from({ length: scanned }, (_, at) => low + ((high - low) * at) / (scanned - 1));
  return isWhole ? [...new Set(values.map(Math.round))].filter((x) => x >= low && x <= high) : values;
}

/** What was tried so far, in the order of the input. */
class Tries {
  points: readonly Point[] = [];
  private readonly evaluate: Evaluate;
  private readonly question: BreakEvenQuestion;

  constructor(evaluate: Evaluate, question: BreakEvenQuestion) {
    this.evaluate = evaluate;
    this.question = question;
  }

  async take(values: readonly number[]): Promise<void> {
    const found = await this.evaluate(Float64Array.from(values));
    const added = values.map((x, at): Point => ({ x, y: found[at] ?? Number.NaN }));
    this.points = [...this.points, ...added].sort((a, b) => a.x - b.x);
  }

  /** Values within every stretch whose ends lie on different sides and that can still be cut. */
  betweenSides(): number[] {
    const pairs = this.pairs().filter(([a, b]) => this.side(a) !== this.side(b));
    return pairs.slice(0, MOST_CROSSINGS + 1).flatMap(([a, b]) => this.within(a.x, b.x));
  }

  /** Values on both sides of the nearest point so far. */
  aroundNearest(): number[] {
    const nearest = this.nearest();
    if (!nearest) return [];
    const at = this.points.indexOf(nearest);
    const [before, after] = [this.points[at - 1], this.points[at + 1]];
    return [...(before ? this.within(before.x, nearest.x) : []), ...(after ? this.within(nearest.x, after.x) : [])];
  }

  isMet(): boolean {
    return this.crossings().length > 0;
  }

  nearest(): Point | undefined {
    let best: Point | undefined;
    for (const point of this.points) if (!Number.isNaN(point.y) && (!best || this.isNearer(point, best))) best = point;
    return best;
  }

  /** On the same side by the results themselves: far from the wanted value their distances to it are rounded away. */
  private isNearer(one: Point, other: Point): boolean {
    const { target } = this.question;
    if (one.y < target && other.y < target) return one.y > other.y;
    if (one.y > target && other.y > target) return one.y < other.y;
    return Math.abs(one.y - target) < Math.abs(other.y - target);
  }

  crossings(): Crossing[] {
    const found: Crossing[] = [];
    let at = 0;
    while (at < this.points.length) {
      const first = this.points[at];
      if (!first) break;
      if (this.side(first) === 0) {
        let to = at;
        while (this.sideAt(to + 1) === 0) to += 1;
        const last = this.points[to] ?? first;
        const isPoint = last.x - first.x <= this.finest(first.x) * 4;
        found.push(isPoint ? { kind: "met", at: this.closest(at, to) } : { kind: "stretch", from: first, to: last });
        at = to + 1;
        continue;
      }
      const next = this.points[at + 1];
      if (next && this.side(first) * this.side(next) < 0) found.push(this.crossed(first, next));
      at += 1;
    }
    return found;
  }

  private crossed(before: Point, after: Point): Crossing {
    const { target, isWhole } = this.question;
    // What is left between the two is a rounding of the input; a result that still differs there has jumped.
    const jumps = Math.abs(after.y - before.y) > 1e-7 * Math.max(this.spread(), Math.abs(target) * 1e-3);
    if (isWhole || jumps) return { kind: "step", before, after };
    return { kind: "met", at: Math.abs(before.y - target) <= Math.abs(after.y - target) ? before : after };
  }

  private closest(from: number, to: number): Point {
    const { target } = this.question;
    const among = this.points.slice(from, to + 1);
    const best = among.reduce((a, b) => (Math.abs(b.y - target) < Math.abs(a.y - target) ? b : a));
    return best;
  }

  private sideAt(at: number): number | undefined {
    const point = this.points[at];
    return point && this.side(point);
  }

  /** −1 below, 1 above, 0 at the wanted value to within rounding; NaN where there is no number. */
  private side({ y }: Point): number {
    const { target } = this.question;
    if (Math.abs(y - target) <= 1e-12 * Math.max(Math.abs(target), Math.abs(y))) return 0;
    return Math.sign(y - target);
  }

  private pairs(): (readonly [Point, Point])[] {
    return this.points.flatMap((point, at): (readonly [Point, Point])[] => {
      const next = this.points[at + 1];
      return next && !Number.isNaN(point.y) && !Number.isNaN(next.y) ? [[point, next]] : [];
    });
  }

  private spread(): number {
    let [least, most] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
    for (const { y } of this.points)
      if (!Number.isNaN(y)) {
        least = Math.min(least, y);
        most = Math.max(most, y);
      }
    return most > least ? most - least : 0;
  }

  /** The smallest difference of the input that is still told apart. */
  private finest(x: number): number {
    const { low, high, isWhole } = this.question;
    return isWhole ? 1 : Math.max((high - low) * 1e-13, Math.abs(x) * 4e-16);
  }

  private within(from: number, to: number): number[] {
    const finest = this.finest(to);
    if (to - from <= finest * (this.question.isWhole ? 1 : 4)) return [];
    const parts = Math.min(PARTS, Math.ceil((to - from) / finest));
    const values = Array.from({ length: parts - 1 }, (_, at) => from + ((to - from) * (at + 1)) / parts);
    const tidied = this.question.isWhole ? [...new Set(values.map(Math.round))] : values;
    return tidied.filter((x) => x > from && x < to);
  }
}
