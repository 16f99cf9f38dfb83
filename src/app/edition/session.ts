// One open edition: its document, its history, its values and what is selected. No elements; the page reads the signals.
import { batch, computed, type ReadonlySignal, type Signal, signal } from "@preact/signals";
import { currencyDigits } from "../../core/currency";
import {
  type CellName,
  columnOf,
  formulaOf,
  type ResolvedCell,
  resolveCell,
  typedValueOf,
} from "../../core/document/access";
import { applyChange, type Change, isEmptyChange } from "../../core/document/change";
import { checkSize } from "../../core/document/check-size";
import { EMPTY_HISTORY, type History, type HistoryEffect, historyAfter, walk } from "../../core/document/history";
import type { Row, SheetKey, Workbook } from "../../core/document/workbook";
import { type Problem, problem } from "../../core/problem";
import { beginsRun, keepPlan, planOnSheets } from "../../core/record/kept-plan";
import type { EngineClient } from "../../engine/client";
import type { Layout } from "../../engine/layout";
import type { Patch, Value } from "../../engine/values";
import { Calculation, type EngineState, type Speculator } from "./calculation";
import { decimalMark, type Formats } from "./format";
import { type Notice, noticesAfter, withNotice } from "./notices";
import { pastSteps, type SheetView } from "./view";

/** What a session needs of the platform. */
export interface SessionPlatform {
  /** `patience` is how long a formula may take, in milliseconds. */
  startEngine(patience?: number): EngineClient;
  /** Called after every change made here, with the new document and what the change is to the history. */
  keep(book: Workbook, change: Change, effect: HistoryEffect): void;
  readonly locale: string;
  now(): Date;
}

export interface Selection {
  readonly sheet: SheetKey;
  readonly anchor: { readonly row: string; readonly column: string };
  readonly rows: readonly string[];
  readonly columns: readonly string[];
}

/** What may stand in the place of a sheet. */
export type Page =
  | "plan"
  | "shelf"
  | "record"
  | "log"
  | "rescue"
  | "calendar"
  | "loads"
  | "paper"
  | "sales"
  | "against"
  | "progress"
  | "journal"
  | "accountant"
  | "sides"
  | "whatif";

/** Why an edition can only be looked at. */
export interface ReadOnly {
  readonly why: string;
  readonly fix: string;
}

/** An open edition. `close` ends its engine. */
export class Session {
  readonly book: Signal<Workbook>;
  readonly history: Signal<History> = signal(EMPTY_HISTORY);
  readonly sheet: Signal<SheetKey> = signal("pieces");
  /** The page that is shown in the place of the sheet, if one is. */
  readonly page: Signal<Page | undefined> = signal(undefined);
  readonly selection: Signal<Selection | undefined> = signal(undefined);
  readonly notices: Signal<readonly Notice[]> = signal([]);
  /** How each sheet is looked at. */
  readonly views: Signal<Partial<Record<SheetKey, SheetView>>> = signal({});
  /** What is typed in the box that chooses pieces by number. */
  readonly chosen: Signal<string> = signal("");
  /** Steps whose columns are folded to their cost. */
  readonly folded: Signal<ReadonlySet<string>>;
  /** Why nothing can be changed here for now, and what to do; undefined where it can. */
  readonly readOnly: Signal<ReadOnly | undefined> = signal(undefined);

  /** Ends the trial of a formula that is being made. */
  readonly stopTrial: Signal<(() => void) | undefined> = signal(undefined);

  private readonly platform: SessionPlatform;
  private readonly calculation: Calculation;
  private noticeId = 0;

  constructor(book: Workbook, platform: SessionPlatform, shown?: Patch) {
    this.book = signal(book);
    this.folded = signal(pastSteps(book));
    this.platform = platform;
    this.calculation = new Calculation(
      {
        startEngine: () => platform.startEngine(),
        book: () => this.book.value,
        notify: (text) => this.notify("failed", text),
      },
      shown,
    );
  }

  get engineState(): ReadonlySignal<EngineState> {
    return this.calculation.state;
  }

  /** Rises whenever computed values have moved. */
  get valuesVersion(): Signal<number> {
    return this.calculation.version;
  }

  /** The engine that calculates this edition now; another takes its place where it fails. */
  get engineClient(): EngineClient {
    return this.calculation.client;
  }

  /** Has somebody calculate beside the engine. */
  speculateWith(speculator: Speculator): void {
    this.calculation.speculateWith(speculator);
  }

  /** Where each cell stands in the engine. */
  get layout(): Layout {
    return this.calculation.layout;
  }

  /** Holds values that somebody calculated of the document as it stands against the engine's. */
  checkValues(patch: Patch): void {
    this.calculation.check(patch);
  }

  /** The edition's title, currency and the like. */
  readonly meta: ReadonlySignal<Workbook["meta"]> = computed(() => this.book.value.meta);

  get formats(): Formats {
    return { locale: this.platform.locale, currency: this.meta.value.currency };
  }

  /** Decimal places of the edition's currency. */
  get digits(): number {
    const digits = currencyDigits(this.meta.value.currency);
    return digits.ok ? digits.value : 2;
  }

  get marks() {
    return { decimal: decimalMark(this.platform.locale) };
  }

  today(): string {
    return this.now().slice(0, 10);
  }

  /** The time, ISO 8601. */
  now(): string {
    return this.platform.now().toISOString();
  }

  /**
   * Makes a change: document, history, engine and keeping follow from it. False, and said, where nothing may be changed or
   * the edition would hold more than can be opened again. Where it goes on with the step that was made last, as typing does
   * letter by letter, both are taken back at once.
   */
  commit(change: Change, goesOn?: Change): boolean {
    if (isEmptyChange(change)) return true;
    if (this.isRefused()) return false;
    return this.make(this.withPlan(change), goesOn);
  }

  /** What begins the run keeps the plan as it stands, in the same step. */
  private withPlan(change: Change): Change {
    const book = this.book.value;
    if (!beginsRun(book, change)) return change;
    const read = (sheet: SheetKey, row: string, column: string) => this.value({ sheet, row, column });
    const plan = planOnSheets(book, read, this.now(), "run began");
    return plan ? { ...change, operations: [...change.operations, keepPlan(book, plan)] } : change;
  }

  private make(change: Change, goesOn: Change | undefined): boolean {
    const before = this.book.value;
    const after = applyChange(before, change);
    const problems = checkSize(before, after, change);
    this.refuse(problems);
    const history = this.history.value;
    const effect = goesOn !== undefined && history.done.at(-1) === goesOn ? "more" : undefined;
    const dated = { ...change, at: this.now() };
    if (problems.length === 0) this.take(dated, historyAfter(history, dated, effect), after, effect);
    return problems.length === 0;
  }

  undo(): Change | undefined {
    return this.walk(-1);
  }

  redo(): Change | undefined {
    return this.walk(1);
  }

  /** Undoes so many steps at once where `by` is negative, redoes them where it is not; gives the change that was made. */
  walk(by: number): Change | undefined {
    const walked = walk(this.history.value, by);
    if (!walked || this.isRefused()) return undefined;
    this.take(walked.change, walked.history, applyChange(this.book.value, walked.change), by);
    return walked.change;
  }

  /** Takes a change that was made elsewhere and is kept there; it can be undone here once edits are made here. */
  follow(change: Change, effect?: HistoryEffect): void {
    this.apply(change, historyAfter(this.history.value, change, effect), applyChange(this.book.value, change));
  }

  /** Shows another document in the place of this one; what was done before can't be undone any more. */
  replace(book: Workbook): void {
    batch(() => {
      this.book.value = book;
      this.history.value = { ...EMPTY_HISTORY, cut: this.now() };
      this.selection.value = undefined;
      this.calculation.replace();
    });
  }

  /** The value of a cell: typed, or computed by the engine; undefined where the engine has not said yet. */
  value(cell: CellName): Value | undefined {
    const found = resolveCell(this.book.value, cell);
    return found ? this.valueOf(cell.sheet, found) : null;
  }

  /** The same for a cell that is resolved. */
  valueOf(sheet: SheetKey, { column, row, formula }: ResolvedCell): Value | undefined {
    return formula === undefined
      ? typedValueOf(row.cells[column.key])
      : this.calculation.get(sheet, row.id, column.key);
  }

  /** The same for a row at hand. */
  valueIn(sheet: SheetKey, row: Row, key: string): Value | undefined {
    return this.columnIn(sheet, key)(row);
  }

  /** Reads a sheet's values as they are now, for those who go through thousands of rows: each column is found once. */
  readerOf(sheet: SheetKey): (row: Row, key: string) => Value | undefined {
    const found = new Map<string, (row: Row) => Value | undefined>();
    return (row, key) => {
      const read = found.get(key) ?? this.columnIn(sheet, key);
      found.set(key, read);
      return read(row);
    };
  }

  /** The values of a column as they are now. */
  columnIn(sheet: SheetKey, key: string): (row: Row) => Value | undefined {
    const column = columnOf(this.book.value, sheet, key);
    if (!column) return () => null;
    const computed = this.calculation.column(sheet, key);
    return (row) => (formulaOf(column, row) === undefined ? typedValueOf(row.cells[key]) : computed(row.id));
  }

  /** A result line's number, if it is one by now. */
  result(id: string, sheet: "results" | "edition" = "results"): Value | undefined {
    return this.value({ sheet, row: id, column: "value" });
  }

  /** The value of a formula that stands in no cell. */
  calculate(formula: string): Promise<Value> {
    return this.calculation.calculate(formula);
  }

  /** An engine of its own, for a formula to be tried in before it comes here; to be closed again. */
  startTrial(patience: number): EngineClient {
    return this.platform.startEngine(patience);
  }

  /** The computed values as they are, to be shown next time before the engine is ready. */
  snapshot(): Patch {
    return this.calculation.snapshot();
  }

  notify(
    tone: Notice["tone"],
    text: string,
    details: readonly string[] = [],
    how: Pick<Notice, "of" | "about" | "passes" | "leads" | "waits"> = {},
  ): void {
    this.noticeId += 1;
    this.notices.value = withNotice(this.notices.value, { id: this.noticeId, tone, text, details, ...how });
  }

  /** Tells of the change that was just made, so that the message can take exactly that one back. */
  notifyDone(text: string, details: readonly string[] = []): void {
    this.notify("done", text, details, { of: this.history.value.done.at(-1) });
  }

  /**
   * Tells of problems: the first in full, the others beneath it. What was refused of a cell holds until the cell is written,
   * a problem that stands alone until the next change.
   */
  refuse(problems: readonly Problem[], lead?: string, about?: CellName): void {
    const [first, ...rest] = problems;
    if (!first) return;
    const details = (lead === undefined ? rest : problems).map(({ message }) => message);
    this.notify("refused", lead ?? first.message, details, { about, passes: details.length === 0 });
  }

  /** Tells what is different in an edition that an earlier program saved. It stays until it is closed. */
  notifyNews(news: readonly string[] = []): void {
    if (news.length > 0)
      this.notify(
        "refused",
        "An earlier Saggar saved this edition. It has today's sheets now, and what you entered is all there. What is different:",
        news,
      );
  }

  dismiss(id: number): void {
    this.notices.value = this.notices.value.filter((notice) => notice.id !== id);
  }

  /** Stops a calculation that takes too long; it starts again with the next edit. */
  stopCalculating(): void {
    this.stopTrial.value?.();
    if (!this.calculation.stop()) return;
    this.notify(
      "failed",
      "The calculation was stopped. Your entries are kept, and it starts again with your next edit: undo or change the formula that takes so long.",
      [],
      { passes: true },
    );
  }

  close(): void {
    this.calculation.close();
  }

  private isRefused(): boolean {
    const readOnly = this.readOnly.value;
    if (readOnly)
      this.refuse([
        problem({
          code: "session.read-only",
          where: this.book.value.meta.title,
          found: "a change",
          allowed: `none for now: ${readOnly.why}`,
          fix: readOnly.fix,
        }),
      ]);
    return readOnly !== undefined;
  }

  private take(change: Change, history: History, book: Workbook, effect: HistoryEffect): void {
    this.apply(change, history, book);
    this.platform.keep(book, change, effect);
  }

  private apply(change: Change, history: History, book: Workbook): void {
    const isMoved = !isEmptyChange(change);
    if (isMoved) this.calculation.prepare(change);
    batch(() => {
      if (isMoved) this.book.value = book;
      this.history.value = history;
      this.notices.value = noticesAfter(this.notices.value, change, book);
      if (isMoved) this.calculation.take(change);
    });
  }
}
