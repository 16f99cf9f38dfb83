// Has the calculator answer before the engine does. It takes the document and every change, as the engine does; inputs that
// the maker looks at are made ready, so that the next change of one of them is answered at once. The engine calculates all
// the same, and what it says stands.
import { effect } from "@preact/signals";
import { type CellName, cellKeyOf, columnOf, specOf } from "../../core/document/access";
import type { Change } from "../../core/document/change";
import type { Column, Row, SheetKey, Workbook } from "../../core/document/workbook";
import type { Patch } from "../../engine/values";
import type { CalculatorClient } from "../../whatif/run/calculator-client";
import { isNumberOf, movesValues } from "../../whatif/run/input-change";
import type { Pending, Speculator } from "./calculation";
import type { Session } from "./session";

/** What speculation needs of the platform. */
export interface SpeculationPlatform {
  startCalculator(): Promise<CalculatorClient>;
  setTimer(run: () => void, ms: number): number;
  clearTimer(timer: number): void;
  /** From so many cells on the calculator answers at opening; in a smaller edition the engine is about as quick. */
  readonly largeFrom?: number;
}

/** Sheets whose numbers reach many pieces; a piece or a firing is soon calculated. */
const SHEETS: readonly SheetKey[] = ["edition", "route", "materials", "kilns", "programmes", "tariffs"];
/** How long nothing else may happen before inputs are made ready, in milliseconds. */
const QUIET = 120;
const MOST_INPUTS = 120;
/** How long the engine is kept waiting for the sake of a pending answer, in milliseconds. */
const PATIENCE = 50;
const LARGE_FROM = 50_000;

/** Inputs that are ready, or being made ready. */
interface Prepared {
  /** Sheet and column. */
  readonly name: string;
  readonly inputs: readonly CellName[];
  readonly keys: ReadonlySet<string>;
  readonly isReady: boolean;
}

function preparedFor(name: string, inputs: readonly CellName[]): Prepared {
  return { name, inputs, keys: new Set(inputs.map(cellKeyOf)), isReady: false };
}

export class Speculation implements Speculator {
  readonly #session: Session;
  readonly #platform: SpeculationPlatform;
  readonly #stop: () => void;
  /** The calculator, once something is asked of it: its document follows every change. */
  #client: CalculatorClient | undefined;
  #starting: Promise<CalculatorClient> | undefined;
  #excluded: readonly string[] = [];
  #prepared: Prepared | undefined;
  #timer: number | undefined;
  /** Columns about which only the engine knows, for the edition as it stands. */
  readonly #hopeless = new Set<string>();
  #isGivenUp = false;
  /** How many changes there were: an answer to what was asked before the latest is no answer. */
  #changes = 0;

  constructor(session: Session, platform: SpeculationPlatform) {
    this.#session = session;
    this.#platform = platform;
    this.#stop = effect(() => {
      const column = columnInView(session);
      const isCalculated = session.engineState.value === "ready" || session.engineState.value === "checking";
      if (isCalculated && session.page.value === undefined && column) this.#plan();
    });
  }

  open(book: Workbook, excluded: readonly string[]): Pending | undefined {
    this.#forget();
    this.#excluded = excluded;
    this.#dropClient();
    if (this.#isGivenUp || sizeOf(book) < (this.#platform.largeFrom ?? LARGE_FROM)) return undefined;
    const values = this.#prepare({ sheet: "edition", key: "value" });
    return { values, soon: values };
  }

  apply(change: Change, isUrgent: boolean): Pending | undefined {
    if (!change.operations.some(movesValues)) return undefined;
    this.#changes += 1;
    const asked = this.#changes;
    const { operations } = change;
    const prepared = this.#prepared;
    // While inputs are being made ready, changes of them are answered right after that.
    const isWithin =
      prepared !== undefined && operations.filter(movesValues).every((one) => isNumberOf(one, prepared.keys));
    if (!isWithin) this.#forget();
    const client = this.#client;
    if (!client) return undefined;
    // Whoever edits before the engine is there goes on beside it: that is made ready with the same work.
    if (!isWithin && isUrgent) this.#prepared = preparedFor("near", numbersNear(this.#session.book.peek(), change));
    const values = client.apply(change, isUrgent ? this.#prepared?.inputs : undefined).then(
      (patch) => this.#receive(patch, asked),
      () => this.#giveUp(),
    );
    if (!isWithin && !isUrgent) return undefined;
    return { values, soon: isWithin && prepared.isReady ? Promise.race([values, this.#later(PATIENCE)]) : undefined };
  }

  /** Takes an answer to a change: what is prepared is ready with it, and of no use without it. Only of the latest. */
  #receive(patch: Patch | undefined, change: number): Patch | undefined {
    if (change !== this.#changes || !this.#prepared) return patch;
    if (!patch) this.#forget();
    else this.#prepared = { ...this.#prepared, isReady: true };
    return patch;
  }

  distrust(): void {
    this.#giveUp();
  }

  close(): void {
    this.#stop();
    this.#giveUp();
  }

  #later(ms: number): Promise<void> {
    return new Promise((done) => this.#platform.setTimer(done, ms));
  }

  #forget(): void {
    this.#prepared = undefined;
    this.#hopeless.clear();
  }

  #giveUp(): undefined {
    this.#isGivenUp = true;
    this.#prepared = undefined;
    this.#dropClient();
    if (this.#timer !== undefined) this.#platform.clearTimer(this.#timer);
    return undefined;
  }

  #plan(): void {
    if (this.#isGivenUp) return;
    if (this.#timer !== undefined) this.#platform.clearTimer(this.#timer);
    this.#timer = this.#platform.setTimer(() => void this.#prepareInView(), QUIET);
  }

  async #prepareInView(): Promise<void> {
    this.#timer = undefined;
    const session = this.#session;
    const column = columnInView(session);
    const state = session.engineState.peek();
    if (!column || (state !== "ready" && state !== "checking")) return;
    const before = this.#changes;
    const patch = await this.#prepare(column);
    if (patch && this.#changes === before) session.checkValues(patch);
  }

  /** Has the numbers of a column made ready; every value of the document, if the calculator can give them. */
  async #prepare(column: { readonly sheet: SheetKey; readonly key: string }): Promise<Patch | undefined> {
    const name = `${column.sheet} ${column.key}`;
    if (this.#isGivenUp || this.#prepared?.name === name || this.#hopeless.has(name)) return undefined;
    const inputs = numbersIn(this.#session.book.peek(), column.sheet, column.key);
    if (inputs.length === 0 || inputs.length > MOST_INPUTS) return undefined;
    const prepared = preparedFor(name, inputs);
    this.#prepared = prepared;
    try {
      const client = await this.#opened();
      const opened = await client.prepare(inputs);
      if (this.#prepared !== prepared) this.#plan();
      else if (opened.ok) {
        this.#prepared = { ...prepared, isReady: true };
        return opened.patch;
      } else this.#hopeless.add(name);
      return undefined;
    } catch {
      return this.#giveUp();
    }
  }

  /** A calculator that has the document as it stands. */
  async #opened(): Promise<CalculatorClient> {
    if (this.#client) return this.#client;
    const starting = this.#starting ?? this.#platform.startCalculator();
    this.#starting = starting;
    const client = await starting;
    if (this.#starting !== starting) {
      if (this.#client !== client) client.close();
      throw new Error("the calculator was closed");
    }
    if (!this.#client) {
      this.#client = client;
      const session = this.#session;
      client.open(session.book.peek(), session.layout, this.#excluded).catch(() => undefined);
    }
    return client;
  }

  #dropClient(): void {
    this.#client?.close();
    this.#client = undefined;
    this.#starting = undefined;
  }
}

function sizeOf({ sheets }: Workbook): number {
  return Object.values(sheets).reduce((cells, { rows, columns }) => cells + rows.length * columns.length, 0);
}

/** The column the maker looks at: that of the selected cell, or the one in which all numbers of the edition stand. */
function columnInView(session: Session): { readonly sheet: SheetKey; readonly key: string } | undefined {
  const sheet = session.sheet.value;
  if (!SHEETS.includes(sheet)) return undefined;
  if (sheet === "edition") return { sheet, key: "value" };
  const selection = session.selection.value;
  return selection?.sheet === sheet ? { sheet, key: selection.anchor.column } : undefined;
}

/** The cells of a column in which numbers are typed or may be. */
function numbersIn(book: Workbook, sheet: SheetKey, key: string): readonly CellName[] {
  const column = columnOf(book, sheet, key);
  return column ? book.sheets[sheet].rows.filter((row) => isNumber(column, row)).map(nameIn(sheet, key)) : [];
}

/** The cells in which the next number is likely to be typed: in the row of a change, and in its column around it. */
function numbersNear(book: Workbook, { operations }: Change): readonly CellName[] {
  const cell = operations.find(({ kind }) => kind === "cell");
  if (cell?.kind !== "cell") return [];
  const { rows, columns } = book.sheets[cell.sheet];
  const at = rows.findIndex(({ id }) => id === cell.row);
  const [row, column] = [rows[at], columnOf(book, cell.sheet, cell.column)];
  if (!row || !column) return [];
  const beside = columns.filter((one) => one !== column && isNumber(one, row)).slice(0, MOST_INPUTS / 2);
  const around = MOST_INPUTS - beside.length;
  const from = Math.max(0, at - Math.floor(around / 2));
  return [
    ...rows
      .slice(from, from + around)
      .filter((one) => isNumber(column, one))
      .map(nameIn(cell.sheet, column.key)),
    ...beside.map(({ key }) => ({ sheet: cell.sheet, row: row.id, column: key })),
  ];
}

function nameIn(sheet: SheetKey, column: string): (row: Row) => CellName {
  return ({ id }) => ({ sheet, row: id, column });
}

function isNumber(column: Column, row: Row): boolean {
  const raw = row.cells[column.key];
  const { kind, type } = specOf(column, row);
  return kind === "input" && type === "number" ? raw === undefined || typeof raw === "number" : typeof raw === "number";
}
