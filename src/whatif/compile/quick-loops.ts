// The innermost loops: one sign over many numbers. Each says whether every result was a number that needs no rule; if not,
// what it wrote is of no use, and the values are gone through one by one.
import { EPSILON } from "../../engine/closeness";

/** Many with many: `c[k…] = a[i…] ∘ b[j…]`, `n` of them. */
type ManyMany = (
  c: Float64Array,
  k: number,
  a: Float64Array,
  i: number,
  b: Float64Array,
  j: number,
  n: number,
) => boolean;
/** Many with one, the one on the right or, where it matters, on the left. */
type ManyOne = (c: Float64Array, k: number, a: Float64Array, i: number, y: number, n: number) => boolean;

interface QuickLoops {
  readonly manyMany: ManyMany;
  readonly manyOne: ManyOne;
  readonly oneMany: ManyOne;
}

// An infinite sum times 0 is NaN, and so is everything added to it.
const add: QuickLoops = {
  manyMany(c, k, a, i, b, j, n) {
    let check = 0;
    for (let m = 0; m < n; m += 1) {
      const x = a[i + m] as number;
      const sum = x + (b[j + m] as number);
      if (!(Math.abs(sum) >= EPSILON * Math.abs(x))) return false;
      check += sum * 0;
      c[k + m] = sum + 0;
    }
    return check === 0;
  },
  manyOne(c, k, a, i, y, n) {
    let check = 0;
    for (let m = 0; m < n; m += 1) {
      const x = a[i + m] as number;
      const sum = x + y;
      if (!(Math.abs(sum) >= EPSILON * Math.abs(x))) return false;
      check += sum * 0;
      c[k + m] = sum + 0;
    }
    return check === 0;
  },
  oneMany(c, k, a, i, x, n) {
    const least = EPSILON * Math.abs(x);
    let check = 0;
    for (let m = 0; m < n; m += 1) {
      const sum = x + (a[i + m] as number);
      if (!(Math.abs(sum) >= least)) return false;
      check += sum * 0;
      c[k + m] = sum + 0;
    }
    return check === 0;
  },
};

const subtract: QuickLoops = {
  manyMany(c, k, a, i, b, j, n) {
    let check = 0;
    for (let m = 0; m < n; m += 1) {
      const x = a[i + m] as number;
      const rest = x - (b[j + m] as number);
      if (!(Math.abs(rest) >= EPSILON * Math.abs(x))) return false;
      check += rest * 0;
      c[k + m] = rest + 0;
    }
    return check === 0;
  },
  manyOne: (c, k, a, i, y, n) => add.manyOne(c, k, a, i, -y, n),
  oneMany(c, k, a, i, x, n) {
    const least = EPSILON * Math.abs(x);
    let check = 0;
    for (let m = 0; m < n; m += 1) {
      const rest = x - (a[i + m] as number);
      if (!(Math.abs(rest) >= least)) return false;
      check += rest * 0;
      c[k + m] = rest + 0;
    }
    return check === 0;
  },
};

const multiplyByOne: ManyOne = (c, k, a, i, y, n) => {
  for (let m = 0; m < n; m += 1) {
    const product = (a[i + m] as number) * y;
    if (!(Math.abs(product) < Number.POSITIVE_INFINITY)) return false;
    c[k + m] = product + 0;
  }
  return true;
};

const multiply: QuickLoops = {
  manyMany(c, k, a, i, b, j, n) {
    for (let m = 0; m < n; m += 1) {
      const product = (a[i + m] as number) * (b[j + m] as number);
      if (!(Math.abs(product) < Number.POSITIVE_INFINITY)) return false;
      c[k + m] = product + 0;
    }
    return true;
  },
  manyOne: multiplyByOne,
  oneMany: multiplyByOne,
};

// A division by nothing is infinite or NaN, and so left to the rules.
const divide: QuickLoops = {
  manyMany(c, k, a, i, b, j, n) {
    for (let m = 0; m < n; m += 1) {
      const share = (a[i + m] as number) / (b[j + m] as number);
      if (!(Math.abs(share) < Number.POSITIVE_INFINITY)) return false;
      c[k + m] = share + 0;
    }
    return true;
  },
  manyOne(c, k, a, i, y, n) {
    for (let m = 0; m < n; m += 1) {
      const share = (a[i + m] as number) / y;
      if (!(Math.abs(share) < Number.POSITIVE_INFINITY)) return false;
      c[k + m] = share + 0;
    }
    return true;
  },
  oneMany(c, k, a, i, x, n) {
    for (let m = 0; m < n; m += 1) {
      const share = x / (a[i + m] as number);
      if (!(Math.abs(share) < Number.POSITIVE_INFINITY)) return false;
      c[k + m] = share + 0;
    }
    return true;
  },
};

/** The loops of the four sums. */
export const QUICK_LOOPS = { "+": add, "-": subtract, "*": multiply, "/": divide } as const;
