// What the library says of errors, as far as the rest of the engine tells them apart. It loads no library.

/** Its messages; a test finds each among its own. */
export const MESSAGES = {
  noFiniteNumber: "NaN or infinite value encountered.",
  wrongCount: "Wrong number of arguments.",
  wrongKind: "Wrong type of argument.",
  noRange: "Cell range not allowed.",
  noNumber: "Value cannot be coerced to number.",
} as const;

export { LEFT_OUT } from "./left-out";
