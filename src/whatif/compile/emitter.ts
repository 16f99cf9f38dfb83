// Puts instructions together. What depends on no input is carried out at once, so that only the rest is left to be done
// for every case; registers that are read no more are used again.
import { bindInstruction } from "../run/execute";
import { indexIn, type ModelColumn, type ModelGrid, type Rows, type VaryingPart } from "./grid";
import type { Instruction, Step } from "./instructions";
import { type Needs, NOBODY } from "./needs";
import {
  CONSTANT,
  type InputMask,
  isErrorKind,
  load,
  makeRegister,
  type Operand,
  type Pool,
  type Register,
  store,
} from "./registers";
import { HERE, isScalarError, NOWHERE, type Scalar, toNumber } from "./scalar";

/** An operand, and what is known of it while compiling. */
export interface EmittedValue extends Operand {
  readonly isVarying: boolean;
  /** Its register is read once more and then free. */
  readonly isTemporary: boolean;
}

/** So few plain sums are done whether they are needed or not. */
const FEW_STEPS = 3;
const TAKES_LONG: readonly Instruction["kind"][] = ["branch", "call", "along", "totals", "fold list"];

const TODAY = { cases: 1, inputs: undefined, inputCount: 0 };

export class Emitter {
  /** What is carried out for every case, and who needs it. */
  readonly steps: Step[] = [];
  readonly needs: Needs;
  /** Where steps are put now: of a branch that may not be taken, into a list of its own. */
  private into = this.steps;
  /** While something shared is compiled it is given registers that nobody has used. */
  private isShared = false;
  private readonly shares = new Map<string, { readonly value: unknown; readonly number: number }>();
  private free = new Map<string, Register[]>();
  private readonly planes = new Map<ModelColumn, { readonly register: Register; readonly number: number }>();
  private readonly literals = new Map<Scalar, EmittedValue>();
  private readonly gathered = new Map<ModelColumn, Map<Rows, EmittedValue>>();

  readonly grid: ModelGrid;
  readonly pool: Pool;
  readonly blockSize: number;
  readonly assumes: boolean;
  private readonly assumed = new Map<VaryingPart, { readonly known: Uint8Array; readonly number: number }>();

  /**
   * `blockSize` is how many cases are answered together; `assumes` whether cells may be taken to stay numbers. `needs` says
   * whether it is followed what is calculated for what.
   */
  constructor(
    grid: ModelGrid,
    { blockSize, assumes, needs }: { readonly blockSize: number; readonly assumes: boolean; readonly needs: Needs },
  ) {
    this.grid = grid;
    this.pool = grid.pool;
    this.blockSize = blockSize;
    this.assumes = assumes;
    this.needs = needs;
  }

  /** Takes it for granted that cells that depend on an input are numbers, and has it looked after. */
  assumeNumbers(column: ModelColumn, rows: readonly number[]): void {
    const fresh = new Map<VaryingPart, number[]>();
    for (const row of rows) {
      const part = column.parts[column.partOf[row] ?? -1];
      if (!part) continue;
      let assumed = this.assumed.get(part);
      if (!assumed) {
        assumed = { known: new Uint8Array(part.rows.indices.length), number: this.needs.makeShared() };
        this.assumed.set(part, assumed);
      }
      this.needs.note(assumed.number);
      const within = indexIn(part.rows, row);
      if (assumed.known[within] === 1) continue;
      assumed.known[within] = 1;
      this.needs.note(column.groupOf[row] ?? NOBODY, assumed.number);
      const list = fresh.get(part);
      if (list) list.push(within);
      else fresh.set(part, [within]);
    }
    for (const [part, list] of fresh)
      this.forAll(this.assumed.get(part)?.number ?? NOBODY, () =>
        this.add(part.register, { kind: "assume", register: part.register, indices: Int32Array.from(list) }),
      );
  }

  /** What several formulas read: compiled once, before whatever is being compiled. */
  shared<Value>(name: string, make: () => Value): Value {
    let share = this.shares.get(name);
    if (!share) {
      const number = this.needs.makeShared();
      share = { value: this.forAll(number, make), number };
      this.shares.set(name, share);
    }
    this.needs.note(share.number);
    return share.value as Value;
  }

  private forAll<Value>(user: number, make: () => Value): Value {
    const [into, before, isShared] = [this.into, this.needs.user, this.isShared];
    [this.into, this.needs.user, this.isShared] = [this.steps, user, true];
    const value = make();
    [this.into, this.needs.user, this.isShared] = [into, before, isShared];
    return value;
  }

  /** A branch that some cases may not need: what it takes is done only where the condition is `when`. */
  branch(
    { condition, when }: { readonly condition: EmittedValue; readonly when: boolean },
    rows: number,
    make: () => EmittedValue,
  ): EmittedValue {
    if (!condition.isVarying) return make();
    const { into, free } = this;
    const steps: Step[] = [];
    // All steps of a branch are done whenever it is: what it writes is nobody else's.
    [this.into, this.free] = [steps, new Map()];
    const value = make();
    [this.into, this.free] = [into, free];
    if (steps.length <= FEW_STEPS && !steps.some(({ instruction }) => TAKES_LONG.includes(instruction.kind))) {
      into.push(...steps);
      return value;
    }
    const inputMask = steps.reduce((all, one) => all | one.inputMask, condition.register.inputMask);
    const count = condition.step === 0 ? 1 : rows;
    into.push({
      instruction: { kind: "branch", condition, when, rows: count, steps },
      inputMask,
      user: this.needs.user,
    });
    return { ...value, isTemporary: value.isTemporary && value.register.inputMask === inputMask };
  }

  /** A value that is the same everywhere. */
  literal(value: Scalar): EmittedValue {
    let known = isScalarError(value) ? undefined : this.literals.get(value);
    if (!known) {
      const register = makeRegister(1, undefined);
      store(this.pool, register, 0, value);
      known = { register, start: 0, step: 0, isVarying: false, isTemporary: false };
      if (!isScalarError(value)) this.literals.set(value, known);
    }
    return known;
  }

  /** Constants as a sum reads them: blanks are 0, truths 1 and 0. What is read as no number stays as it is, and so does what varies. */
  numbersOf(value: EmittedValue, rows: number): EmittedValue {
    const { start, step } = value;
    const count = step === 0 ? 1 : rows;
    const { values } = value.register;
    const isNumber = (row: number) => !Number.isNaN(values[start + row * step] as number);
    let plain = 0;
    while (plain < count && isNumber(plain)) plain += 1;
    if (value.isVarying || plain === count) return value;
    const register = makeRegister(count, undefined);
    for (let row = 0; row < count; row += 1) {
      const read = load(this.pool, value.register, start + row * step);
      const number = toNumber(read);
      store(this.pool, register, row, typeof number === "number" ? number : read);
    }
    return { register, start: 0, step: step === 0 ? 0 : 1, isVarying: false, isTemporary: false };
  }

  /** An instruction over operands: carried out now if none of them varies. */
  emit(
    operands: readonly EmittedValue[],
    rows: number,
    make: (out: Operand, rows: number) => Instruction,
  ): EmittedValue {
    return this.emitWith([], operands, rows, make);
  }

  /** As `emit`, where whole columns are read too. */
  emitWith(
    lists: readonly Register[],
    operands: readonly EmittedValue[],
    rows: number,
    make: (out: Operand, rows: number) => Instruction,
  ): EmittedValue {
    return this.emitRows(lists, operands, operands.some((one) => one.step !== 0) ? rows : 1, make);
  }

  /** As `emitWith`, for so many rows whatever the operands say. */
  emitRows(
    lists: readonly Register[],
    operands: readonly EmittedValue[],
    count: number,
    make: (out: Operand, rows: number) => Instruction,
  ): EmittedValue {
    // Never over one of the operands: a quick loop that does not come through is gone through again.
    const read = [...lists, ...operands.map(({ register }) => register)];
    const inputMask = read.reduce((all, one) => all | one.inputMask, CONSTANT);
    const out = { register: this.take(count, inputMask), start: 0, step: count === 1 ? 0 : 1 };
    for (const one of new Set(operands)) this.release(one, inputMask);
    this.add(out.register, make(out, count));
    return { ...out, isVarying: inputMask !== CONSTANT, isTemporary: true };
  }

  /** Carries out for today what writes or looks at a register, and keeps it where that varies. */
  add({ inputMask }: Register, instruction: Instruction): void {
    if (inputMask !== CONSTANT) this.into.push({ instruction, inputMask, user: this.needs.user });
    bindInstruction(this.pool, instruction)(TODAY);
  }

  /** A register of its own for a number of rows that hang on some inputs. */
  register(width: number, inputMask: InputMask): Register {
    return makeRegister(width, inputMask === CONSTANT ? undefined : this.blockSize, inputMask);
  }

  /** The cells of a column in some rows. */
  own(column: ModelColumn, rows: Rows): EmittedValue {
    const { indices } = rows;
    const first = column.partOf[indices[0] ?? 0] ?? -1;
    const isOne = indices.every((row) => column.partOf[row] === first);
    if (!isOne) return this.from(this.plane(column), rows);
    const part = column.parts[first];
    if (!part) return this.constantsOf(column, rows);
    if (part.rows === rows) return { register: part.register, start: 0, step: 1, isVarying: true, isTemporary: false };
    return this.from(part.register, this.within(part, rows));
  }

  /** One cell. */
  cell(column: ModelColumn, row: number): EmittedValue {
    const part = column.parts[column.partOf[row] ?? -1];
    const [register, start] = part ? [part.register, indexIn(part.rows, row)] : [column.constants, row];
    return { register, start, step: 0, isVarying: part !== undefined, isTemporary: false };
  }

  /** A whole column. */
  list(column: ModelColumn): Register {
    return column.parts.length === 0 ? column.constants : this.plane(column);
  }

  /** The only varying part of a column, if what is constant in it need not be looked at. */
  onlyPart(column: ModelColumn, isNeutral: (value: Scalar, row: number) => boolean): VaryingPart | undefined {
    const [part] = column.parts;
    if (!part || column.parts.length > 1) return undefined;
    for (let row = 0; row < column.height; row += 1)
      if (column.partOf[row] === -1 && !isNeutral(load(this.pool, column.constants, row), row)) return undefined;
    return part;
  }

  /** Makes what was computed of some rows part of their column. */
  settle(column: ModelColumn, rows: Rows, value: EmittedValue, marksOverflow: boolean): void {
    if (!value.isVarying) this.keep(column, rows, value, marksOverflow);
    else {
      const isFitting = value.isTemporary && value.register.width === rows.indices.length;
      const register = isFitting ? value.register : this.copied(value, rows);
      this.addPart(column, rows, register);
      const cells = rows.indices.map((row) => this.grid.cellNumber(column.sheet, column.column, row));
      this.add(register, { kind: "mark", register, cells, marksOverflow });
      const plane = this.planes.get(column)?.register;
      if (plane) this.scatter(plane, register, rows);
    }
  }

  /** A register for cells that vary. */
  addPart(column: ModelColumn, rows: Rows, register: Register): void {
    for (const row of rows.indices) column.partOf[row] = column.parts.length;
    column.parts.push({ rows, register });
  }

  private scatter(plane: Register, from: Register, { indices }: Rows): void {
    plane.inputMask |= from.inputMask;
    this.add(from, { kind: "scatter", into: plane, from, indices });
  }

  private copied(value: EmittedValue, rows: Rows): Register {
    const register = this.register(rows.indices.length, value.register.inputMask);
    const out = { register, start: 0, step: 1 };
    this.add(register, { kind: "sign", sign: "()", out, of: value, rows: rows.indices.length });
    return register;
  }

  private keep(column: ModelColumn, rows: Rows, value: EmittedValue, marksOverflow: boolean): void {
    const { register, start, step } = value;
    const { values } = column.constants;
    for (let at = 0; at < rows.indices.length; at += 1) {
      const row = rows.indices[at] as number;
      const from = start + at * step;
      values[row] = register.values[from] as number;
      if (!Number.isNaN(values[row] as number)) continue;
      const kind = register.kinds[from] as number;
      column.constants.kinds[row] = isErrorKind(kind) ? this.marked(kind, column, row, marksOverflow) : kind;
    }
    this.release(value, CONSTANT);
    const plane = this.planes.get(column)?.register;
    if (plane) this.fillPlane(column, plane, rows.indices);
  }

  private marked(kind: number, column: ModelColumn, row: number, marksOverflow: boolean): number {
    const value = this.pool.valueOf(kind);
    if (!isScalarError(value) || !(value.root === HERE || (value.root === NOWHERE && marksOverflow))) return kind;
    return this.pool.kindOf({ ...value, root: this.grid.cellNumber(column.sheet, column.column, row) });
  }

  private constantsOf(column: ModelColumn, rows: Rows): EmittedValue {
    if (rows.isSpan) return this.from(column.constants, rows);
    let known = this.gathered.get(column)?.get(rows);
    if (!known) {
      known = { ...this.from(column.constants, rows), isTemporary: false };
      const ofColumn = this.gathered.get(column) ?? new Map<Rows, EmittedValue>();
      this.gathered.set(column, ofColumn.set(rows, known));
    }
    return known;
  }

  private from(register: Register, { indices, isSpan }: Rows): EmittedValue {
    const isVarying = register.isPerCase;
    if (isSpan) return { register, start: indices[0] ?? 0, step: 1, isVarying, isTemporary: false };
    const out = { register: this.take(indices.length, register.inputMask), start: 0, step: 1 };
    const from = { register, start: 0, step: 0 };
    this.add(out.register, { kind: "gather", out, from, indices, missing: undefined, marks: false });
    return { ...out, isVarying, isTemporary: true };
  }

  /** Rows of a column as indices within one of its parts. */
  private within(part: VaryingPart, rows: Rows): Rows {
    return this.grid.rows(rows.indices.map((row) => indexIn(part.rows, row)));
  }

  /** A whole column with what varies of it. */
  private plane(column: ModelColumn): Register {
    let plane = this.planes.get(column);
    if (!plane) {
      const register = makeRegister(column.height, this.blockSize, CONSTANT);
      plane = { register, number: this.needs.makeShared() };
      this.planes.set(column, plane);
      this.fillPlane(column, register, column.partOf.keys());
      this.forAll(plane.number, () => {
        for (const part of column.parts) this.scatter(register, part.register, part.rows);
      });
    }
    this.needs.note(plane.number);
    return plane.register;
  }

  private fillPlane({ height, constants }: ModelColumn, plane: Register, rows: Iterable<number>): void {
    for (const row of rows)
      for (let to = row; to < plane.values.length; to += height) {
        plane.values[to] = constants.values[row] as number;
        plane.kinds[to] = constants.kinds[row] as number;
      }
  }

  private take(width: number, inputMask: InputMask): Register {
    const found = this.isShared ? undefined : this.free.get(`${width} ${inputMask}`)?.pop();
    return found ?? this.register(width, inputMask);
  }

  /** Free once the next instruction has read it, unless that is done more often: it must stay what it is in between. */
  private release(value: EmittedValue, readerMask: InputMask): void {
    if (!value.isTemporary || value.register.inputMask !== readerMask) return;
    const name = `${value.register.width} ${readerMask}`;
    const free = this.free.get(name) ?? [];
    free.push(value.register);
    this.free.set(name, free);
  }
}
