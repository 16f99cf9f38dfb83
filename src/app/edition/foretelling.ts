// Looks ahead of the engine. Numbers such as the wage reach every cell of every piece, and the engine takes its time for
// that: while the maker looks at such a number, what hangs on it and on its neighbours is compiled, so that the next change
// of one of them is answered at once. The engine reckons all the same, and what it says stands.
import { effect } from "@preact/signals";
import { type CellName, cellKeyOf, columnOf, rawAt, specOf } from "../../core/document/access";
import type { Change, Operation } from "../../core/document/change";
import type { Row, SheetKey, Workbook } from "../../core/document/workbook";
import type { EngineClient } from "../../engine/client";
import type { AheadClient } from "../../whatif/run/ahead-client";
import type { Foreteller, Foretold } from "./reckoning";
import type { Session } from "./session";

/** What looking ahead needs of the world. */
export interface ForetellingWorld {
  startAhead(engine: EngineClient): Promise<AheadClient>;
  setTimer(run: () => void, ms: number): number;
  clearTimer(timer: number): void;
}

/** Sheets whose numbers reach many pieces; a piece or a firing is soon reckoned. */
const SHEETS: readonly SheetKey[] = ["edition", "route", "materials", "kilns", "programmes", "tariffs"];
/** How long nothing else may happen before the work begins, in milliseconds. */
const QUIET = 120;
const MOST_INPUTS = 120;
/** How long the engine is kept waiting for the sake of what is foretold, in milliseconds. */
const PATIENCE = 50;

/** Inputs that are ready, or being made ready. */
interface Foreseen {
  /** Sheet and column. */
  readonly name: string;
  readonly inputs: readonly CellName[];
  readonly keys: ReadonlySet<string>;
  /** Who has them ready, once they are. */
  readonly client?: AheadClient;
}

export class Foretelling implements Foreteller {
  private readonly session: Session;
  private readonly world: ForetellingWorld;
  private readonly stop: () => void;
  private asked: { readonly of: EngineClient; readonly client: Promise<AheadClient> } | undefined;
  private foreseen: Foreseen | undefined;
  private timer: number | undefined;
  /** Columns about which only the engine knows, for the edition as it stands. */
  private readonly hopeless = new Set<string>();
  private isGivenUp = false;

  constructor(session: Session, world: ForetellingWorld) {
    this.session = session;
    this.world = world;
    this.stop = effect(() => {
      const column = columnInView(session);
      if (session.engineState.value === "ready" && session.page.value === undefined && column) this.plan();
    });
  }

  foretell(change: Change): Foretold | undefined {
    const { foreseen, asked, session } = this;
    if (!change.operations.every((operation) => isWithin(operation, foreseen))) {
      this.forget();
      return undefined;
    }
    const touchesCells = change.operations.some(({ kind }) => kind === "cell");
    if (!foreseen?.client || asked?.of !== session.reckoner || !touchesCells) return undefined;
    const book = session.book.peek();
    const numbers = Float64Array.from(foreseen.inputs, (cell) => {
      const raw = rawAt(book, cell);
      return typeof raw === "number" ? raw : Number.NaN;
    });
    const values = foreseen.client.foretell(numbers).then(
      (patch) => {
        if (!patch && this.foreseen === foreseen) this.forget();
        return patch;
      },
      () => this.giveUp(),
    );
    return { values, soon: Promise.race([values, this.later(PATIENCE)]) };
  }

  forget(): void {
    this.foreseen = undefined;
    this.hopeless.clear();
  }

  wasWrong(): void {
    // What it says is held against the engine when it is made ready; should it ever differ later, it says nothing more.
    this.giveUp();
  }

  close(): void {
    this.stop();
    this.giveUp();
  }

  private later(ms: number): Promise<void> {
    return new Promise((done) => this.world.setTimer(done, ms));
  }

  private giveUp(): undefined {
    this.isGivenUp = true;
    this.foreseen = undefined;
    this.dropClient();
    if (this.timer !== undefined) this.world.clearTimer(this.timer);
    return undefined;
  }

  private plan(): void {
    if (this.isGivenUp) return;
    if (this.timer !== undefined) this.world.clearTimer(this.timer);
    this.timer = this.world.setTimer(() => void this.look(), QUIET);
  }

  private async look(): Promise<void> {
    this.timer = undefined;
    const { session } = this;
    const column = columnInView(session);
    if (this.isGivenUp || !column || session.engineState.peek() !== "ready") return;
    const name = `${column.sheet} ${column.key}`;
    const isKnown = this.foreseen?.name === name && this.asked?.of === session.reckoner;
    if (isKnown || this.hopeless.has(name)) return;
    const inputs = numbersIn(session.book.peek(), column.sheet, column.key);
    if (inputs.length === 0 || inputs.length > MOST_INPUTS) return;
    const foreseen: Foreseen = { name, inputs, keys: new Set(inputs.map(cellKeyOf)) };
    this.foreseen = foreseen;
    try {
      const client = await this.clientOf(session.reckoner);
      const notes = await client.foresee(inputs);
      if (this.foreseen !== foreseen) this.plan();
      else if (notes.length === 0) this.foreseen = { ...foreseen, client };
      else this.hopeless.add(name);
    } catch {
      this.giveUp();
    }
  }

  private clientOf(engine: EngineClient): Promise<AheadClient> {
    if (this.asked?.of === engine) return this.asked.client;
    this.dropClient();
    const client = this.world.startAhead(engine);
    this.asked = { of: engine, client };
    return client;
  }

  private dropClient(): void {
    void this.asked?.client.then(
      (client) => client.close(),
      () => undefined,
    );
    this.asked = undefined;
  }
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
  if (!column) return [];
  const isNumber = (row: Row) => {
    const raw = row.cells[key];
    const { kind, type } = specOf(column, row);
    return kind === "input" && type === "number"
      ? raw === undefined || typeof raw === "number"
      : typeof raw === "number";
  };
  return book.sheets[sheet].rows.filter(isNumber).map(({ id }) => ({ sheet, row: id, column: key }));
}

/** Whether a change leaves what was foreseen standing: a number in one of its inputs, or what no cell hangs on. */
function isWithin(operation: Operation, foreseen: Foreseen | undefined): boolean {
  if (operation.kind === "list") return true;
  if (operation.kind !== "cell" || !foreseen?.keys.has(cellKeyOf(operation))) return false;
  return operation.is === undefined || typeof operation.is === "number";
}
