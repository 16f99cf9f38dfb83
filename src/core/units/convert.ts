// From one unit to another of the same dimension. Factors are exact; the one rounding left is to fifteen digits, so that
// what was typed, kept and shown again is the same number.
import { sameDimension } from "./dimension";
import { lessFraction, timesFraction } from "./fraction";
import type { Unit } from "./parse";

/** A conversion: (value × times + plus) ÷ by, all three exact. */
interface Conversion {
  readonly times: number;
  readonly plus: number;
  readonly by: number;
}

const made = new Map<string, Conversion>();

/** Whether amounts of one unit can be given in another: the same dimension, and no reading mixed with a difference. */
export function isConvertible(from: Unit, to: Unit): boolean {
  return sameDimension(from.dimension, to.dimension) && (from.zero === undefined) === (to.zero === undefined);
}

function conversionBetween(from: Unit, to: Unit): Conversion {
  const key = `${from.text} ${to.text}`;
  const held = made.get(key);
  if (held) return held;
  const ratio = timesFraction(from.factor, to.factor, -1);
  const shift = from.zero && to.zero ? lessFraction(timesFraction(from.zero, ratio), to.zero) : { top: 0n, bottom: 1n };
  const conversion = {
    times: Number(ratio.top * shift.bottom),
    plus: Number(shift.top * ratio.bottom),
    by: Number(ratio.bottom * shift.bottom),
  };
  made.set(key, conversion);
  return conversion;
}

/** A value of one unit in another that it is convertible to; to fifteen digits where anything had to be calculated. */
export function convert(value: number, from: Unit, to: Unit): number {
  const { times, plus, by } = conversionBetween(from, to);
  if (times === by && plus === 0) return value;
  const calculated = (value * times + plus) / by;
  if (plus === 0) return Number(calculated.toPrecision(15));
  // Near the zero of a scale most digits cancel out: what is left counts only as far as the parts were known.
  const largest = Math.max(Math.abs(value * times), Math.abs(plus)) / by;
  const places = 14 - Math.ceil(Math.log10(largest));
  return places < 0 ? Number(calculated.toPrecision(15)) : Number(calculated.toFixed(Math.min(20, places))) + 0;
}

/** A kept value as the shortest number of another unit that comes back as `kept` when it is typed; all digits where none does. */
export function convertShortest(kept: number, from: Unit, to: Unit): number {
  const { times, plus, by } = conversionBetween(from, to);
  const full = (kept * times + plus) / by;
  for (let digits = 1; digits <= 17; digits += 1) {
    const tried = Number(full.toPrecision(digits));
    if (convert(tried, to, from) === kept) return tried;
  }
  return full;
}
