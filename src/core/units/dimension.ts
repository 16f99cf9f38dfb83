// What kind of amount a number is: whole powers of length, mass, time, temperature and money. Counts and shares are plain
// numbers, as in the SI brochure, 9th edition, 2.3.3 (“quantities with unit one”); energy is mass × length² ÷ time².

/** Powers of length, mass, time, temperature and money. */
export type Dimension = readonly [length: number, mass: number, time: number, temperature: number, money: number];

/** The dimension of a plain number. */
export const PLAIN: Dimension = [0, 0, 0, 0, 0];

/** Whether two dimensions are the same. */
export function sameDimension(a: Dimension, b: Dimension): boolean {
  return a.every((power, at) => power === b[at]);
}

/** The dimension of a product: `a` times `b` to a power, whole or half. */
export function timesPower(a: Dimension, b: Dimension, power: number): Dimension {
  const one = (at: 0 | 1 | 2 | 3 | 4) => a[at] + b[at] * power;
  return [one(0), one(1), one(2), one(3), one(4)];
}

const NAMES: readonly (readonly [string, Dimension])[] = [
  ["plain number", PLAIN],
  ["length", [1, 0, 0, 0, 0]],
  ["area", [2, 0, 0, 0, 0]],
  ["volume", [3, 0, 0, 0, 0]],
  ["weight", [0, 1, 0, 0, 0]],
  ["time", [0, 0, 1, 0, 0]],
  ["temperature", [0, 0, 0, 1, 0]],
  ["money", [0, 0, 0, 0, 1]],
  ["energy", [2, 1, -2, 0, 0]],
  ["power", [2, 1, -3, 0, 0]],
  ["flow", [3, 0, -1, 0, 0]],
  ["density", [-3, 1, 0, 0, 0]],
  ["weight per area", [-2, 1, 0, 0, 0]],
  ["heating rate", [0, 0, -1, 1, 0]],
  ["money per time", [0, 0, -1, 0, 1]],
  ["money per weight", [0, -1, 0, 0, 1]],
  ["money per area", [-2, 0, 0, 0, 1]],
  ["money per energy", [-2, -1, 2, 0, 1]],
];
const BASE_NAMES = ["length", "weight", "time", "temperature", "money"] as const;

/** A dimension in words: `weight`, `money per time`, `weight × time`. */
export function dimensionName(dimension: Dimension): string {
  const known = NAMES.find(([, one]) => sameDimension(one, dimension));
  if (known) return known[0];
  const part = (sign: 1 | -1) =>
    BASE_NAMES.flatMap((name, at) => {
      const power = (dimension[at] ?? 0) * sign;
      return power > 0 ? [`${name}${power === 1 ? "" : `^${power}`}`] : [];
    }).join(" × ");
  const below = part(-1);
  return below === "" ? part(1) : `${part(1) || "1"} per ${below}`;
}
