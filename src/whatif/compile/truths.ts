// AND and OR of plain truths, as conditions mostly are; rows with a text or an error are left to the rules.
import type { Instruction } from "./instructions";
import { at } from "./loops";
import { BLANK, FALSE, type Operand, TRUE } from "./registers";

type Call = Extract<Instruction, { readonly kind: "call" }>;

/** Carries out AND or OR for the rows of one case, from the top; gives the first row that is left to the rules. */
export function truthsLoop({ name, args, out, rows }: Call, inCase: number): number {
  if (name !== "OR" && name !== "AND") return 0;
  const operands: Operand[] = [];
  for (const arg of args) {
    if (arg.kind !== "value") return 0;
    operands.push(arg.value);
  }
  const { values, kinds } = out.register;
  const settles = name === "OR";
  for (let m = 0; m < rows; m += 1) {
    let result = !settles;
    for (const operand of operands) {
      const k = at(operand, inCase, m);
      const number = operand.register.values[k] as number;
      const kind = operand.register.kinds[k] as number;
      const isNumber = !Number.isNaN(number);
      if (!isNumber && kind !== TRUE && kind !== FALSE && kind !== BLANK) return m;
      if ((isNumber ? number !== 0 : kind === TRUE) === settles) result = settles;
    }
    const k = at(out, inCase, m);
    values[k] = Number.NaN;
    kinds[k] = result ? TRUE : FALSE;
  }
  return rows;
}
