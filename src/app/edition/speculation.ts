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
/** How long the engine is kept waiting for the sake of a pending answer, in milliseconds; and of every number at opening. */
const PATIENCE = 50;
const PATIENCE_AT_OPENING = 10_000;
const LARGE_FROM = 50_000;

/** Inputs that are ready, or being made ready. */
interface Prepared {
  readonly inputs: readonly CellName[];
  readonly keys: ReadonlySet<string>;
  readonly isReady: boolean;
}

function preparedFor(inputs: readonly CellName[]): Prepared {
  return { inputs, keys: new Set(inputs.map(cellKeyOf)), isReady: false };
}

/** Inputs to be made ready, unless those of them that are needed are ready already. */
interface Wanted {
  readonly name: string;
  readonly needed: readonly CellName[];
  readonly inputs: readonly CellName[];
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
  /** What the calculator is making ready. */
  #preparing: Prepared | undefined;
  #timer: number | undefined;
  /** What only the engine knows, for the edition as it stands. */
  readonly #hopeless = new Set<string>();
  /** Whether the engine has said nothing yet of a large edition: pieces are answered for, too. */
  #isOpening = false;
  #isGivenUp = false;
  /** How many changes there were: an answer to what was asked before the latest is no answer. */
  #changes = 0;

  constructor(session: Session, platform: SpeculationPlatform) {
    this.#session = session;
    this.#platform = platform;
    this.#stop = effect(() => {
      const state = session.engineState.value;
      if (state === "ready") this.#isOpening = false;
      const isCalculated = state === "ready" || state === "checking";
      if (isCalculated && wantedInView(session, this.#isOpening ? "opening" : "open")) this.#plan();
    });
  }

  open(book: Workbook, excluded: readonly string[]): Pending | undefined {
    this.#forget();
    this.#excluded = excluded;
    this.#dropClient();
    if (this.#isGivenUp || sizeOf(book) < (this.#platform.largeFrom ?? LARGE_FROM)) return undefined;
    this.#isOpening = true;
    const values = this.#prepare(columnWanted(book, "edition", "value"));
    return { values, soon: Promise.race([values, this.#later(PATIENCE_AT_OPENING)]) };
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
    if (!isWithin && isUrgent) {
      const cell = operations.find(({ kind }) => kind === "cell");
      const near = cell?.kind === "cell" ? nearWanted(this.#session.book.peek(), cell) : undefined;
      this.#prepared = preparedFor(near?.inputs ?? prepared?.inputs ?? []);
    }
    const current = this.#prepared;
    const values = client.apply(change, isUrgent ? current?.inputs : undefined).then(
      (patch) => this.#receive(patch, asked, current),
      () => this.#giveUp(),
    );
    if (!isWithin && !isUrgent) return undefined;
    return { values, soon: isWithin && prepared.isReady ? Promise.race([values, this.#later(PATIENCE)]) : undefined };
  }

  /** Takes an answer to a change: what is prepared is ready with it, and of no use without it. Only of the latest. */
  #receive(patch: Patch | undefined, change: number, prepared: Prepared | undefined): Patch | undefined {
    if (change !== this.#changes || !prepared || this.#prepared?.keys !== prepared.keys) return patch;
    if (!patch) this.#forget();
    else if (!prepared.isReady) this.#prepared = { ...prepared, isReady: true };
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
    const state = session.engineState.peek();
    if (this.#preparing || (state !== "ready" && state !== "checking")) return;
    const wanted = wantedInView(session, this.#isOpening ? "opening" : "open");
    const before = this.#changes;
    const patch = wanted && (await this.#prepare(wanted));
    if (patch && this.#changes === before) session.checkValues(patch);
  }

  /** Has inputs made ready, one list after the other; every value of the document, if the calculator can give them. */
  async #prepare({ name, needed, inputs }: Wanted): Promise<Patch | undefined> {
    const keys = this.#prepared?.keys;
    const isOfUse = !this.#isGivenUp && !this.#hopeless.has(name) && inputs.length <= MOST_INPUTS;
    if (!isOfUse || needed.every((cell) => keys?.has(cellKeyOf(cell)))) return undefined;
    const prepared = preparedFor(inputs);
    this.#prepared = prepared;
    this.#preparing = prepared;
    try {
      const client = await this.#opened();
      const opened = await client.prepare(inputs);
      this.#donePreparing(prepared);
      if (this.#prepared !== prepared) return undefined;
      if (!opened.ok) {
        this.#hopeless.add(name);
        return undefined;
      }
      this.#prepared = { ...prepared, isReady: true };
      return opened.patch;
    } catch {
      // The calculator is closed where another document takes the place of this one.
      return this.#preparing === prepared ? this.#giveUp() : undefined;
    }
  }

  #donePreparing(prepared: Prepared): void {
    if (this.#preparing !== prepared) return;
    this.#preparing = undefined;
    // What is in view may be something else by now.
    this.#plan();
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
    this.#preparing = undefined;
  }
}

function sizeOf({ sheets }: Workbook): number {
  return Object.values(sheets).reduce((cells, { rows, columns }) => cells + rows.length * columns.length, 0);
}

/**
 * What the maker may type next: the numbers of the column of the selected cell, on Edition of all its lines. A piece or a
 * firing is soon calculated, but not while a large edition is being opened.
 */
function wantedInView(session: Session, how: "opening" | "open"): Wanted | undefined {
  const [book, sheet, selection] = [session.book.peek(), session.sheet.value, session.selection.value];
  if (session.page.value !== undefined) return undefined;
  if (sheet === "edition") return columnWanted(book, sheet, "value");
  if (selection?.sheet !== sheet) return undefined;
  if (SHEETS.includes(sheet)) return columnWanted(book, sheet, selection.anchor.column);
  return how === "opening" ? nearWanted(book, { sheet, ...selection.anchor }) : undefined;
}

/** The cells of a column in which numbers are typed or may be. */
function columnWanted(book: Workbook, sheet: SheetKey, key: string): Wanted {
  const column = columnOf(book, sheet, key);
  const inputs = column ? book.sheets[sheet].rows.filter((row) => isNumber(column, row)).map(nameIn(sheet, key)) : [];
  return { name: `${sheet} ${key}`, needed: inputs, inputs };
}

/**
 * The cells in which the next number is likely to be typed once a cell is selected: around it in its column, in its row, and
 * on Edition. Nothing where no number is typed in the cell.
 */
function nearWanted(book: Workbook, cell: CellName): Wanted | undefined {
  const { rows, columns } = book.sheets[cell.sheet];
  const at = rows.findIndex(({ id }) => id === cell.row);
  const [row, column] = [rows[at], columnOf(book, cell.sheet, cell.column)];
  if (!row || !column || !isNumber(column, row)) return undefined;
  const inRow = columns.filter((one) => one !== column && isNumber(one, row)).slice(0, MOST_INPUTS / 4);
  const elsewhere = [
    ...inRow.map(({ key }) => ({ sheet: cell.sheet, row: row.id, column: key })),
    ...columnWanted(book, "edition", "value").inputs.slice(0, MOST_INPUTS / 2),
  ];
  const around = MOST_INPUTS - elsewhere.length;
  const from = Math.max(0, at - Math.floor(around / 2));
  const inColumn = rows.slice(from, from + around).filter((one) => isNumber(column, one));
  const inputs = [...inColumn.map(nameIn(cell.sheet, column.key)), ...elsewhere];
  const once = new Map(inputs.map((one) => [cellKeyOf(one), one]));
  return { name: `near ${cell.sheet}`, needed: [cell], inputs: [...once.values()] };
}

function nameIn(sheet: SheetKey, column: string): (row: Row) => CellName {
  return ({ id }) => ({ sheet, row: id, column });
}

function isNumber(column: Column, row: Row): boolean {
  const raw = row.cells[column.key];
  const { kind, type } = specOf(column, row);
  return kind === "input" && type === "number" ? raw === undefined || typeof raw === "number" : typeof raw === "number";
}
