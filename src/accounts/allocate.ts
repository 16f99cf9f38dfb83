// Splits money over pieces to the last cent. Who gets an odd cent follows from the piece number alone, never from the order of a list.
import { type Decimal, handOutLeftover, roundDecimal, sumDecimals, toDecimal, unitsAtScale } from "../core/money";
import { fail, ok, type Problem, type Result } from "../core/problem";
import { need, needDifferent, needNumber } from "./checks";

/** A piece and an amount at full precision. */
export interface PieceAmount {
  readonly piece: string;
  readonly amount: number;
}

/** A piece and its whole number of minor units. */
export interface PieceMinor {
  readonly piece: string;
  readonly minor: number;
}

/** Orders piece numbers as people do: 2 before 10, 7 before 07, A-2 before A-10. */
export function comparePieceNumbers(a: string, b: string): number {
  const partsOfA = a.match(/\d+|\D+/g) ?? [];
  const partsOfB = b.match(/\d+|\D+/g) ?? [];
  for (let at = 0; at < Math.min(partsOfA.length, partsOfB.length); at += 1) {
    const order = compareParts(partsOfA[at] ?? "", partsOfB[at] ?? "");
    if (order !== 0) return order;
  }
  return partsOfA.length - partsOfB.length || a.length - b.length || compareText(a, b);
}

function compareParts(a: string, b: string): number {
  const digits = /^\d/;
  if (!digits.test(a) || !digits.test(b)) return compareText(a, b);
  const first = BigInt(a);
  const second = BigInt(b);
  return first < second ? -1 : first > second ? 1 : 0;
}

function compareText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

/**
 * Rounds the amounts of pieces together, so that they sum to their rounded total, or to `totalMinor` where one is given:
 * each goes down or up to the next minor unit, the largest remainders up, ties to the lowest piece number.
 */
export function roundOverPieces(
  amounts: readonly PieceAmount[],
  digits: number,
  totalMinor?: number,
): Result<readonly PieceMinor[]> {
  const problems = [
    ...needDifferent(
      "Piece numbers",
      amounts.map(({ piece }) => piece),
    ),
    ...amounts.flatMap(({ piece, amount }) => needNumber(`The amount of ${piece}`, amount)),
  ];
  if (problems.length > 0) return fail(...problems);
  const inOrder = [...amounts].sort((a, b) => comparePieceNumbers(a.piece, b.piece));
  const rounded = roundTogether(
    inOrder.map(({ amount }) => toDecimal(amount, digits + 1)),
    digits,
    totalMinor,
  );
  if (!rounded.ok) return rounded;
  const minorOf = new Map(inOrder.map(({ piece }, index) => [piece, rounded.value[index] ?? 0]));
  return ok(amounts.map(({ piece }) => ({ piece, minor: minorOf.get(piece) ?? 0 })));
}

/** Rounds decimals together to minor units that sum to their rounded total, or to the one given; ties to the lowest index. */
export function roundTogether(
  decimals: readonly Decimal[],
  digits: number,
  totalMinor?: number,
): Result<readonly number[]> {
  const sum = sumDecimals(decimals);
  const total = totalMinor ?? Number(roundDecimal(sum, digits));
  // A total below zero is rounded as its opposite, so that a credit mirrors its debit.
  const isTurned = sum.units < 0n;
  const scale = Math.max(sum.scale, digits);
  const step = 10n ** BigInt(scale - digits);
  const quotas = decimals.map((decimal) => {
    const units = unitsAtScale(decimal, scale) * (isTurned ? -1n : 1n);
    const remainder = ((units % step) + step) % step;
    return { floor: (units - remainder) / step, remainder };
  });
  const size = isTurned ? -total : total;
  const leftover = size - Number(quotas.reduce((floors, quota) => floors + quota.floor, 0n));
  const unfit = totalProblems(total, leftover, quotas.filter((quota) => quota.remainder > 0n).length);
  if (unfit.length > 0) return fail(...unfit);
  const parts = handOutLeftover(quotas, leftover);
  return ok(isTurned ? parts.map((part) => 0 - part) : parts);
}

function totalProblems(total: number, leftover: number, unrounded: number): readonly Problem[] {
  return need(
    Number.isSafeInteger(total) && leftover >= 0 && leftover <= unrounded,
    "Rounding amounts together",
    total,
    "a total that the amounts reach when each is rounded up or down",
    { code: "split.total" },
  );
}

/**
 * Rounds amounts to minor units that sum to a total calculated elsewhere: each to its nearest, and what is then over or short
 * is handed out one by one to those that were rounded furthest the other way, ties to the first.
 */
export function roundToTotal(amounts: readonly number[], digits: number, totalMinor: number): readonly number[] {
  const exact = amounts.map((amount) => toDecimal(amount, digits + 1));
  const parts = exact.map((decimal) => Number(roundDecimal(decimal, digits)));
  const short = totalMinor - parts.reduce((sum, part) => sum + part, 0);
  const sign = Math.sign(short);
  const rest = (at: number) => ((amounts[at] ?? 0) * 10 ** digits - (parts[at] ?? 0)) * sign;
  // What is nothing stays nothing, unless there is nothing else.
  const some = [...parts.keys()].filter((at) => amounts[at] !== 0);
  const order = (some.length > 0 ? some : [...parts.keys()]).sort((a, b) => rest(b) - rest(a) || a - b);
  for (let handed = 0; handed < Math.abs(short) && order.length > 0; handed += 1) {
    const at = order[handed % order.length] ?? 0;
    parts[at] = (parts[at] ?? 0) + sign;
  }
  return parts;
}
