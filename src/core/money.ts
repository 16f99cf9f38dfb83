// Money is kept at full precision in the sheet and rounded once, where it leaves it.
// Rounding works on decimal digits, not on binary fractions: 1.005 is 1.01, although the nearest double lies below it.
// Half goes away from zero, so that a credit and the debit it mirrors round to the same cents (EC 1103/97 art. 5).
import { fail, ok, problem, type Result } from "./problem";

/** A decimal number without rounding: `units` × 10^−`scale`. */
export interface Decimal {
  readonly units: bigint;
  readonly scale: number;
}

// A double carries 15 decimal digits for certain; what follows is noise of earlier sums.
const CERTAIN_DIGITS = 15;

function decimalText(x: number, decimalsNeeded: number): string {
  const size = Math.abs(x);
  const wholeDigits = size < 1 ? 1 : Math.floor(Math.log10(size)) + 1;
  // Amounts so large that 15 digits would not reach the place to round at keep all they have.
  return wholeDigits + decimalsNeeded <= CERTAIN_DIGITS ? x.toPrecision(CERTAIN_DIGITS) : String(x);
}

/** The decimal that a finite number stands for, to its 15 certain digits, or to more where `decimalsNeeded` asks for it. */
export function toDecimal(x: number, decimalsNeeded = 4): Decimal {
  const match = /^(-?)(\d+)(?:\.(\d+))?(?:e([+-]\d+))?$/.exec(decimalText(x, decimalsNeeded));
  if (!match) throw new RangeError(`not a finite number: ${x}`);
  const [, sign = "", whole = "", fraction = "", exponent = "0"] = match;
  const digits = BigInt(sign + whole + fraction);
  const scale = fraction.length - Number(exponent);
  return scale < 0 ? { units: digits * 10n ** BigInt(-scale), scale: 0 } : { units: digits, scale };
}

/** A decimal's units at a scale that is no smaller than its own. */
export function unitsAtScale(decimal: Decimal, scale: number): bigint {
  return decimal.units * 10n ** BigInt(scale - decimal.scale);
}

/** The exact sum of decimals, whatever their order. */
export function sumDecimals(decimals: readonly Decimal[]): Decimal {
  const scale = decimals.reduce((largest, decimal) => Math.max(largest, decimal.scale), 0);
  return { units: decimals.reduce((sum, decimal) => sum + unitsAtScale(decimal, scale), 0n), scale };
}

/** A decimal in whole steps of 10^−`digits`, exactly half going away from zero. */
export function roundDecimal(decimal: Decimal, digits: number): bigint {
  if (decimal.scale <= digits) return unitsAtScale(decimal, digits);
  const step = 10n ** BigInt(decimal.scale - digits);
  const size = decimal.units < 0n ? -decimal.units : decimal.units;
  const rounded = (2n * size + step) / (2n * step);
  return decimal.units < 0n ? -rounded : rounded;
}

/** Rounds an amount half away from zero at a decimal place; what is not finite comes back as it is. */
export function roundMoney(amount: number, digits = 2): number {
  if (!Number.isFinite(amount)) return amount;
  const decimal = toDecimal(amount, digits + 1);
  if (decimal.scale <= digits) return amount;
  return Number(roundDecimal(decimal, digits)) / 10 ** digits;
}

/** An amount in whole cents (or whatever `digits` makes the smallest coin), rounded half away from zero. */
export function toMinorUnits(amount: number, digits: number): Result<number> {
  const minor = Number.isFinite(amount) ? Number(roundDecimal(toDecimal(amount, digits + 1), digits)) : Number.NaN;
  if (Number.isSafeInteger(minor)) return ok(minor);
  return fail(
    problem({
      code: "money.amount",
      where: "An amount of money",
      found: amount,
      allowed: `a number that can be counted in steps of ${minorUnitsText(1, digits)} up to ${Number.MAX_SAFE_INTEGER} of them`,
    }),
  );
}

/** The amount that a whole number of minor units stands for. */
export function fromMinorUnits(minor: number, digits: number): number {
  return minor / 10 ** digits;
}

/** Minor units written out with a decimal point and every digit of the currency, as in `-12.30`. */
export function minorUnitsText(minor: number, digits: number): string {
  const text = String(Math.abs(minor)).padStart(digits + 1, "0");
  const sign = minor < 0 ? "-" : "";
  return digits === 0 ? `${sign}${text}` : `${sign}${text.slice(0, -digits)}.${text.slice(-digits)}`;
}

/** One part of a total before its leftover units are handed out. */
export interface Quota {
  readonly floor: bigint;
  /** What the floor leaves out, in any unit that is the same for all parts. */
  readonly remainder: bigint;
}

/** Gives one more unit each to the `leftover` parts of largest remainder, ties to the lowest index. */
export function handOutLeftover(quotas: readonly Quota[], leftover: number): readonly number[] {
  const order = quotas.map((quota, index) => ({ index, remainder: quota.remainder }));
  order.sort((a, b) => (a.remainder === b.remainder ? a.index - b.index : a.remainder > b.remainder ? -1 : 1));
  const lucky = new Set(order.slice(0, leftover).map(({ index }) => index));
  return quotas.map((quota, index) => Number(quota.floor) + (lucky.has(index) ? 1 : 0));
}
