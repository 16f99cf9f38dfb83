import { effect } from "@preact/signals";
import { afterEach, describe, expect, it, vi } from "vitest";
import { demoEdition } from "../../src/app/demo";
import { WHOLE_VIEW } from "../../src/app/view";
import { setView, shownRows } from "../../src/ui/rows-shown";
import { openSession } from "../tools/open-session";

const DEMO = demoEdition();

afterEach(() => setView("pieces", WHOLE_VIEW));

describe("the rows in view", () => {
  it("are picked once, whoever asks and however often", () => {
    const { session } = openSession(DEMO);
    const read = vi.spyOn(session, "valueIn");
    setView("pieces", { ...WHOLE_VIEW, filter: "outcome:good" });
    const stop = effect(() => void shownRows(session));
    const reads = read.mock.calls.length;
    expect(reads).toBeGreaterThan(0);
    expect(shownRows(session)).toBe(shownRows(session));
    expect(read.mock.calls.length).toBe(reads);
    stop();
  });

  it("stay as they are when values move that the view does not ask for", () => {
    const { session } = openSession(DEMO);
    const seen: number[] = [];
    const stop = effect(() => void seen.push(shownRows(session).length));
    session.valuesVersion.value += 1;
    expect(seen).toHaveLength(1);
    setView("pieces", { ...WHOLE_VIEW, sort: { column: "piece", descending: true } });
    session.valuesVersion.value += 1;
    expect(seen).toHaveLength(3);
    stop();
  });

  it("follow the sheet, the view and the document", () => {
    const { session } = openSession(DEMO);
    const all = shownRows(session);
    expect(all).toHaveLength(session.book.value.sheets.pieces.rows.length);
    setView("pieces", { ...WHOLE_VIEW, only: new Set(all.slice(0, 2)) });
    expect(shownRows(session)).toEqual(all.slice(0, 2));
    session.sheet.value = "route";
    expect(shownRows(session)).toEqual(session.book.value.sheets.route.rows.map((row) => row.id));
    session.sheet.value = "pieces";
    setView("pieces", WHOLE_VIEW);
    const { pieces } = session.book.value.sheets;
    session.book.value = {
      ...session.book.value,
      sheets: { ...session.book.value.sheets, pieces: { ...pieces, rows: pieces.rows.slice(1) } },
    };
    expect(shownRows(session)).toEqual(all.slice(1));
  });
});
