// The formula engine behind the document. It is built from a workbook, given changes, and says which values moved.
import {
  DetailedCellError,
  type ExportedChange,
  HyperFormula,
  type RawCellContent,
  type SimpleCellAddress,
} from "hyperformula";
import { formulaOf, rowOf, typedValueOf } from "../core/document/access";
import { applyChange, type Change } from "../core/document/change";
import { type Column, type Row, SHEET_KEYS, type SheetKey, type Workbook } from "../core/document/workbook";
import { eachSteps } from "../core/sheets/each-step";
import { cellNamer, isUnmarked, toCellError } from "./cell-error";
import { cellListOf, Others } from "./cell-lists";
import { implicitArguments } from "./functions/index";
import { FormulaMarks, isKnownFunction, looksMarked, prepareEngine, unmarked } from "./hyperformula/index";
import { type Layout, layOut, layoutOf } from "./layout";
import { linkFormula, type PreparedFormula, prepareFormula } from "./link";
import { type EngineModel, readModel } from "./model";
import { SET_ASIDE } from "./set-aside";
import type { ColumnPatch, Patch, Value } from "./values";
import { affectedBy, changedWords, type Write, writesFor } from "./writes";

/** How every engine here is set up. */
export const ENGINE_CONFIG = {
  licenseKey: "gpl-v3",
  precisionRounding: 14,
  dateFormats: ["YYYY-MM-DD"],
  undoLimit: 0,
  maxRows: 200_000,
  // Our own names only; the engine's own undo, search index and number guessing stay out of the way.
  useColumnIndex: false,
};

/** What the engine is given for a formula that can't be linked, or is set aside, so that the error begins in its cell. */
const STAND_INS = { "no formula": "=(", "names nothing": "=#REF!", "set aside": `=${SET_ASIDE}()` };

/** More columns than any sheet has. */
const MOST_COLUMNS = 2 ** 20;

interface MovedColumn {
  readonly sheet: SheetKey;
  readonly column: number;
  readonly rows: number[];
  readonly values: Value[];
}

/** Versions are counted over all engines, so that a new one is never taken for the one before. */
let versions = 0;

/** What an engine is built from. */
export interface EngineSource {
  readonly book: Workbook;
  /** Formulas that take too long: they are not calculated, and their cells show an error that says so. */
  readonly excluded: readonly string[];
}

/** A built engine. Dispose of it with `close`. */
export class Engine {
  private book: Workbook;
  private readonly excluded: ReadonlySet<string>;
  private readonly layout: Layout;
  private readonly engine: HyperFormula;
  private readonly sheetIds: Readonly<Record<SheetKey, number>>;
  private readonly keysById = new Map<number, SheetKey>();
  private readonly prepared = new Map<string, PreparedFormula>();
  private readonly marks = new FormulaMarks();
  private nameCell: ReturnType<typeof cellNamer>;
  private version = 0;
  private hasUnknown = false;

  /** `known` is the latest version that another engine gave of this document; this one's is later. */
  constructor(book: Workbook, excluded: readonly string[] = [], known = 0) {
    versions = Math.max(versions, known) + 1;
    this.version = versions;
    prepareEngine();
    this.book = book;
    this.excluded = new Set(excluded);
    this.layout = layoutOf(book);
    this.nameCell = cellNamer(this.layout);
    const sheets = Object.fromEntries(SHEET_KEYS.map((key) => [key, this.contentsOf(key)]));
    this.engine = HyperFormula.buildFromSheets(sheets, ENGINE_CONFIG);
    const ids = SHEET_KEYS.map((key): [SheetKey, number] => [key, this.engine.getSheetId(key) ?? -1]);
    this.sheetIds = Object.fromEntries(ids) as Record<SheetKey, number>;
    for (const [key, id] of ids) this.keysById.set(id, key);
  }

  /** Applies a change of the document; returns every value that moved because of it. */
  apply(change: Change): Patch {
    const before = this.book;
    versions += 1;
    this.version = versions;
    this.book = applyChange(before, change);
    const removed = writesFor(before, this.layout, change, "before");
    const heights = Object.fromEntries(SHEET_KEYS.map((key) => [key, this.layout[key].height])) as Record<
      SheetKey,
      number
    >;
    const grown = layOut(this.layout, change);
    this.nameCell = cellNamer(this.layout);
    const words = changedWords(eachSteps(before), eachSteps(this.book));
    if (changesInputs(change) || words.size > 0) this.prepared.clear();
    if (words.size > 0 || change.operations.some(({ kind }) => kind !== "cell")) this.marks.clear();
    const written = [
      ...removed,
      ...writesFor(this.book, this.layout, change, "after"),
      ...affectedBy(this.book, this.layout, change, words),
    ];
    // Not in one `batch`: its undo entry is searched with every write, even with no undo (measured: quadratic).
    this.engine.suspendEvaluation();
    // Rows go in above the last one of every whole-column range, so that the ranges grow with them.
    for (const [key, extra] of grown) this.engine.addRows(this.sheetIds[key], [heights[key] - 1, extra]);
    this.write(written);
    const moved = this.engine.resumeEvaluation();
    return this.patchFrom(moved);
  }

  /** Every computed value. */
  values(): Patch {
    const others = new Others();
    const columns = SHEET_KEYS.flatMap((key) => {
      const sheet = this.book.sheets[key];
      return sheet.columns.flatMap((column): ColumnPatch[] => {
        const rows = sheet.rows.filter((row) => formulaOf(column, row) !== undefined);
        const index = this.layout[key].columns.get(column.key);
        if (rows.length === 0 || index === undefined) return [];
        const rowIndices = rows.map((row) => this.layout[key].rows.get(row.id) ?? 0);
        const values = cellListOf(rowIndices, (at) => this.valueAt(key, rowIndices[at] ?? 0, index), others);
        return [{ sheet: key, column: index, values }];
      });
    });
    return { columns, others: others.list };
  }

  /** What it computes from and what came of it; nothing if that is the version known already. */
  model(known?: number): EngineModel | undefined {
    if (known === this.version) return undefined;
    const model = readModel(this.book, this.layout, [...this.excluded]);
    return { ...model, version: this.version, values: this.values() };
  }

  /** Whether a formula calls a function that this engine does not have. */
  get callsUnknown(): boolean {
    return this.hasUnknown;
  }

  get latestVersion(): number {
    return this.version;
  }

  /** What another engine is built from that gives the same values. */
  source(): EngineSource {
    return { book: this.book, excluded: [...this.excluded] };
  }

  /** The value of a formula that stands in no cell; it may name inputs and whole columns, but no cell of its own row. */
  calculate(formula: string): Value {
    const value = this.engine.calculateFormula(this.link("edition", "", formula), this.sheetIds.edition);
    return Array.isArray(value) ? null : this.toValue(value, { sheet: this.sheetIds.edition, row: 0, col: 0 });
  }

  /** The engine's text of one cell's formula, for the tests of linking. */
  linked(sheet: SheetKey, row: string, column: string): string | undefined {
    const rowIndex = this.layout[sheet].rows.get(row);
    const columnIndex = this.layout[sheet].columns.get(column);
    if (rowIndex === undefined || columnIndex === undefined) return undefined;
    const formula = this.engine.getCellFormula({ sheet: this.sheetIds[sheet], row: rowIndex, col: columnIndex });
    return formula && unmarked(formula);
  }

  close(): void {
    this.marks.clear();
    this.engine.destroy();
  }

  private contentsOf(key: SheetKey): RawCellContent[][] {
    const sheet = this.book.sheets[key];
    return sheet.rows.map((row) => sheet.columns.map((column) => this.content(key, row, column)));
  }

  private content(sheet: SheetKey, row: Row, column: Column): RawCellContent {
    const formula = formulaOf(column, row);
    if (formula !== undefined) return this.marked(`${sheet} ${column.key}`, formula, this.link(sheet, row.id, formula));
    const typed = typedValueOf(row.cells[column.key]);
    // An apostrophe keeps text text: 007 stays 007, and text that looks like a formula is none.
    return typeof typed === "string" && column.type !== "date" ? `'${typed}` : typed;
  }

  /**
   * A formula's text for the engine, marked where rows of a column share it: it names no column that depends on the row.
   * In another column the same text is another tree, because the engine notes cells of the row by how far they are away.
   */
  private marked(column: string, formula: string, linked: string): string {
    return formula.includes("@") ? linked : this.marks.mark(`${column} ${formula}`, linked);
  }

  private link(sheet: SheetKey, row: string, formula: string): string {
    if (looksMarked(formula)) return STAND_INS["no formula"];
    if (this.excluded.has(formula)) return STAND_INS["set aside"];
    let prepared = this.prepared.get(formula);
    if (!prepared) {
      const inputs = this.layout.edition.rows;
      const steps = eachSteps(this.book);
      prepared = prepareFormula(formula, (word) => inputs.has(word), implicitArguments, steps);
      this.prepared.set(formula, prepared);
      this.hasUnknown ||= prepared.calls.some((name) => !isKnownFunction(name));
    }
    return prepared.problem === undefined
      ? linkFormula(prepared, sheet, row, this.layout)
      : STAND_INS[prepared.problem];
  }

  private write(writes: readonly Write[]): void {
    const seen = new Set<string>();
    for (let at = writes.length - 1; at >= 0; at -= 1) {
      const write = writes[at];
      if (!write) continue;
      const name = `${write.sheet} ${write.at.row} ${write.at.column}`;
      if (seen.has(name)) continue;
      seen.add(name);
      const address = { sheet: this.sheetIds[write.sheet], row: write.at.row, col: write.at.column };
      this.engine.setCellContents(address, this.contentOf(write));
    }
  }

  private contentOf(write: Write): RawCellContent {
    const row = write.row === undefined ? undefined : rowOf(this.book, write.sheet, write.row);
    return row && write.column ? this.content(write.sheet, row, write.column) : null;
  }

  private valueAt(key: SheetKey, row: number, col: number): Value {
    const address = { sheet: this.sheetIds[key], row, col };
    return this.toValue(this.engine.getCellValue(address), address);
  }

  private toValue(value: unknown, at: SimpleCellAddress): Value {
    if (!(value instanceof DetailedCellError)) return value as Value;
    const origin = this.originOf(value, at);
    const sheet = this.keysById.get(origin.sheet);
    return toCellError(value, sheet && this.nameCell(sheet, origin.row, origin.col));
  }

  /** Where an error began. Of some the engine names the first cell that used it: the cell itself is one further up. */
  private originOf(error: DetailedCellError, at: SimpleCellAddress): SimpleCellAddress {
    if (error.address === undefined) return at;
    const first = this.engine.simpleCellAddressFromString(error.address, at.sheet);
    if (first === undefined || !isUnmarked(error)) return first ?? at;
    const above = this.engine.getCellPrecedents(first).find((one): one is SimpleCellAddress => {
      const value = "row" in one ? this.engine.getCellValue(one) : undefined;
      return value instanceof DetailedCellError && value.address === undefined;
    });
    return above ?? first;
  }

  private patchFrom(moved: readonly ExportedChange[]): Patch {
    const byColumn = new Map<number, MovedColumn>();
    for (const one of moved) {
      if (!("address" in one)) continue;
      const { address, newValue } = one;
      const sheet = this.keysById.get(address.sheet);
      if (!sheet) continue;
      const name = address.sheet * MOST_COLUMNS + address.col;
      let column = byColumn.get(name);
      if (!column) {
        column = { sheet, column: address.col, rows: [], values: [] };
        byColumn.set(name, column);
      }
      column.rows.push(address.row);
      column.values.push(this.toValue(newValue, address));
    }
    const others = new Others();
    const columns = Array.from(byColumn.values(), ({ sheet, column, rows, values }) => ({
      sheet,
      column,
      values: cellListOf(rows, (at) => values[at] ?? null, others),
    }));
    return { columns, others: others.list };
  }
}

function changesInputs(change: Change): boolean {
  return change.operations.some(
    (operation) => (operation.kind === "add rows" || operation.kind === "remove rows") && operation.sheet === "edition",
  );
}
