// Every value of a workbook by name, typed or computed, as the sheet shows it.
import { columnOf, formulaOf, rowOf } from "../../src/core/document/access";
import type { SheetKey, Workbook } from "../../src/core/document/workbook";
import { Engine } from "../../src/engine/engine";
import { ValueStore } from "../../src/engine/value-store";
import { isCellError, type Value } from "../../src/engine/values";
import { keepEngine, takeEngine } from "./kept-engines";

export type Sheetful = (sheet: SheetKey, row: string, column: string) => Value;

/** The values of a book, from an engine that has it. */
export function evaluate(book: Workbook): Sheetful {
  const engine = takeEngine(book);
  const read = readValues(book, engine);
  keepEngine(engine);
  return read;
}

/** The values of a book from an engine that is built for it and closed again. */
export function evaluateAnew(book: Workbook): Sheetful {
  const engine = new Engine(book);
  const read = readValues(book, engine);
  engine.close();
  return read;
}

function readValues(book: Workbook, engine: Engine): Sheetful {
  const store = new ValueStore(book);
  store.accept(engine.values());
  return readerOf(() => book, store);
}

/** Reads typed values from a book and computed ones from a store. */
export function readerOf(book: () => Workbook, store: ValueStore): Sheetful {
  return (sheet, rowId, key) => {
    const row = rowOf(book(), sheet, rowId);
    const column = columnOf(book(), sheet, key);
    if (!row || !column) throw new Error(`no such cell: ${sheet} ${rowId} ${key}`);
    if (formulaOf(column, row) !== undefined) return store.get(sheet, rowId, key) ?? null;
    const raw = row.cells[key];
    return raw === undefined || typeof raw === "object" ? null : raw;
  };
}

/** Every cell that has an error, as `sheet row column: message`. */
export function errorsOf(book: Workbook, read: Sheetful): string[] {
  return (Object.keys(book.sheets) as SheetKey[]).flatMap((sheet) =>
    book.sheets[sheet].rows.flatMap((row) =>
      book.sheets[sheet].columns.flatMap((column) => {
        const value = read(sheet, row.id, column.key);
        return isCellError(value) ? [`${sheet} ${row.id} ${column.key}: ${value.message}`] : [];
      }),
    ),
  );
}
