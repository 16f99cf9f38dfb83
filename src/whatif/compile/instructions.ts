// A compiled question is a flat list of instructions over registers: plain data, carried out one after the other for a
// block of cases. Nothing is ever turned into code, so that any content-security policy allows it.
import type { BinarySign } from "../../core/formula/tree";
import type { InputMask, Operand, Register } from "./registers";

/** What a function is given: a value a row, or a whole column. */
export type CallArgument =
  | { readonly kind: "value"; readonly value: Operand; readonly isCell: boolean }
  | { readonly kind: "list"; readonly list: Register };

/** Cells of a column that are added to some rows of a sum. */
export interface Addend {
  readonly from: Register;
  readonly indices: Int32Array;
  readonly rows: Int32Array;
  /** Whether the indices follow on one another. */
  readonly isInOrder: boolean;
}

/** An instruction as it stands in the list. */
export interface Step {
  readonly instruction: Instruction;
  /** Which inputs what it writes hangs on. */
  readonly inputMask: InputMask;
  /** For what it is done: see `needs.ts`. */
  readonly user: number;
}

export type Instruction =
  /** What only one branch of a choice needs: done where the condition is `when` in any row of any case. */
  | {
      readonly kind: "branch";
      readonly condition: Operand;
      readonly when: boolean;
      readonly rows: number;
      readonly steps: readonly Step[];
    }
  /** The input of a question: what the case says, or where it says nothing what the cell's formula gives. */
  | {
      readonly kind: "input";
      readonly out: Operand;
      readonly input: number;
      /** What stands there today. */
      readonly today: Operand;
      /** What stands there when nothing is typed. */
      readonly blank: Operand | undefined;
    }
  | {
      readonly kind: "combine";
      readonly sign: BinarySign;
      readonly out: Operand;
      readonly left: Operand;
      readonly right: Operand;
      readonly rows: number;
    }
  | {
      readonly kind: "sign";
      readonly sign: "-" | "+" | "%" | "()";
      readonly out: Operand;
      readonly of: Operand;
      readonly rows: number;
    }
  | {
      readonly kind: "choose";
      readonly out: Operand;
      readonly from: readonly [condition: Operand, whenTrue: Operand, whenFalse: Operand];
      readonly rows: number;
    }
  /** Takes values by their indices; where the index is −1, the value that stands for nothing found. */
  | {
      readonly kind: "gather";
      readonly out: Operand;
      readonly from: Operand;
      readonly indices: Int32Array;
      readonly missing: Operand | undefined;
      /** Whether errors that no cell is marked with get this one. */
      readonly marks: boolean;
    }
  | { readonly kind: "scatter"; readonly into: Register; readonly from: Register; readonly indices: Int32Array }
  | {
      readonly kind: "fold list";
      readonly fold: string;
      readonly out: Operand;
      readonly list: Register;
      /** The rows that may count; all where it is left out. */
      readonly rows: Int32Array | undefined;
    }
  | {
      readonly kind: "fold";
      readonly fold: string;
      readonly out: Operand;
      readonly soFar: Operand | undefined;
      readonly next: Operand;
      readonly nature: "list" | "cell" | "value";
      readonly isLast: boolean;
      readonly rows: number;
    }
  /** Sums of cells of each row, addend after addend: `from` at `indices` is added to the `rows` of the result. */
  | { readonly kind: "sum cells"; readonly out: Operand; readonly addends: readonly Addend[]; readonly rows: number }
  /** Sums of a column by group; −1 belongs to none. */
  | { readonly kind: "totals"; readonly out: Operand; readonly values: Register; readonly groups: Int32Array }
  | {
      readonly kind: "share";
      readonly out: Operand;
      readonly firing: Operand;
      readonly cost: Operand;
      readonly all: Operand;
      readonly weight: Operand;
      readonly rows: number;
    }
  /** Products of 1 − value, or sums of values, over the rows listed for each. */
  | {
      readonly kind: "along";
      readonly what: "KEPT_BEFORE" | "SUM_UP_TO";
      readonly out: Operand;
      readonly list: Register;
      readonly rowsOf: readonly Int32Array[];
      readonly args: readonly CallArgument[];
    }
  | {
      readonly kind: "call";
      readonly name: string;
      readonly out: Operand;
      readonly args: readonly CallArgument[];
      readonly rows: number;
    }
  /** What was taken for granted: numbers stand at these indices. Where not, the block is answered more carefully. */
  | { readonly kind: "assume"; readonly register: Register; readonly indices: Int32Array }
  /** Marks errors that began here with their cells, numbered from `first` or one by one. */
  | { readonly kind: "mark"; readonly register: Register; readonly cells: Int32Array; readonly marksOverflow: boolean };
