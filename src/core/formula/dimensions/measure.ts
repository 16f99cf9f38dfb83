// What a part of a formula comes to, as far as units go.
import { type Dimension, dimensionName, PLAIN, sameDimension, timesPower } from "../../units/dimension";
import { fractionToNumber } from "../../units/fraction";
import { isOpenUnit, parseUnit } from "../../units/parse";

/** A number in some unit. */
export interface Amount {
  readonly kind: "amount";
  readonly dimension: Dimension;
  /**
   * How much of the SI unit 1 of it is. There are several where a bare number was multiplied or divided by: it may be an
   * amount of something, or lead from one unit to another, as 60 does from minutes to hours. The first takes it as amounts.
   */
  readonly scales: readonly number[];
  /** Whether a temperature is read off or lies between two readings. */
  readonly degrees: "reading" | "difference" | "either";
  /** The units it came from, for messages. */
  readonly unit: string;
  /** What it is, where it is a bare number: that takes the unit of whatever it is added to or compared with. */
  readonly literal?: number;
}

/** What fits anywhere: nothing, text, a date, a truth value, or what is not known. */
interface Open {
  readonly kind: "open";
}

export type Measure = Amount | Open;

export const OPEN: Open = { kind: "open" };
export const COUNT: Amount = { kind: "amount", dimension: PLAIN, scales: [1], degrees: "either", unit: "" };

/** A bare number. */
export function literal(value: number): Amount {
  return { ...COUNT, literal: value };
}

/** Amounts in a unit; words of the maker's own are things that are counted. */
export function inUnit(text: string): Measure {
  if (isOpenUnit(text)) return OPEN;
  const unit = parseUnit(text);
  if (!unit) return /\d/.test(text) ? OPEN : { ...COUNT, unit: text };
  const isDegrees = unit.terms.length === 1 && unit.dimension[3] === 1;
  return {
    kind: "amount",
    dimension: unit.dimension,
    scales: [fractionToNumber(unit.factor)],
    degrees: !isDegrees ? "either" : unit.zero ? "reading" : "difference",
    unit: unit.text,
  };
}

/** An amount in words: `g (weight)`. */
export function describeAmount({ dimension, degrees, unit }: Amount, currency: string): string {
  if (sameDimension(dimension, PLAIN)) return unit === "" ? "a plain number" : `${unit} (a plain number)`;
  const name = degrees === "difference" ? "difference of temperatures" : dimensionName(dimension);
  return unit === "" ? name : `${unit.replaceAll("¤", currency)} (${name})`;
}

const near = (a: number, b: number) => Math.abs(a - b) <= 1e-9 * Math.max(Math.abs(a), Math.abs(b));

/** The scales that both lists have. */
export function commonScales(a: readonly number[], b: readonly number[]): readonly number[] {
  return a.filter((one) => b.some((other) => near(one, other)));
}

/** More ways than these to read the bare numbers of a formula are not followed up. */
const MOST_SCALES = 32;

function everyProduct(a: readonly number[], b: readonly number[]): readonly number[] {
  const products: number[] = [];
  for (const one of a.flatMap((left) => b.map((right) => left * right)))
    if (Number.isFinite(one) && products.length < MOST_SCALES && !products.some((held) => near(held, one)))
      products.push(one);
  return products;
}

/** `left` × `right` (power 1) or `left` ÷ `right` (power −1). */
export function timesAmount(left: Amount, right: Amount, power: 1 | -1): Amount {
  if (left.literal !== undefined && right.literal !== undefined)
    return literal(power === 1 ? left.literal * right.literal : left.literal / right.literal);
  // A bare number may lead to another unit: minutes ÷ 60 are hours, so 1 of them is then 60 times as much.
  const asFactor = ({ literal: value, scales }: Amount, sign: 1 | -1) =>
    value !== undefined && value > 0 ? [1, value ** -sign] : scales.map((scale) => scale ** sign);
  const isOne = left.literal === 1 || right.literal === 1;
  return {
    kind: "amount",
    dimension: timesPower(left.dimension, right.dimension, power),
    scales: everyProduct(asFactor(left, 1), asFactor(right, power)),
    degrees: isOne && left.literal === undefined ? left.degrees : isOne && power === 1 ? right.degrees : "either",
    unit: productUnit(left.unit, right.unit, power),
  };
}

function productUnit(left: string, right: string, power: 1 | -1): string {
  if (right === "") return left;
  if (power === 1) return left === "" ? right : `${left}·${right}`;
  return `${left === "" ? "1" : left}/${/[·/]/.test(right) ? `(${right})` : right}`;
}

/** An amount to a power; undefined where that gives no whole powers. */
export function toPower(base: Amount, power: number): Amount | undefined {
  if (base.literal !== undefined) return literal(base.literal ** power);
  const dimension = timesPower(PLAIN, base.dimension, power);
  if (!dimension.every(Number.isInteger)) return undefined;
  return {
    kind: "amount",
    dimension,
    scales: base.scales.map((scale) => scale ** power),
    degrees: "either",
    unit: base.unit === "" || power === 1 ? base.unit : `(${base.unit})^${power}`,
  };
}
