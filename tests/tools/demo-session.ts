// The demo opened once for all tests of a file: one engine, and what a test does is undone after it.
import { afterEach, beforeAll, expect } from "vitest";
import { demoEdition } from "../../src/app/demo/demo";
import type { Session } from "../../src/app/edition/session";
import type { Change } from "../../src/core/document/change";
import { writeEntries } from "../../src/core/document/edits";
import type { SheetKey } from "../../src/core/document/workbook";
import { openSession } from "./open-session";

/** Sheet, row, column and what is typed there. */
export type Typed = readonly [SheetKey, string, string, string];

/** The open demo, ready before the first test; `tidy` puts back what undo does not. Changes are waited for. */
export function demoSession(tidy: (session: Session) => void = () => undefined) {
  const { session, settled } = openSession(demoEdition());
  beforeAll(settled, 60_000);
  afterEach(async () => {
    tidy(session);
    while (session.undo());
    await settled();
  }, 60_000);

  const make = async (change: Change): Promise<void> => {
    session.commit(change);
    await settled();
  };
  /** Types into cells, as one step of the maker's. */
  const type = async (cells: readonly Typed[]): Promise<void> => {
    const entries = cells.map(([sheet, row, column, text]) => ({ cell: { sheet, row, column }, typed: text }));
    const options = { label: "typed", marks: { decimal: "." }, override: false } as const;
    const { change, refused } = writeEntries(session.book.value, entries, options);
    expect(refused).toEqual([]);
    await make(change);
  };
  return { session, settled, make, type };
}
