// What lies between inputs and the cells that are wanted: put in order, compiled, and held against the engine for today.
import { type CellName, cellKeyOf } from "../../core/document/access";
import { isCellError, type Patch, type Value } from "../../engine/values";
import { toCellValue } from "./cell-value";
import { compileGroup, compileInput } from "./compile";
import type { Emitter } from "./emitter";
import { type FormulaGroup, type ModelColumn, type ModelGrid, Unsupported } from "./grid";
import type { Step } from "./instructions";
import { orderGroups } from "./order";
import { ANY_INPUT, CONSTANT } from "./registers";

/** No more differences than this are reported. */
const MOST_NOTES = 5;

/** A cell by its column and its row. */
export interface CellAt {
  readonly column: ModelColumn;
  readonly row: number;
}

/** What compiling came to. */
export interface CompiledCells {
  /** The groups of cells that what is wanted names, by however many steps. */
  readonly groups: ReadonlySet<number>;
  /** Those that it is calculated from, and how. */
  readonly needed: ReadonlySet<number>;
  readonly steps: readonly Step[];
}

/** Compiles everything between inputs and outputs, or everything there is where no outputs are named. */
export function compileCells(
  emitter: Emitter,
  inputs: readonly CellAt[],
  outputs: readonly CellAt[] | undefined,
): CompiledCells {
  const { grid } = emitter;
  const typed = inputs.map(({ column, row }) => (column.groupOf[row] ?? -1) < 0);
  const inputOf = new Map<number, Input>();
  for (const [at, { column, row }] of inputs.entries()) {
    const group = grid.setApart(column, row);
    const input = { at, column, row, isTyped: typed[at] ?? false };
    if (group === undefined) addInput(emitter, input, undefined);
    else inputOf.set(group, input);
  }
  const groupsOf = (cells: readonly CellAt[]) =>
    cells.map(({ column, row }) => column.groupOf[row] ?? -1).filter((group) => group >= 0);
  const wanted = () => (outputs ? groupsOf([...inputs, ...outputs]) : [...grid.groups.keys()]);
  const order = orderGroups(grid, wanted, (group) => formulaIn(grid, group));
  for (const number of order) compileOne(emitter, number, inputOf.get(number));
  const groups = new Set(order);
  if (!outputs) return { groups, needed: groups, steps: emitter.steps };
  const needed = emitter.needs.reachedFrom(groupsOf(outputs));
  return { groups, needed, steps: emitter.steps.filter(({ user }) => needed.has(user)) };
}

/** The cells of these names; one that is not there can't be asked about. */
export function cellsAt(grid: ModelGrid, cells: readonly CellName[]): readonly CellAt[] {
  return cells.map((cell) => cellAt(grid, cell));
}

function cellAt(grid: ModelGrid, cell: CellName): CellAt {
  const at = grid.indicesOf(cell);
  if (!at) throw new Unsupported(`${cell.sheet} has no cell ${cell.row}, ${cell.column}`);
  return { column: grid.column(at.sheet, at.column), row: at.row };
}

interface Input extends CellAt {
  readonly at: number;
  /** Whether a value stands there today, and no formula. */
  readonly isTyped: boolean;
}

function compileOne(emitter: Emitter, number: number, input: Input | undefined): void {
  const group = emitter.grid.groups[number];
  if (!group) return;
  emitter.needs.user = number;
  try {
    if (input) addInput(emitter, input, group);
    else compileGroup(emitter, group);
  } catch (error) {
    if (error instanceof Unsupported) throw new Unsupported(`${formulaIn(emitter.grid, group)}: ${error.message}`);
    throw error;
  }
}

function addInput(emitter: Emitter, { at, column, row, isTyped }: Input, group: FormulaGroup | undefined): void {
  const own = group && compileInput(emitter, group, group.node);
  const blank = group?.covered ? compileInput(emitter, group, group.covered) : own;
  // The inputs of a question change together.
  const itself = emitter.needs.areFollowed ? ANY_INPUT : 1n << BigInt(at);
  const inputMask = itself | (own?.register.inputMask ?? CONSTANT) | (blank?.register.inputMask ?? CONSTANT);
  const register = emitter.register(1, inputMask);
  const typed = { register: column.constants, start: row, step: 0 };
  emitter.add(register, {
    kind: "input",
    out: { register, start: 0, step: 0 },
    input: at,
    today: isTyped || !own ? typed : own,
    blank,
  });
  emitter.addPart(column, emitter.grid.rows(Int32Array.of(row)), register);
}

/** A formula as a note names it: with the first cell it stands in. */
function formulaIn(grid: ModelGrid, { sheet, column, rows, formula }: FormulaGroup): string {
  const cell = grid.nameOf(sheet, column, rows[0] ?? 0);
  return `${cell ? cellKeyOf(cell) : "a cell"}, ${formula}`;
}

/** What differs between the engine's values and those of the question just carried out for today. */
export function checkToday(grid: ModelGrid, engine: Patch, groups: ReadonlySet<number>): readonly string[] {
  const notes: string[] = [];
  for (const { sheet, column: at, values } of engine.columns) {
    const column = grid.column(grid.sheetNumber(sheet), at);
    for (let index = 0; index < values.rows.length && notes.length < MOST_NOTES; index += 1) {
      const row = values.rows[index] ?? 0;
      if (!groups.has(column.groupOf[row] ?? -1)) continue;
      const other = values.others[index] ?? -1;
      const live = other < 0 ? (values.numbers[index] ?? null) : (engine.others[other] ?? null);
      const note = difference(grid, column, row, live);
      if (note) notes.push(note);
    }
  }
  return notes;
}

function difference(grid: ModelGrid, column: ModelColumn, row: number, live: Value): string | undefined {
  const ours = toCellValue(grid, grid.valueAt(column, row), column, row, 0);
  if (sameValue(ours, live)) return undefined;
  const group = grid.groups[column.groupOf[row] ?? -1];
  const cell = grid.nameOf(column.sheet, column.column, row);
  return `${cell?.sheet} ${cell?.row} ${cell?.column}: ${show(ours)} here, ${show(live)} in the engine, ${group?.formula}`;
}

const show = (value: Value) => JSON.stringify(value);

/** Whether two values given out are the same, errors in their words and where they began. */
export function sameValue(one: Value, other: Value): boolean {
  if (!isCellError(one) || !isCellError(other)) return Object.is(one, other);
  const [a, b] = [one.from, other.from];
  const isSameCell = a?.sheet === b?.sheet && a?.row === b?.row && a?.column === b?.column;
  return isSameCell && one.title === other.title && one.message === other.message;
}
