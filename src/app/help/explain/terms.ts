// The signed terms of a sum and the factors of a product, as a formula writes them.
import type { Expression } from "../../../core/formula/tree";

export interface Term {
  readonly sign: "+" | "−";
  readonly of: Expression;
  /** Whether it stands in a SUM, where what is no number counts as nothing. */
  readonly isLoose: boolean;
}

export interface Factor {
  readonly sign: "×" | "÷";
  readonly of: Expression;
}

const opposite = (sign: Term["sign"]) => (sign === "+" ? "−" : "+");
const inverse = (sign: Factor["sign"]) => (sign === "×" ? "÷" : "×");

/** The terms of a sum; undefined where an expression is none. */
export function termsOf(of: Expression): readonly Term[] | undefined {
  const isSum =
    (of.kind === "binary" && (of.sign === "+" || of.sign === "-")) ||
    (of.kind === "unary" && of.sign === "-" && of.of.kind !== "number") ||
    isSumOfSome(of);
  return isSum ? termsIn({ of, sign: "+", isLoose: false }) : undefined;
}

/** A sum of several parts, or of one that is no whole column. */
function isSumOfSome(of: Expression): of is Extract<Expression, { kind: "call" }> {
  if (of.kind !== "call" || of.name !== "SUM") return false;
  const [only] = of.given;
  return of.given.length > 1 || (only !== undefined && (only.kind !== "reference" || only.to.kind !== "column"));
}

/** The terms that a term is itself made of. */
function termsIn(term: Term): readonly Term[] {
  const { of, sign } = term;
  if (of.kind === "binary" && (of.sign === "+" || of.sign === "-")) {
    const right = of.sign === "+" ? sign : opposite(sign);
    return [
      ...termsIn({ of: of.left, sign, isLoose: false }),
      ...termsIn({ of: of.right, sign: right, isLoose: false }),
    ];
  }
  if (of.kind === "unary") return termsIn({ ...term, of: of.of, sign: of.sign === "-" ? opposite(sign) : sign });
  if (isSumOfSome(of)) return of.given.flatMap((one) => termsIn({ of: one, sign, isLoose: true }));
  return [term];
}

/** The factors of a product or a quotient; undefined where an expression is neither. */
export function factorsOf(of: Expression): readonly Factor[] | undefined {
  const isProduct =
    (of.kind === "binary" && (of.sign === "*" || of.sign === "/")) ||
    (of.kind === "call" && of.name === "PRODUCT" && of.given.length > 1);
  return isProduct ? factorsIn(of, "×") : undefined;
}

function factorsIn(of: Expression, sign: Factor["sign"]): readonly Factor[] {
  if (of.kind === "binary" && (of.sign === "*" || of.sign === "/"))
    return [...factorsIn(of.left, sign), ...factorsIn(of.right, of.sign === "*" ? sign : inverse(sign))];
  if (of.kind === "call" && of.name === "PRODUCT" && of.given.length > 1)
    return of.given.flatMap((one) => factorsIn(one, sign));
  return [{ sign, of }];
}
