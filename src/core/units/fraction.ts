// Exact fractions, so that no conversion brings a rounding of its own.

/** A fraction in lowest terms; the lower part is above 0. */
export interface Fraction {
  readonly top: bigint;
  readonly bottom: bigint;
}

function lowest(top: bigint, bottom: bigint): Fraction {
  let [a, b] = [top < 0n ? -top : top, bottom];
  while (b !== 0n) [a, b] = [b, a % b];
  const common = bottom < 0n ? -a : a;
  return { top: top / common, bottom: bottom / common };
}

/** The fraction that a text of ours stands for: `0.0254` or `5/9`. */
export function fraction(text: string): Fraction {
  const [above = "0", below = "1"] = text.split("/");
  const [whole = "0", decimals = ""] = above.split(".");
  return lowest(BigInt(whole + decimals), BigInt(below) * 10n ** BigInt(decimals.length));
}

export const ONE: Fraction = { top: 1n, bottom: 1n };

/** `a` times `b` to a whole power. */
export function timesFraction(a: Fraction, b: Fraction, power = 1): Fraction {
  const [top, bottom] = power < 0 ? [b.bottom, b.top] : [b.top, b.bottom];
  const times = BigInt(Math.abs(power));
  return lowest(a.top * top ** times, a.bottom * bottom ** times);
}

/** `a` less `b`. */
export function lessFraction(a: Fraction, b: Fraction): Fraction {
  return lowest(a.top * b.bottom - b.top * a.bottom, a.bottom * b.bottom);
}

/** A fraction as the nearest number. */
export function fractionToNumber({ top, bottom }: Fraction): number {
  return Number(top) / Number(bottom);
}
