// Puts instructions together. What depends on no input is carried out at once, so that only the rest is left to be done
// for every case; registers that are read no more are used again.
import { makeRun } from "../run/execute";
import { indexIn, type ModelColumn, type ModelGrid, type Rows, type VaryingPart } from "./grid";
import type { Instruction } from "./instructions";
import { isErrorKind, load, makeRegister, type Operand, type Pool, type Register, store } from "./registers";
import { HERE, isScalarError, NOWHERE, type Scalar } from "./scalar";

/** An operand, and what is known of it while compiling. */
export interface EmittedValue extends Operand {
  readonly isVarying: boolean;
  /** Its register is read once more and then free. */
  readonly isTemporary: boolean;
}

type Variability = Pick<EmittedValue, "isVarying">;

const TODAY = { cases: 1, inputs: undefined, inputCount: 0 };

export class Emitter {
  readonly instructions: Instruction[] = [];
  private readonly free = new Map<string, Register[]>();
  private readonly planes = new Map<ModelColumn, Register>();
  private readonly literals = new Map<Scalar, EmittedValue>();
  private readonly gathered = new Map<ModelColumn, Map<Rows, EmittedValue>>();

  readonly grid: ModelGrid;
  readonly pool: Pool;
  readonly blockSize: number;
  readonly assumes: boolean;
  private readonly assumed = new Map<VaryingPart, Uint8Array>();

  /** `blockSize` is how many cases are answered together; `assumes` whether cells may be taken to stay numbers. */
  constructor(grid: ModelGrid, { blockSize, assumes }: { readonly blockSize: number; readonly assumes: boolean }) {
    this.grid = grid;
    this.pool = grid.pool;
    this.blockSize = blockSize;
    this.assumes = assumes;
  }

  /** Takes it for granted that cells that depend on an input are numbers, and has it looked after. */
  assumeNumbers(column: ModelColumn, places: readonly number[]): void {
    const fresh = new Map<VaryingPart, number[]>();
    for (const place of places) {
      const part = column.parts[column.partOf[place] ?? -1];
      if (!part) continue;
      let known = this.assumed.get(part);
      if (!known) {
        known = new Uint8Array(part.rows.places.length);
        this.assumed.set(part, known);
      }
      const within = indexIn(part.rows, place);
      if (known[within] === 1) continue;
      known[within] = 1;
      const list = fresh.get(part);
      if (list) list.push(within);
      else fresh.set(part, [within]);
    }
    for (const [{ register }, list] of fresh) this.push({ op: "assume", register, places: Int32Array.from(list) });
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

  /** An instruction over operands: carried out now if none of them varies. */
  emit(
    operands: readonly EmittedValue[],
    rows: number,
    make: (out: Operand, rows: number) => Instruction,
  ): EmittedValue {
    return this.emitWith({ isVarying: operands.some((one) => one.isVarying) }, operands, rows, make);
  }

  /** As `emit`, where whole columns are read too, so that the operands do not tell whether anything varies. */
  emitWith(
    { isVarying }: Variability,
    operands: readonly EmittedValue[],
    rows: number,
    make: (out: Operand, rows: number) => Instruction,
  ): EmittedValue {
    return this.emitRows({ isVarying }, operands, operands.some((one) => one.step !== 0) ? rows : 1, make);
  }

  /** As `emitWith`, for so many rows whatever the operands say. */
  emitRows(
    { isVarying }: Variability,
    operands: readonly EmittedValue[],
    count: number,
    make: (out: Operand, rows: number) => Instruction,
  ): EmittedValue {
    // Never over one of the operands: a quick loop that does not come through is gone through again.
    const out = { register: this.take(count, isVarying), start: 0, step: count === 1 ? 0 : 1 };
    // A constant that is read for every case stays; what varies is free once the next instruction has read it.
    for (const one of new Set(operands)) if (one.isVarying === isVarying) this.release(one);
    this.add(isVarying, make(out, count));
    return { ...out, isVarying, isTemporary: true };
  }

  /** Carries out an instruction for today, and keeps it where what it gives varies. */
  add(isVarying: boolean, instruction: Instruction): void {
    if (isVarying) this.instructions.push(instruction);
    makeRun(this.pool, [instruction])(TODAY);
  }

  /** Adds an instruction that is carried out for every case, and carries it out for today. */
  push(instruction: Instruction): void {
    this.instructions.push(instruction);
    makeRun(this.pool, [instruction])(TODAY);
  }

  /** The cells of a column in some rows. */
  own(column: ModelColumn, rows: Rows): EmittedValue {
    const { places } = rows;
    const first = column.partOf[places[0] ?? 0] ?? -1;
    const isOne = places.every((place) => column.partOf[place] === first);
    if (!isOne) return this.from({ register: this.plane(column), isVarying: true }, rows);
    const part = column.parts[first];
    if (!part) return this.constantsOf(column, rows);
    if (part.rows === rows) return { register: part.register, start: 0, step: 1, isVarying: true, isTemporary: false };
    return this.from({ register: part.register, isVarying: true }, this.within(part, rows));
  }

  /** One cell. */
  cell(column: ModelColumn, place: number): EmittedValue {
    const part = column.parts[column.partOf[place] ?? -1];
    const [register, start] = part ? [part.register, indexIn(part.rows, place)] : [column.constants, place];
    return { register, start, step: 0, isVarying: part !== undefined, isTemporary: false };
  }

  /** A whole column. */
  list(column: ModelColumn): Register {
    return column.parts.length === 0 ? column.constants : this.plane(column);
  }

  /** The only varying part of a column, if what is constant in it need not be looked at. */
  onlyPart(column: ModelColumn, isNeutral: (value: Scalar, place: number) => boolean): VaryingPart | undefined {
    const [part] = column.parts;
    if (!part || column.parts.length > 1) return undefined;
    for (let place = 0; place < column.height; place += 1)
      if (column.partOf[place] === -1 && !isNeutral(load(this.pool, column.constants, place), place)) return undefined;
    return part;
  }

  /** Makes what was computed of some rows part of their column. */
  settle(column: ModelColumn, rows: Rows, value: EmittedValue, marksOverflow: boolean): void {
    if (!value.isVarying) this.keep(column, rows, value, marksOverflow);
    else {
      const isFitting = value.isTemporary && value.register.width === rows.places.length;
      const register = isFitting ? value.register : this.copied(value, rows);
      this.addPart(column, rows, register);
      const cells = rows.places.map((place) => this.grid.cellNumber(column.sheet, column.column, place));
      this.push({ op: "mark", register, cells, marksOverflow });
      const plane = this.planes.get(column);
      if (plane) this.push({ op: "scatter", into: plane, from: register, places: rows.places });
    }
  }

  /** A register for cells that vary. */
  addPart(column: ModelColumn, rows: Rows, register: Register): void {
    for (const place of rows.places) column.partOf[place] = column.parts.length;
    column.parts.push({ rows, register });
  }

  private copied(value: EmittedValue, rows: Rows): Register {
    const register = makeRegister(rows.places.length, this.blockSize);
    const out = { register, start: 0, step: 1 };
    this.push({ op: "sign", sign: "()", out, of: value, rows: rows.places.length });
    return register;
  }

  private keep(column: ModelColumn, rows: Rows, value: EmittedValue, marksOverflow: boolean): void {
    const { register, start, step } = value;
    const { values } = column.constants;
    for (let at = 0; at < rows.places.length; at += 1) {
      const place = rows.places[at] as number;
      const from = start + at * step;
      values[place] = register.values[from] as number;
      if (!Number.isNaN(values[place] as number)) continue;
      const kind = register.kinds[from] as number;
      column.constants.kinds[place] = isErrorKind(kind) ? this.marked(kind, column, place, marksOverflow) : kind;
    }
    this.release(value);
    const plane = this.planes.get(column);
    if (plane) this.fillPlane(column, plane, rows.places);
  }

  private marked(kind: number, column: ModelColumn, place: number, marksOverflow: boolean): number {
    const value = this.pool.valueOf(kind);
    if (!isScalarError(value) || !(value.root === HERE || (value.root === NOWHERE && marksOverflow))) return kind;
    return this.pool.kindOf({ ...value, root: this.grid.cellNumber(column.sheet, column.column, place) });
  }

  private constantsOf(column: ModelColumn, rows: Rows): EmittedValue {
    const source = { register: column.constants, isVarying: false };
    if (rows.isSpan) return this.from(source, rows);
    let known = this.gathered.get(column)?.get(rows);
    if (!known) {
      known = { ...this.from(source, rows), isTemporary: false };
      const ofColumn = this.gathered.get(column) ?? new Map<Rows, EmittedValue>();
      this.gathered.set(column, ofColumn.set(rows, known));
    }
    return known;
  }

  private from(
    { register, isVarying }: Pick<EmittedValue, "register" | "isVarying">,
    { places, isSpan }: Rows,
  ): EmittedValue {
    if (isSpan) return { register, start: places[0] ?? 0, step: 1, isVarying, isTemporary: false };
    const out = { register: this.take(places.length, isVarying), start: 0, step: 1 };
    const from = { register, start: 0, step: 0 };
    this.add(isVarying, { op: "gather", out, from, places, missing: undefined, marks: false });
    return { ...out, isVarying, isTemporary: true };
  }

  /** Rows of a column as places within one of its parts. */
  private within(part: VaryingPart, rows: Rows): Rows {
    return this.grid.rows(rows.places.map((place) => indexIn(part.rows, place)));
  }

  private plane(column: ModelColumn): Register {
    let plane = this.planes.get(column);
    if (!plane) {
      plane = makeRegister(column.height, this.blockSize);
      this.planes.set(column, plane);
      this.fillPlane(column, plane, column.partOf.keys());
      for (const { rows, register } of column.parts)
        this.push({ op: "scatter", into: plane, from: register, places: rows.places });
    }
    return plane;
  }

  private fillPlane({ height, constants }: ModelColumn, plane: Register, places: Iterable<number>): void {
    for (const place of places)
      for (let to = place; to < plane.values.length; to += height) {
        plane.values[to] = constants.values[place] as number;
        plane.kinds[to] = constants.kinds[place] as number;
      }
  }

  private take(width: number, isVarying: boolean): Register {
    const found = this.free.get(`${width} ${isVarying}`)?.pop();
    return found ?? makeRegister(width, isVarying ? this.blockSize : undefined);
  }

  private release(value: EmittedValue): void {
    if (!value.isTemporary) return;
    const name = `${value.register.width} ${value.isVarying}`;
    const free = this.free.get(name) ?? [];
    free.push(value.register);
    this.free.set(name, free);
  }
}
