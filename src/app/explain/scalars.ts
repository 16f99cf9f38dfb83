// Values as the engine reckons with them: what counts as a number, when two are the same, what a sum snaps to.
// Held against the engine in tests/app/explain/evaluate.test.ts.
import type { BinarySign } from "../../core/expression";
import { isTrouble, type Trouble, type Value } from "../../engine/values";
import { dayNumber } from "./view";

/** Sums and comparisons take differences below this part of the first value for nothing. */
const CLOSE = 1e-13;

/** Stands for an error that a piece of a formula gives, such as a division by nothing. */
export const NO_VALUE: Trouble = { trouble: "no value", message: "" };

/** A value as a number: a blank is 0, text must read as a number or a date. */
export function toNumber(value: Value): number | Trouble {
  if (value === null || value === "") return 0;
  if (typeof value === "number") return value;
  if (typeof value === "boolean") return value ? 1 : 0;
  if (isTrouble(value)) return value;
  const text = value.trim();
  const match = /^([+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:e[+-]?\d+)?)(\s*%)?$/i.exec(text);
  if (match) return Number(match[1]) / (match[2] === undefined ? 1 : 100);
  return dayNumber(text) ?? NO_VALUE;
}

/** A value as yes or no, the way a condition takes it. */
export function toTruth(value: Value): boolean | Trouble {
  if (isTrouble(value)) return value;
  if (typeof value === "boolean") return value;
  if (typeof value === "number") return value !== 0;
  const text = (value ?? "").toLowerCase();
  if (text === "") return false;
  return text === "true" || text === "false" ? text === "true" : NO_VALUE;
}

function toText(value: Exclude<Value, Trouble>): string {
  if (value === null) return "";
  return typeof value === "boolean" ? String(value).toUpperCase() : String(value);
}

/** The sum of two numbers; what is left of nearly equal ones is nothing. */
export function add(left: number, right: number): number {
  const sum = left + right;
  return Math.abs(sum) < CLOSE * Math.abs(left) ? 0 : sum;
}

/** What a sign between two values gives. */
export function combine(sign: BinarySign, left: Value, right: Value): Value {
  if (isTrouble(left)) return left;
  if (isTrouble(right)) return right;
  if (sign === "&") return toText(left) + toText(right);
  return sign === "+" || sign === "-" || sign === "*" || sign === "/" || sign === "^"
    ? reckon(sign, toNumber(left), toNumber(right))
    : isSo(sign, compare(left, right));
}

function reckon(sign: "+" | "-" | "*" | "/" | "^", left: number | Trouble, right: number | Trouble): Value {
  if (isTrouble(left)) return left;
  if (isTrouble(right)) return right;
  const result = {
    "+": () => add(left, right),
    "-": () => add(left, -right),
    "*": () => left * right,
    "/": () => (right === 0 ? Number.NaN : left / right),
    "^": () => left ** right,
  }[sign]();
  return Number.isFinite(result) ? result : NO_VALUE;
}

function isSo(sign: Exclude<BinarySign, "+" | "-" | "*" | "/" | "^" | "&">, order: number): boolean {
  switch (sign) {
    case "=":
      return order === 0;
    case "<>":
      return order !== 0;
    case "<":
      return order < 0;
    case ">":
      return order > 0;
    case "<=":
      return order <= 0;
    case ">=":
      return order >= 0;
  }
}

const RANKS = { number: 0, string: 1, boolean: 2 } as const;

/** Below 0 where the first stands before the second: numbers before texts before yes and no; a blank is as the other. */
function compare(left: Exclude<Value, Trouble>, right: Exclude<Value, Trouble>): number {
  const a = left ?? blankLike(right);
  const b = right ?? blankLike(left);
  if (typeof a === "string" || typeof b === "string") {
    // Texts that are dates stand as days beside each other and beside numbers.
    const [day, other] = [dayOf(a), dayOf(b)];
    if (typeof day === "number" && typeof other === "number") return compareNumbers(day, other);
  }
  if (typeof a === "number" && typeof b === "number") return compareNumbers(a, b);
  if (typeof a === "string" && typeof b === "string") return a.localeCompare(b, "en", { sensitivity: "accent" });
  if (typeof a === "boolean" && typeof b === "boolean") return Number(a) - Number(b);
  return rankOf(a) - rankOf(b);
}

const dayOf = (value: number | string | boolean) => (typeof value === "string" ? dayNumber(value) : value);

const rankOf = (value: number | string | boolean) =>
  typeof value === "number" ? RANKS.number : typeof value === "string" ? RANKS.string : RANKS.boolean;

function blankLike(other: Exclude<Value, Trouble>): number | string | boolean {
  return typeof other === "string" ? "" : typeof other === "boolean" ? false : 0;
}

function compareNumbers(left: number, right: number): number {
  const more = 1 + CLOSE;
  if (right >= 0 && left * more >= right && left <= right * more) return 0;
  if (right <= 0 && left * more <= right && left >= right * more) return 0;
  return left > right ? 1 : -1;
}
