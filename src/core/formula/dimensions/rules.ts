// What the functions of the formula language do with units. A function that is not listed gives what fits anywhere.

/** How a function's result follows from what it is given. */
export type UnitRule =
  /** All arguments are of one kind, and so is the result. */
  | { readonly kind: "alike" }
  /** The result is of the kind of one argument; those `with` it must be too. */
  | { readonly kind: "as"; readonly at: number; readonly with?: readonly number[] }
  /** A plain number, whatever is counted. */
  | { readonly kind: "count" }
  /** Takes and gives plain numbers. */
  | { readonly kind: "plain" }
  | { readonly kind: "product" | "quotient" | "power" | "root" }
  /** Chooses between values: after a condition, by pairs, or among all that follow the first. */
  | { readonly kind: "branches"; readonly how: "if" | "ifs" | "switch" | "choose" | "else" };

const named = (names: string, rule: UnitRule) => names.split(" ").map((name) => [name, rule] as const);

const RULES: ReadonlyMap<string, UnitRule> = new Map([
  ...named("SUM MIN MAX AVERAGE AVERAGEA MEDIAN MINA MAXA MOD STDEV STDEV.S STDEVP STDEV.P", { kind: "alike" }),
  ...named("CEILING FLOOR MROUND", { kind: "as", at: 0, with: [1] }),
  ...named("ROUND ROUNDUP ROUNDDOWN TRUNC INT ABS EVEN ODD LARGE SMALL N", { kind: "as", at: 0 }),
  ...named("SUMIFS AVERAGEIFS MINIFS MAXIFS INDEX", { kind: "as", at: 0 }),
  ...named("SUMIF AVERAGEIF", { kind: "as", at: 2 }),
  ...named("XLOOKUP", { kind: "as", at: 2, with: [3] }),
  ...named("COUNT COUNTA COUNTBLANK COUNTIF COUNTIFS COUNTUNIQUE MATCH ROWS COLUMNS SIGN LEN", { kind: "count" }),
  ...named("EXP LN LOG LOG10 SIN COS TAN ASIN ACOS ATAN SINH COSH TANH FACT COMBIN", { kind: "plain" }),
  ...named("PRODUCT SUMPRODUCT", { kind: "product" }),
  ...named("QUOTIENT", { kind: "quotient" }),
  ...named("POWER", { kind: "power" }),
  ...named("SQRT", { kind: "root" }),
  ...named("IF", { kind: "branches", how: "if" }),
  ...named("IFS", { kind: "branches", how: "ifs" }),
  ...named("SWITCH", { kind: "branches", how: "switch" }),
  ...named("CHOOSE", { kind: "branches", how: "choose" }),
  ...named("IFERROR IFNA", { kind: "branches", how: "else" }),
]);

/** The rule of a function, if there is one. */
export function unitRule(name: string): UnitRule | undefined {
  return RULES.get(name);
}

/** Which arguments are values to choose between, and which are compared with the first. */
export function branchesOf(
  how: Extract<UnitRule, { kind: "branches" }>["how"],
  count: number,
): { readonly values: readonly number[]; readonly compared: readonly number[] } {
  const all = Array.from({ length: count }, (_, at) => at);
  switch (how) {
    case "if":
    case "choose":
      return { values: all.slice(1), compared: [] };
    case "else":
      return { values: all, compared: [] };
    case "ifs":
      return { values: all.filter((at) => at % 2 === 1), compared: [] };
    case "switch": {
      // A last argument without a partner is taken where nothing else fits.
      const isLeft = (at: number) => count % 2 === 0 && at === count - 1;
      return {
        values: all.filter((at) => at > 0 && (at % 2 === 0 || isLeft(at))),
        compared: all.filter((at) => at % 2 === 1 && !isLeft(at)),
      };
    }
  }
}
