// Cells' values given to the engine's rules, of which src/whatif/compile/scalar.ts has the one copy, and what comes back.
import type { BinarySign } from "../../../core/formula/tree";
import { isTrouble, type Trouble, type Value } from "../../../engine/values";
import {
  combine as combineScalars,
  type Fault,
  HERE,
  isFault,
  toNumber as numberOf,
  type Scalar,
  settle,
  toTruth as truthOf,
} from "../../../whatif/compile/scalar";

/** Stands for an error that a piece of a formula gives, such as a division by nothing. */
export const NO_VALUE: Trouble = { trouble: "no value", message: "" };

/** A cell's trouble on its way through the rules, which hand errors on as they are. */
interface CarriedTrouble extends Fault {
  readonly trouble: Trouble;
}

/** A value as the rules take it. */
export function toScalar(value: Value): Scalar {
  if (!isTrouble(value)) return value;
  const carried: CarriedTrouble = { type: "VALUE", message: "", root: HERE, trouble: value };
  return carried;
}

/** What the rules gave, as a value: the trouble of a cell, or no value where an error began here. */
export function fromScalar(scalar: Scalar): Value {
  const settled = settle(scalar);
  return isFault(settled) ? troubleOf(settled) : settled;
}

function troubleOf(fault: Fault | CarriedTrouble): Trouble {
  return "trouble" in fault ? fault.trouble : NO_VALUE;
}

/** A value as a number: a blank is 0, text must read as a number or a date. */
export function toNumber(value: Value): number | Trouble {
  const number = numberOf(toScalar(value));
  return typeof number === "number" ? number : troubleOf(number);
}

/** A value as yes or no, the way a condition takes it. */
export function toTruth(value: Value): boolean | Trouble {
  const truth = truthOf(toScalar(value));
  return isFault(truth) ? troubleOf(truth) : (truth ?? NO_VALUE);
}

/** What a sign between two values gives. */
export function combine(sign: BinarySign, left: Value, right: Value): Value {
  return fromScalar(combineScalars(sign, toScalar(left), toScalar(right)));
}
