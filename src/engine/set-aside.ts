// What stands in the engine for a formula that takes too long.

/** The function that gives the error of such a formula's cell. */
export const SET_ASIDE = "SET_ASIDE";

/** The error's message. */
export const TOOK_TOO_LONG =
  "Its formula takes too long to calculate and was set aside, so that everything else could go on. Write it another way: with smaller numbers, or over fewer cells.";
