// Where values live while cases are answered: numbers in one typed array, and beside it what stands where there is no
// number. A number is never NaN, so that a loop over numbers need not look at the second array.
import { NOWHERE, type Scalar, type ScalarError } from "./scalar";

/** The inputs that values hang on, a bit each. */
export type InputMask = bigint;
export const CONSTANT: InputMask = 0n;
/** Hanging on any input there is. */
export const ANY_INPUT: InputMask = -1n;

/** Values of a column, or of part of it: `width` of them, for every case of a block or once for all cases. */
export interface Register {
  readonly values: Float64Array;
  readonly kinds: Int32Array;
  readonly width: number;
  readonly isPerCase: boolean;
  inputMask: InputMask;
  /** Whether whoever wrote the values of the latest block knows that all of them are numbers. */
  areNumbers: boolean;
}

/** One value of a register for every row of a computation, or the same one for all of them (`step` 0). */
export interface Operand {
  readonly register: Register;
  readonly start: number;
  readonly step: number;
}

export const BLANK = 0;
export const FALSE = 1;
export const TRUE = 2;
const FIRST_TEXT = 4;
/** Blanks and truths are below this, texts and errors are not. */
export const PLAIN_KINDS = FIRST_TEXT;

/** A new register, blank throughout; for so many cases, or once for all of them. */
export function makeRegister(width: number, cases: number | undefined, inputMask: InputMask = ANY_INPUT): Register {
  const size = width * (cases ?? 1);
  return {
    values: new Float64Array(size).fill(Number.NaN),
    kinds: new Int32Array(size),
    width,
    isPerCase: cases !== undefined,
    inputMask: cases === undefined ? CONSTANT : inputMask,
    areNumbers: false,
  };
}

/** How far apart the values of two cases are. */
export function caseStep({ register }: Operand): number {
  return register.isPerCase ? register.width : 0;
}

/** Texts and errors by number. Those that come up while cases are answered are forgotten again. */
export class Pool {
  private readonly texts: string[] = [];
  private readonly textNumbers = new Map<string, number>();
  private readonly errors: ScalarError[] = [];
  private readonly errorNumbers = new Map<string, number>();
  /** Errors that came up since this was last set to 0. */
  newErrors = 0;

  /** All kinds there are by now are below this. */
  get kinds(): number {
    return FIRST_TEXT + 2 * Math.max(this.texts.length, this.errors.length);
  }

  /** The kind that stands for a value that is no number. */
  kindOf(value: Exclude<Scalar, number>): number {
    if (value === null) return BLANK;
    if (typeof value === "boolean") return value ? TRUE : FALSE;
    if (typeof value === "string") return FIRST_TEXT + 2 * this.textNumber(value);
    return FIRST_TEXT + 1 + 2 * this.errorNumber(value);
  }

  /** The value a kind stands for. */
  valueOf(kind: number): Exclude<Scalar, number> {
    if (kind < FIRST_TEXT) return kind === BLANK ? null : kind === TRUE;
    const number = (kind - FIRST_TEXT) >> 1;
    return (kind & 1) === 0 ? (this.texts[number] ?? "") : (this.errors[number] ?? null);
  }

  /** What is known now, to come back to. */
  mark(): { readonly texts: number; readonly errors: number } {
    return { texts: this.texts.length, errors: this.errors.length };
  }

  /** Forgets what came up since a mark. */
  backTo(mark: { readonly texts: number; readonly errors: number }): void {
    for (const text of this.texts.splice(mark.texts)) this.textNumbers.delete(text);
    for (const error of this.errors.splice(mark.errors)) this.errorNumbers.delete(nameOf(error));
  }

  private textNumber(text: string): number {
    let number = this.textNumbers.get(text);
    if (number === undefined) {
      number = this.texts.length;
      this.texts.push(text);
      this.textNumbers.set(text, number);
    }
    return number;
  }

  private errorNumber(error: ScalarError): number {
    const name = nameOf(error);
    let number = this.errorNumbers.get(name);
    if (number === undefined) {
      number = this.errors.length;
      this.errors.push(error);
      this.errorNumbers.set(name, number);
    }
    if (error.root <= NOWHERE) this.newErrors += 1;
    return number;
  }
}

function nameOf({ type, message, root }: ScalarError): string {
  return `${root} ${type} ${message}`;
}

/** Whether a kind stands for an error. */
export function isErrorKind(kind: number): boolean {
  return kind >= FIRST_TEXT && (kind & 1) === 1;
}

/** The value at an index of a register. */
export function load(pool: Pool, register: Register, at: number): Scalar {
  const number = register.values[at] as number;
  return Number.isNaN(number) ? pool.valueOf(register.kinds[at] as number) : number;
}

/** Puts a value at an index of a register. */
export function store(pool: Pool, register: Register, at: number, value: Scalar): void {
  if (typeof value === "number") {
    register.values[at] = value;
    return;
  }
  register.values[at] = Number.NaN;
  register.kinds[at] = pool.kindOf(value);
}
