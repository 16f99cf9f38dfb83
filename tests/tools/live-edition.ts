// A workbook with its engine and the page's copy of the values, driven change by change as the app does.
import { applyChange, type Change, invert } from "../../src/core/document/change";
import type { SheetKey, Workbook } from "../../src/core/document/workbook";
import { Engine } from "../../src/engine/engine";
import { ValueStore } from "../../src/engine/value-store";
import { isCellError, type Value } from "../../src/engine/values";
import { evaluateAnew, readerOf, type Sheetful } from "./evaluate";
import { type Typed, typed } from "./small-edition";

export class LiveEdition {
  book: Workbook;
  readonly engine: Engine;
  readonly read: Sheetful;
  private readonly store: ValueStore;

  constructor(book: Workbook) {
    this.book = book;
    this.engine = new Engine(book);
    this.store = new ValueStore(book);
    this.store.accept(this.engine.values());
    this.read = readerOf(() => this.book, this.store);
  }

  run(change: Change): void {
    this.store.follow(change);
    this.book = applyChange(this.book, change);
    this.store.accept(this.engine.apply(change));
  }

  undo(change: Change): void {
    this.run(invert(change));
  }

  type(...entries: readonly Typed[]): Change {
    const change = typed(this.book, entries);
    this.run(change);
    return change;
  }

  override(...entries: readonly Typed[]): Change {
    const change = typed(this.book, entries, true);
    this.run(change);
    return change;
  }

  /** Cells whose value is not what an engine built anew gives. */
  differences(): string[] {
    const fresh = evaluateAnew(this.book);
    return (Object.keys(this.book.sheets) as SheetKey[]).flatMap((sheet) =>
      this.book.sheets[sheet].rows.flatMap((row) =>
        this.book.sheets[sheet].columns.flatMap(({ key }) => {
          const [live, rebuilt] = [this.read(sheet, row.id, key), fresh(sheet, row.id, key)];
          return areSame(live, rebuilt) ? [] : [`${sheet} ${row.id} ${key}: ${show(live)}, rebuilt ${show(rebuilt)}`];
        }),
      ),
    );
  }

  close(): void {
    this.engine.close();
  }
}

const show = (value: Value) => JSON.stringify(isCellError(value) ? value.message : value);

function areSame(a: Value, b: Value): boolean {
  if (typeof a === "number" && typeof b === "number")
    return Math.abs(a - b) <= 1e-9 * Math.max(1, Math.abs(a), Math.abs(b));
  // Where a sum meets two errors, either may be told first.
  if (isCellError(a) && isCellError(b)) return true;
  return a === b;
}
