// How many to start, plainly: chances summed count by count, starts and splits tried one after the other; see independent.ts.

/** Chances of 0, 1, … n good pieces when every piece comes good by itself. */
function counts(starts: number, share: number): number[] {
  let chances = [1];
  for (let piece = 0; piece < starts; piece += 1)
    chances = Array.from(
      { length: piece + 2 },
      (_, k) => (chances[k] ?? 0) * (1 - share) + (k > 0 ? (chances[k - 1] ?? 0) * share : 0),
    );
  return chances;
}

const atLeast = (chances: readonly number[], wanted: number) =>
  chances.reduce((sum, chance, k) => (k >= wanted ? sum + chance : sum), 0);

export interface Tiers {
  readonly standard: number;
  readonly special: number;
  /** What the steps for all leave, and what those for special pieces leave of that. */
  readonly all: number;
  readonly own: number;
}

/** P(both tiers are delivered) for each number of special starts. */
function chances({ standard, special, all, own }: Tiers, starts: number): number[] {
  return Array.from(
    { length: starts + 1 },
    (_, of) => atLeast(knownCounts(starts - of, all), standard) * atLeast(knownCounts(of, all * own), special),
  );
}

const known = new Map<string, number[]>();
function knownCounts(starts: number, share: number): number[] {
  const name = `${starts} ${share}`;
  const found = known.get(name) ?? counts(starts, share);
  known.set(name, found);
  return found;
}

/** The special starts that are likeliest to deliver both; of equals the nearest to what losses alone ask for. */
export function likeliest(tiers: Tiers, starts: number, list = chances(tiers, starts)): number {
  const { standard, special, own } = tiers;
  if (special === 0) return 0;
  if (standard === 0) return starts;
  const usual = Math.round((starts * (special / own)) / (special / own + standard));
  if (starts < standard + special) return Math.min(starts, usual);
  const best = Math.max(...list);
  let found = -1;
  for (const [of, chance] of list.entries())
    if (chance >= best * (1 - 1e-10) && (found < 0 || Math.abs(of - usual) < Math.abs(found - usual))) found = of;
  return found;
}

/** P(both tiers are delivered) with the likeliest split. */
export function bestChance(tiers: Tiers, starts: number): number {
  const list = chances(tiers, starts);
  return list[likeliest(tiers, starts, list)] ?? 0;
}

/** The fewest starts that deliver both tiers often enough. */
export function fewest(tiers: Tiers, confidence: number): number {
  let starts = tiers.standard + tiers.special;
  while (bestChance(tiers, starts) < confidence - 1e-12) starts += 1;
  return starts;
}

export interface Seen {
  readonly good: number;
  readonly of: number;
}

/** Chances of 0, 1, … n good pieces by Pólya's urn: each piece drawn speaks for those to come. */
function urn(starts: number, good: number, lost: number): number[] {
  let list = [1];
  for (let drawn = 0; drawn < starts; drawn += 1) {
    const next = new Array<number>(drawn + 2).fill(0);
    list.forEach((chance, k) => {
      const isGood = (good + k) / (good + lost + drawn);
      next[k + 1] = (next[k + 1] ?? 0) + chance * isGood;
      next[k] = (next[k] ?? 0) + chance * (1 - isGood);
    });
    list = next;
  }
  return list;
}

/** P(both tiers are delivered) when yields are known from counts only; every draw from one urn for the steps for all. */
export function unsureChance(
  tiers: Pick<Tiers, "standard" | "special">,
  starts: number,
  of: number,
  all: Seen,
  own?: Seen,
) {
  const { standard, special } = tiers;
  const [good, lost] = [all.good + 0.5, all.of - all.good + 0.5];
  let sum = 0;
  for (const [through, chance] of urn(of, good, lost).entries()) {
    if (through < special) continue;
    const ofOwn = own ? atLeast(urn(through, own.good + 0.5, own.of - own.good + 0.5), special) : 1;
    sum += chance * ofOwn * atLeast(urn(starts - of, good + through, lost + of - through), standard);
  }
  return sum;
}

/** The fewest starts when yields are known from counts only. */
export function fewestUnsure(
  tiers: Pick<Tiers, "standard" | "special">,
  confidence: number,
  all: Seen,
  own?: Seen,
): number {
  for (let starts = tiers.standard + tiers.special; ; starts += 1) {
    const splits = tiers.special === 0 ? [0] : Array.from({ length: starts + 1 }, (_, of) => of);
    // Far from the usual split there is no chance to speak of: only those around it are worth the trouble.
    const usual = (starts * tiers.special) / (tiers.standard + tiers.special || 1);
    for (const of of splits)
      if (Math.abs(of - usual) <= 3 + usual / 4 && unsureChance(tiers, starts, of, all, own) >= confidence - 1e-12)
        return starts;
  }
}
