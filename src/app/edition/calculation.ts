// The one place where an edition's values come from. Two calculate them: a speculator, which may answer first, and the
// engine, which has the last word. Both are given the document and every change. What the speculator says is shown as
// pending until the engine has answered; where the two differ, the engine's value stands and the cell is named.
import { batch, type Signal, signal } from "@preact/signals";
import { type CellName, describeCell, resolveCell } from "../../core/document/access";
import type { Change } from "../../core/document/change";
import type { SheetKey, Workbook } from "../../core/document/workbook";
import { type EngineClient, EngineSilent } from "../../engine/client";
import type { Layout } from "../../engine/layout";
import { TOOK_TOO_LONG } from "../../engine/set-aside";
import { formulasOf } from "../../engine/suspects";
import { type Difference, ValueStore } from "../../engine/value-store";
import { isCellError, type Patch, type Value } from "../../engine/values";

/** “checking”: pending values of everything are shown, and the engine is not done yet. */
export type EngineState = "starting" | "working" | "checking" | "searching" | "ready" | "failed";

/** Values that are on their way; neither promise is ever broken. */
export interface Pending {
  readonly values: Promise<Patch | undefined>;
  /** Kept when the values are there, or when the engine shall wait for them no longer; nothing where it need not wait. */
  readonly soon: Promise<unknown> | undefined;
}

/** Somebody who calculates as the engine does, and may be done before it. */
export interface Speculator {
  /** Takes a document; every value of it, if that is worth the while. */
  open(book: Workbook, excluded: readonly string[]): Pending | undefined;
  /** Takes a change that the document has. It is urgent while the engine has not said anything of the document yet. */
  apply(change: Change, isUrgent: boolean): Pending | undefined;
  /** What it said was not what the engine says. */
  distrust(): void;
  close(): void;
}

/** What calculation needs of the session it is part of. */
export interface CalculationPlatform {
  startEngine(): EngineClient;
  /** The document as it stands. */
  book(): Workbook;
  /** Says what went wrong. */
  notify(text: string): void;
}

export class Calculation {
  readonly state: Signal<EngineState> = signal("starting");
  /** Rises whenever values have moved. */
  readonly version: Signal<number> = signal(0);

  private readonly platform: CalculationPlatform;
  private values: ValueStore;
  private engine: EngineClient;
  private speculator: Speculator | undefined;
  /** What was asked of the engine so far, what of it is answered, and the latest of which a pending answer is shown. */
  private asked = 0;
  private received = 0;
  private shown = 0;
  /** What was asked when the engine was given the document. */
  private opening = 0;
  /** What waits to be asked of the engine. */
  private line: Promise<unknown> | undefined;
  /** What the engine waits for before it is given a document. */
  private first: Promise<unknown> | undefined;
  private hasRestarted = false;
  /** Formulas that the engine leaves out, because they took too long. */
  private excluded: readonly string[] = [];
  /** Formulas that came with changes that are not answered yet. */
  private latest: readonly string[] = [];

  /** `shown` are values kept from an earlier visit, shown until the engine has its own. */
  constructor(platform: CalculationPlatform, shown?: Patch) {
    this.platform = platform;
    this.values = new ValueStore(platform.book());
    if (shown) this.values.accept(shown);
    this.engine = platform.startEngine();
    this.open();
  }

  /** The engine that calculates now; another takes its place where it fails. */
  get client(): EngineClient {
    return this.engine;
  }

  /** Has somebody calculate beside the engine. */
  speculateWith(speculator: Speculator): void {
    this.speculator = speculator;
    if (this.state.peek() === "starting") this.speculate();
  }

  /** Where each cell stands, in the engine and here. */
  get layout(): Layout {
    return this.values.layout;
  }

  /** Holds values that somebody calculated of the document as it stands against the engine's. */
  check(patch: Patch): void {
    if (this.state.peek() !== "ready") return;
    const difference = this.values.differenceFrom(patch);
    if (difference) this.dispute(difference);
  }

  /** Makes room for what a change adds; called before the document is altered. */
  prepare(change: Change): void {
    // Rows that come or go take other places: pending values are of no use then.
    if (change.operations.some(({ kind }) => kind.endsWith("rows") || kind.endsWith("columns")))
      this.values.dropPending();
    this.values.follow(change);
  }

  /** Has a change calculated that the document has taken. */
  take(change: Change): void {
    if (this.state.value === "failed") {
      this.startAgain();
      return;
    }
    // The search looks at the document as it stands at each of its steps.
    if (this.state.value === "searching") return;
    this.latest = [...this.latest, ...formulasOf(change)];
    const pending = this.speculator?.apply(change, this.received < this.opening);
    void this.receive(this.ask(pending?.soon, (engine) => engine.apply(change)));
    if (pending) void this.show(pending.values);
  }

  /** Calculates another document, from the start. */
  replace(): void {
    if (this.state.value === "searching") this.takeOther();
    this.values = new ValueStore(this.platform.book());
    this.open();
  }

  /** The value of a formula that stands in no cell. */
  async calculate(formula: string): Promise<Value> {
    const { engine } = this;
    try {
      return await engine.calculate(formula);
    } catch (error) {
      if (!(error instanceof EngineSilent)) throw error;
      // No fault of the document: what it takes is another engine.
      if (engine === this.engine) this.startAgain();
      return { title: "took too long", message: TOOK_TOO_LONG };
    }
  }

  /** The computed value of a cell; undefined where the engine has not said yet. */
  get(sheet: SheetKey, row: string, column: string): Value | undefined {
    return this.values.get(sheet, row, column);
  }

  /** The same for a column, found once for all its rows. */
  column(sheet: SheetKey, column: string): (row: string) => Value | undefined {
    return this.values.column(sheet, column);
  }

  /** What the engine has said, to be shown next time before it is ready. */
  snapshot(): Patch {
    return this.values.snapshot(this.platform.book());
  }

  /** Stops a calculation that takes too long; it starts again with the next change. False where there is none. */
  stop(): boolean {
    if (this.state.value === "ready" || this.state.value === "failed") return false;
    this.state.value = "failed";
    this.engine.close();
    return true;
  }

  close(): void {
    this.speculator?.close();
    this.engine.close();
  }

  /** Asks the engine: after what it was asked before, and after what comes `first`, which is slowed down otherwise. */
  private ask(first: Promise<unknown> | undefined, request: (engine: EngineClient) => Promise<Patch>): Promise<Patch> {
    const { engine } = this;
    if (!this.line && !first) return request(engine);
    const line: Promise<unknown> = Promise.all([this.line, first]).then(() => {
      if (this.line === line) this.line = undefined;
    });
    this.line = line;
    return line.then(() => request(engine));
  }

  /** Shows pending values of the latest that was asked, unless the engine was quicker. */
  private async show(values: Promise<Patch | undefined>): Promise<void> {
    const { asked, engine } = this;
    const patch = await values;
    if (!patch || engine !== this.engine || this.received >= asked || this.shown > asked || !this.isCalculating) return;
    this.shown = asked;
    this.values.showPending(patch);
    batch(() => {
      this.version.value += 1;
      if (asked === this.asked) this.state.value = "checking";
    });
  }

  private isComputed(cell: CellName): boolean {
    return resolveCell(this.platform.book(), cell)?.formula !== undefined;
  }

  private get isCalculating(): boolean {
    return ["starting", "working", "checking"].includes(this.state.peek());
  }

  /** Says in which cell pending values were not the engine's. */
  private dispute({ cell, pending, engine }: Difference): void {
    this.speculator?.distrust();
    this.platform.notify(
      `${describeCell(this.platform.book(), cell)}: the quick calculation says ${inWords(pending)}, the careful one ${inWords(engine)}. The careful one is shown. Nothing is calculated quickly any more until the edition is opened again.`,
    );
  }

  private startAgain(): void {
    this.takeOther();
    this.replace();
  }

  /** Another engine takes the place of the one that failed; what that one was asked is answered no more. */
  private takeOther(): EngineClient {
    this.engine.close();
    this.line = undefined;
    this.received = this.asked;
    this.engine = this.platform.startEngine();
    return this.engine;
  }

  private open(): void {
    this.state.value = "starting";
    const [book, { excluded }] = [this.platform.book(), this];
    // Who speculates is known as soon as the session is made.
    const first = Promise.resolve().then(() => this.first);
    void this.receive(this.ask(first, (engine) => engine.open(book, excluded)));
    this.opening = this.asked;
    this.speculate();
  }

  private speculate(): void {
    const pending = this.speculator?.open(this.platform.book(), this.excluded);
    this.first = pending?.soon;
    if (pending) void this.show(pending.values);
  }

  private async receive(answer: Promise<Patch>): Promise<void> {
    const engine = this.engine;
    this.asked += 1;
    if (this.state.value === "ready" || this.state.value === "checking") this.state.value = "working";
    try {
      const patch = await answer;
      if (engine !== this.engine) return;
      this.received += 1;
      const isReady = this.received === this.asked;
      if (isReady) this.latest = [];
      const hasMoved = this.accept(patch, isReady);
      batch(() => {
        if (hasMoved) this.version.value += 1;
        if (isReady) this.state.value = "ready";
      });
    } catch (error) {
      if (engine === this.engine) this.recover(error);
    }
  }

  /** Takes over what the engine says; whether that is anything that is not shown already. */
  private accept(patch: Patch, isLast: boolean): boolean {
    const isNews = this.values.accept(patch);
    if (!isLast) return isNews;
    const difference = this.values.dropPending((cell) => this.isComputed(cell));
    if (difference && this.shown === this.asked) this.dispute(difference);
    return isNews || difference !== undefined;
  }

  /** A failed engine is started anew from the document, once; then the formula that is to blame is looked for. */
  private recover(error: unknown): void {
    if (this.state.value === "failed" || this.state.value === "searching") return;
    const message = error instanceof Error ? (error.message.split("\n")[0] ?? "") : String(error);
    if (this.hasRestarted || error instanceof EngineSilent) {
      void this.search(message);
      return;
    }
    this.hasRestarted = true;
    this.platform.notify(`The calculation had to start again: ${message}. Your entries are kept.`);
    this.startAgain();
  }

  /** Finds the formulas with which the calculation does not end, leaves them out, and goes on without them. */
  private async search(message: string): Promise<void> {
    this.state.value = "searching";
    // Rarely wanted, and no part of what a first visit fetches.
    const { formulasToBlame, leftOutText } = await import("./formulas-to-blame");
    const guilty = await formulasToBlame(this.latest, this.platform.book(), (leftOut) => this.endsWithout(leftOut));
    // Stopped, or another document was opened meanwhile.
    if (this.state.value !== "searching") return;
    if (guilty) {
      this.excluded = [...this.excluded, ...guilty];
      if (guilty.length > 0) this.platform.notify(leftOutText(this.platform.book(), guilty));
      this.startAgain();
      return;
    }
    this.engine.close();
    this.state.value = "failed";
    this.platform.notify(
      `The calculation stopped: ${message}. Your entries are kept, and it starts again with your next edit.`,
    );
  }

  /** Whether the whole document is calculated with these formulas left out. */
  private async endsWithout(leftOut: readonly string[]): Promise<boolean> {
    if (this.state.value !== "searching") return false;
    try {
      await this.takeOther().open(this.platform.book(), [...this.excluded, ...leftOut]);
      return true;
    } catch {
      return false;
    }
  }
}

/** A value as it is shown where two differ. */
function inWords(value: Value | undefined): string {
  if (value === undefined || value === null || value === "") return "nothing";
  return isCellError(value) ? `“${value.title}”` : String(value);
}
