import { effect } from "@preact/signals";
import { describe, expect, it, vi } from "vitest";
import { demoEdition } from "../../src/app/demo/demo";
import { WHOLE_VIEW } from "../../src/app/edition/view";
import { setView, shownRows } from "../../src/ui/edition/rows-shown";
import { openSession } from "../tools/open-session";

const DEMO = demoEdition();

describe("the rows in view", () => {
  it("are found by what they show: titles, amounts as they are written, not by keys", () => {
    const { session } = openSession(DEMO);
    const found = (find: string) => {
      setView(session, "pieces", { ...WHOLE_VIEW, find });
      return shownRows(session).length;
    };
    const lostThere = DEMO.sheets.pieces.rows.filter(({ cells }) => cells.lost_at === "glaze_firing").length;
    expect(found("glaze firing")).toBe(lostThere);
    expect(found("glaze_firing")).toBe(0);
    setView(session, "materials", { ...WHOLE_VIEW, find: "28.00" });
    session.sheet.value = "materials";
    const prices = DEMO.sheets.materials.rows.map(({ cells }) => Number(cells.pack_price).toFixed(2));
    expect(shownRows(session).length).toBe(prices.filter((price) => price.includes("28.00")).length);
  });

  it("belong to their edition: another one that is opened is seen whole", () => {
    const [one, other] = [openSession(DEMO).session, openSession(DEMO).session];
    setView(one, "pieces", { ...WHOLE_VIEW, filter: "outcome:good" });
    one.chosen.value = "41-60";
    expect(shownRows(one).length).toBeLessThan(shownRows(other).length);
    expect(other.chosen.value).toBe("");
  });

  it("are picked once, whoever asks and however often", () => {
    const { session } = openSession(DEMO);
    const read = vi.spyOn(session, "columnIn");
    setView(session, "pieces", { ...WHOLE_VIEW, filter: "outcome:good" });
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
    setView(session, "pieces", { ...WHOLE_VIEW, sort: { column: "piece", descending: true } });
    session.valuesVersion.value += 1;
    expect(seen).toHaveLength(3);
    stop();
  });

  it("follow the sheet, the view and the document", () => {
    const { session } = openSession(DEMO);
    const all = shownRows(session);
    expect(all).toHaveLength(session.book.value.sheets.pieces.rows.length);
    setView(session, "pieces", { ...WHOLE_VIEW, only: new Set(all.slice(0, 2)) });
    expect(shownRows(session)).toEqual(all.slice(0, 2));
    session.sheet.value = "route";
    expect(shownRows(session)).toEqual(session.book.value.sheets.route.rows.map((row) => row.id));
    session.sheet.value = "pieces";
    setView(session, "pieces", WHOLE_VIEW);
    const { pieces } = session.book.value.sheets;
    session.book.value = {
      ...session.book.value,
      sheets: { ...session.book.value.sheets, pieces: { ...pieces, rows: pieces.rows.slice(1) } },
    };
    expect(shownRows(session)).toEqual(all.slice(1));
  });
});
