// Rows of short sheets as cards: which fields they have, common kilns to start from, and the drawing of a kiln.
import { describe, expect, test } from "vitest";
import { addSheetRow } from "../../../src/app/commands/row-commands";
import { demoEdition } from "../../../src/app/demo/demo";
import type { Session } from "../../../src/app/edition/session";
import { type CardSheet, isCardSheet } from "../../../src/app/edition/sheet-ways";
import { copyRow, startFromCommonKiln } from "../../../src/app/plan/card-commands";
import { kilnDrawing } from "../../../src/app/plan/kiln-drawing";
import { recordsOf } from "../../../src/app/plan/kiln-heat";
import { cardParts, cardSummary, cardsOf } from "../../../src/app/plan/row-cards";
import { chamberLitres } from "../../../src/ceramics/kiln/geometry";
import { steadyLoss } from "../../../src/ceramics/kiln/steady";
import { columnOf, rowOf } from "../../../src/core/document/access";
import { choicesOf } from "../../../src/core/document/entry";
import { isExample } from "../../../src/core/document/examples";
import { type Row, SHEET_KEYS } from "../../../src/core/document/workbook";
import { COMMON_KILNS } from "../../../src/core/sheets/common-kilns";
import { kilnFrom } from "../../../src/engine/kiln-records";
import { openSession } from "../../tools/open-session";

const sheets = SHEET_KEYS.filter(isCardSheet);

async function opened(): Promise<Session> {
  const open = openSession(demoEdition());
  await open.settled();
  return open.session;
}

const rowIds = (session: Session, sheet: CardSheet) => session.book.value.sheets[sheet].rows.map(({ id }) => id);

describe("a card", () => {
  test.each(sheets)("of %s has every column that is shown, each once, and no two fields of one name", async (sheet) => {
    const session = await opened();
    const book = session.book.value;
    for (const card of cardsOf(book, sheet, rowIds(session, sheet))) {
      for (const { fields, answers } of cardParts(book, sheet, card.rows)) {
        const titles = [...fields, ...answers].map(({ title }) => title);
        expect(new Set(titles).size).toBe(titles.length);
      }
      const parts = cardParts(book, sheet, card.rows.slice(0, 1));
      const held = parts.flatMap(({ fields, answers }) => [...fields, ...answers]).map(({ cell }) => cell.column);
      const shown = book.sheets[sheet].columns.filter(({ hidden }) => !hidden).map(({ key }) => key);
      expect([...held].sort()).toEqual([...shown].sort());
    }
  });

  test("takes entries in its fields only, and says what is computed beside them", async () => {
    const session = await opened();
    const book = session.book.value;
    for (const { fields, answers } of cardParts(book, "firings", rowIds(session, "firings").slice(0, 1))) {
      for (const { cell } of fields) expect(columnOf(book, "firings", cell.column)?.kind).toBe("input");
      for (const { cell } of answers) expect(columnOf(book, "firings", cell.column)?.kind).toBe("computed");
    }
  });

  test("of a programme holds all its ramps", async () => {
    const session = await opened();
    const cards = cardsOf(session.book.value, "programmes", rowIds(session, "programmes"));
    expect(cards.map(({ title }) => title)).toEqual([...new Set(cards.map(({ title }) => title))]);
    const [first] = cards;
    expect(cardParts(session.book.value, "programmes", first?.rows ?? []).map(({ title }) => title)).toEqual([
      "Ramp 1",
      "Ramp 2",
      "Ramp 3",
      "Ramp 4",
    ]);
  });

  test("that is closed says its row in a few words, with units", async () => {
    const session = await opened();
    expect(cardSummary(session, "kilns", rowIds(session, "kilns")[0] ?? "")).toBe("7.2\u00a0kW · 16\u00a0pieces");
  });
});

test("a list to choose a programme from shows each name once", async () => {
  const { book } = await opened();
  const column = columnOf(book.value, "firings", "programme");
  const names = column ? choicesOf(book.value, column).map(({ label }) => label) : [];
  expect(names.length).toBeGreaterThan(2);
  expect(new Set(names).size).toBe(names.length);
});

test("a copy has a name of its own and stands after its row; one undo takes it back", async () => {
  const session = await opened();
  const [first = "", second = ""] = rowIds(session, "materials");
  const before = session.book.value;
  const copy = copyRow(session, "materials", first) ?? "";
  expect(rowIds(session, "materials").slice(0, 3)).toEqual([first, copy, second]);
  const name = rowOf(before, "materials", first)?.cells.id;
  expect(rowOf(session.book.value, "materials", copy)?.cells).toEqual({
    ...rowOf(before, "materials", first)?.cells,
    id: `${name} copy`,
  });
  const again = copyRow(session, "materials", first) ?? "";
  expect(rowOf(session.book.value, "materials", again)?.cells.id).toBe(`${name} copy 2`);
  session.undo();
  session.undo();
  expect(session.book.value).toEqual(before);
});

describe("common kilns", () => {
  test.each(COMMON_KILNS.map((kiln) => [kiln.title, kiln] as const))(
    "%s: is written in one step, has that many litres and the power to fire stoneware",
    async (title, kiln) => {
      const session = await opened();
      const before = session.book.value;
      const [row = ""] = rowIds(session, "kilns");
      expect(startFromCommonKiln(session, row, kiln)).toBe(true);
      const cells: Row["cells"] = rowOf(session.book.value, "kilns", row)?.cells ?? {};
      const was = rowOf(before, "kilns", row)?.cells;
      // What is the maker's stays: the name, the wear, how many pieces fit, and a note of their own.
      for (const column of ["id", "wear", "capacity", "note"]) expect(cells[column]).toEqual(was?.[column]);
      const found = kilnFrom(recordsOf(session, "kilns"), String(cells.id));
      expect(found.ok).toBe(true);
      if (!found.ok) return;
      const litres = chamberLitres(found.value.kiln.chamber);
      expect(Math.abs(litres / Number(/About (\d+)/.exec(title)?.[1]) - 1)).toBeLessThan(0.03);
      const loss = steadyLoss(found.value.kiln, 1240);
      if (!loss.ok) throw new Error(loss.problems[0]?.message);
      expect(loss.value.wallKw + loss.value.ventKw).toBeLessThan(0.75 * found.value.kiln.ratedKw);
      session.undo();
      expect(session.book.value).toEqual(before);
    },
  );

  test("says in a blank note that its figures are nobody's, and marks each as not the maker's yet", async () => {
    const session = await opened();
    const row = addSheetRow(session, "kilns") ?? "";
    const [first, second] = COMMON_KILNS;
    if (!first || !second) throw new Error("no kilns");
    startFromCommonKiln(session, row, first);
    startFromCommonKiln(session, row, second);
    const cells = rowOf(session.book.value, "kilns", row)?.cells;
    expect(cells?.note).toBe(
      `${second.title}: typical figures, common practice, no source. Put your own in their place.`,
    );
    expect(cells?.depth).toBeUndefined();
    for (const column of ["kw", "width", "brick_mm"])
      expect(isExample(session.book.value, { sheet: "kilns", row, column })).toBe(true);
  });
});

describe("the drawing of a kiln", () => {
  test("follows its numbers and says them in words", async () => {
    const session = await opened();
    const row = rowIds(session, "kilns")[0] ?? "";
    const [, , , , box] = COMMON_KILNS;
    if (box) startFromCommonKiln(session, row, box);
    const drawn = kilnDrawing(session, row);
    if (typeof drawn === "string") throw new Error(drawn);
    expect(drawn).toMatchObject({ isRound: false, width: 50, depth: 55, height: 73, levels: 5 });
    expect(drawn.layers.map(({ cm }) => cm)).toEqual([11.4, 2.5]);
    expect(drawn.words).toBe(
      "Inside 50 cm wide, 55 cm deep and 73 cm high: 201 L. Wall: 114 mm of brick-1400, 25 mm of board behind it.",
    );
  });

  test("says what is missing where it can't be drawn", async () => {
    const session = await opened();
    const row = rowIds(session, "kilns")[0] ?? "";
    session.commit({
      label: "",
      operations: (["width", "height"] as const).map((column) => ({
        ...{ kind: "cell", sheet: "kilns", row, column, is: undefined },
        was: rowOf(session.book.value, "kilns", row)?.cells[column],
      })),
    });
    expect(kilnDrawing(session, row)).toBe("To be drawn it needs its diameter and chamber height inside.");
  });
});
