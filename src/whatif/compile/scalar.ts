// One value of a cell and what the engine does with it: how it is read as a number, a truth or a text, how two of them
// are added and compared. The rules, down to the last bit, are those of hyperformula 3.5.0 with the settings of
// src/engine/engine.ts; tests/property/whatif.test.ts holds them together.

import type { BinarySign } from "../../core/formula/tree";
import { compareNumbers, minus, plus } from "../../engine/closeness";
import { dayOfText } from "./date-text";

/** An error as the engine knows it. `root` is the number of the cell in which it began, or one of the two below. */
export interface ScalarError {
  readonly type: string;
  readonly message: string;
  readonly root: number;
}
/** Began in the cell that is being computed, whichever that is. */
export const HERE = -2;
/** An overflow at the very end of a formula: the engine does not mark it with a cell. */
export const NOWHERE = -1;

export type Scalar = number | string | boolean | null | ScalarError;

/** Whether a value is an error. */
export function isScalarError(value: Scalar | undefined): value is ScalarError {
  return typeof value === "object" && value !== null && "root" in value;
}

/** An error that begins in the cell being computed. */
export function scalarError(type: string, message = ""): ScalarError {
  return { type, message, root: HERE };
}

const COERCION = "Value cannot be coerced to number.";
const OVERFLOW = "NaN or infinite value encountered.";

/** What a step of a computation leaves behind: no negative zero, no infinity, and errors that know where they began. */
export function roundToZero(value: Scalar): Scalar {
  if (typeof value === "number")
    return Number.isFinite(value) ? value + 0 : { type: "NUM", message: OVERFLOW, root: NOWHERE };
  return isScalarError(value) && value.root === NOWHERE ? { ...value, root: HERE } : value;
}

const NUMBER = /^[+-]?(?:\.\d+|\d+(?:\.\d*)?)(?:[eE][+-]?\d+)?$/;

function plainNumber(text: string): number | undefined {
  return NUMBER.test(text) ? Number(text) : undefined;
}

const numbersOfTexts = new Map<string, number | null>();

/** The number a text stands for: plain, in percent, in dollars, a day or a time; undefined where it is none. */
function numberOfText(text: string): number | undefined {
  const known = numbersOfTexts.get(text);
  if (known !== undefined) return known ?? undefined;
  const number = readNumber(text);
  if (numbersOfTexts.size > 50_000) numbersOfTexts.clear();
  numbersOfTexts.set(text, number ?? null);
  return number;
}

function readNumber(text: string): number | undefined {
  if (text === "") return 0;
  const trimmed = text.trim();
  if (trimmed.endsWith("%")) {
    const percents = plainNumber(trimmed.slice(0, -1).trim());
    if (percents !== undefined) return percents / 100;
  }
  const ofMoney = trimmed.startsWith("$") ? trimmed.slice(1) : trimmed.endsWith("$") ? trimmed.slice(0, -1) : undefined;
  const money = ofMoney === undefined ? undefined : plainNumber(ofMoney.trim());
  return money ?? plainNumber(trimmed) ?? dayOfText(text);
}

/** What the engine makes of a text typed where days stand: a number, mostly a day, or the text as it is. */
export function typedDay(text: string): number | string {
  return text === "" ? text : (numberOfText(text) ?? text);
}

/** A value as a number, or the error that stands in the way. */
export function toNumber(value: Scalar): number | ScalarError {
  if (typeof value === "number") return value;
  if (value === null) return 0;
  if (typeof value === "boolean") return value ? 1 : 0;
  if (typeof value === "string") return numberOfText(value) ?? scalarError("VALUE", COERCION);
  return value;
}

/** A value as a truth; undefined where a text is none. */
export function toTruth(value: Scalar): boolean | ScalarError | undefined {
  if (typeof value === "boolean" || isScalarError(value)) return value;
  if (value === null) return false;
  if (typeof value === "number") return value !== 0;
  const text = value.toUpperCase();
  if (text === "TRUE") return true;
  return text === "FALSE" || text === "" ? false : undefined;
}

/** A value as a text. */
function toText(value: Scalar): string | ScalarError {
  if (typeof value === "string" || isScalarError(value)) return value;
  if (value === null) return "";
  return typeof value === "number" ? value.toString() : value ? "TRUE" : "FALSE";
}

const collator = new Intl.Collator("en", { sensitivity: "base", caseFirst: "lower", ignorePunctuation: false });
const RANKS: Readonly<Record<string, number>> = { object: 0, number: 1, string: 2, boolean: 3 };

/** Whether a text may be a day or a time; most begin with a letter. */
const mayBeDay = (text: string) => text !== "" && (text.charCodeAt(0) < 65 || text.charCodeAt(0) > 127);

function dayIn(value: Scalar): Scalar | undefined {
  if (typeof value !== "string") return value;
  return mayBeDay(value) ? dayOfText(value) : undefined;
}

/** Whether a text is compared as the day or the time that it stands for. */
export function isDay(text: string): boolean {
  return dayIn(text) !== undefined;
}

/** Which of two values comes later; neither may be an error. */
export function compare(left: Scalar, right: Scalar): number {
  if (typeof left === "string" || typeof right === "string") {
    const leftDay = dayIn(left);
    const rightDay = dayIn(right);
    if (typeof leftDay === "number" && typeof rightDay === "number") return compareNumbers(leftDay, rightDay);
  }
  const [one, other] = [left ?? blankLike(right), right ?? blankLike(left)];
  if (typeof one === "string" && typeof other === "string") return one === other ? 0 : collator.compare(one, other);
  if (typeof one === "number" && typeof other === "number") return compareNumbers(one, other);
  if (typeof one === "boolean" && typeof other === "boolean") return Number(one) - Number(other);
  return Math.sign((RANKS[typeof one] ?? 0) - (RANKS[typeof other] ?? 0));
}

/** What a blank cell counts as beside another value. */
function blankLike(other: Scalar): Scalar {
  if (typeof other === "string") return "";
  if (typeof other === "number") return 0;
  return typeof other === "boolean" ? false : null;
}

/** Whether each sign that compares holds of an order. */
export const HOLDS: Readonly<Partial<Record<BinarySign, (order: number) => boolean>>> = {
  "=": (order) => order === 0,
  "<>": (order) => order !== 0,
  "<": (order) => order < 0,
  "<=": (order) => order <= 0,
  ">": (order) => order > 0,
  ">=": (order) => order >= 0,
};

const SUMS: Readonly<Partial<Record<BinarySign, (left: number, right: number) => number | ScalarError>>> = {
  "+": plus,
  "-": minus,
  "*": (left, right) => left * right,
  "/": (left, right) => (right === 0 ? scalarError("DIV_BY_ZERO") : left / right),
  "^": (left, right) => left ** right,
};

/** A sign between two values, not yet settled. */
export function combine(sign: BinarySign, left: Scalar, right: Scalar): Scalar {
  if (isScalarError(left)) return left;
  if (isScalarError(right)) return right;
  const holds = HOLDS[sign];
  if (holds) return holds(compare(left, right));
  const sum = SUMS[sign];
  if (!sum) return `${toText(left)}${toText(right)}`;
  const one = toNumber(left);
  if (typeof one !== "number") return one;
  const other = toNumber(right);
  return typeof other === "number" ? sum(one, other) : other;
}

/** A sign before or after one value, not yet settled. */
export function applySign(sign: "-" | "+" | "%" | "()", value: Scalar): Scalar {
  if (sign === "+" || sign === "()" || isScalarError(value)) return value;
  const number = toNumber(value);
  if (typeof number !== "number") return number;
  return sign === "-" ? -number : number / 100;
}

/** Sizes between two powers of ten, far enough from both that the logarithm can't be rounded over either. */
interface Decade {
  readonly low: number;
  readonly high: number;
  readonly scale: number;
}

const FIRST_DECADE = -12;
const DECADES: readonly Decade[] = Array.from({ length: 28 }, (_, at) => {
  const power = FIRST_DECADE + at;
  return { low: 10 ** power * (1 + 1e-9), high: 10 ** (power + 1) * (1 - 1e-9), scale: 10 ** (14 - power) };
});
/** Neighbours are mostly of one size, and a logarithm takes as long as all the rest. */
let decade = DECADES[-FIRST_DECADE] as Decade;

function scaleOf(size: number): number {
  if (size > decade.low && size < decade.high) return decade.scale;
  const power = Math.floor(Math.log10(size));
  decade = DECADES[power - FIRST_DECADE] ?? decade;
  return 10 ** (14 - power);
}

/** A number as the engine gives it out: 15 digits, or as it is where the power of ten for that would be too large. */
export function givenOut(value: number): number {
  if (value === 0) return value;
  const scale = scaleOf(Math.abs(value));
  const rounded = value < 0 ? -Math.round(-value * scale) / scale : Math.round(value * scale) / scale;
  return Number.isFinite(rounded) ? rounded : value;
}
