// Cells' values given to the engine's rules, of which src/whatif/compile/scalar.ts has the one copy, and what comes back.
import type { BinarySign } from "../../../core/formula/tree";
import { type CellError, isCellError, type Value } from "../../../engine/values";
import {
  combine as combineScalars,
  HERE,
  isScalarError,
  toNumber as numberOf,
  roundToZero,
  type Scalar,
  type ScalarError,
  toTruth as truthOf,
} from "../../../whatif/compile/scalar";

/** Stands for an error that a piece of a formula gives, such as a division by nothing. */
export const NO_VALUE: CellError = { title: "no value", message: "" };

/** A cell's error on its way through the rules, which hand errors on as they are. */
interface CarriedError extends ScalarError {
  readonly cause: CellError;
}

/** A value as the rules take it. */
export function toScalar(value: Value): Scalar {
  if (!isCellError(value)) return value;
  const carried: CarriedError = { type: "VALUE", message: "", root: HERE, cause: value };
  return carried;
}

/** What the rules gave, as a value: the error of a cell, or no value where an error began here. */
export function fromScalar(scalar: Scalar): Value {
  const settled = roundToZero(scalar);
  return isScalarError(settled) ? errorOf(settled) : settled;
}

function errorOf(error: ScalarError | CarriedError): CellError {
  return "cause" in error ? error.cause : NO_VALUE;
}

/** A value as a number: a blank is 0, text must read as a number or a date. */
export function valueToNumber(value: Value): number | CellError {
  const number = numberOf(toScalar(value));
  return typeof number === "number" ? number : errorOf(number);
}

/** A value as yes or no, the way a condition takes it. */
export function valueToTruth(value: Value): boolean | CellError {
  const truth = truthOf(toScalar(value));
  return isScalarError(truth) ? errorOf(truth) : (truth ?? NO_VALUE);
}

/** What a sign between two values gives. */
export function combineValues(sign: BinarySign, left: Value, right: Value): Value {
  return fromScalar(combineScalars(sign, toScalar(left), toScalar(right)));
}
