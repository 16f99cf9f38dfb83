// Editions made to do harm: each is refused with words, or opens and harms nothing.
import { describe, expect, it } from "vitest";
import { applyChange } from "../../src/core/document/change";
import { readDocument } from "../../src/core/document/document-file";
import { readable, SHEET_MOST } from "../../src/core/document/limits";
import type { Raw, Row, Workbook } from "../../src/core/document/workbook";
import { writeDocument } from "../../src/core/document/write-document";
import { smallEdition } from "../tools/small-edition";

const book = smallEdition(3);
const text = writeDocument(book);
const SCRIPT = "<img src=x onerror=alert(1)><script>alert(2)</script>";

const problemsOf = (spoilt: string) => {
  const read = readDocument(spoilt, "evil.edition.json");
  return read.ok ? [] : read.problems;
};
const withRows = (rows: readonly Row[]): Workbook => ({
  ...book,
  sheets: { ...book.sheets, pieces: { ...book.sheets.pieces, rows } },
});
const withCell = (column: string, is: Raw) =>
  applyChange(book, {
    label: "x",
    operations: [{ kind: "cell", sheet: "pieces", row: "p1", column, was: undefined, is }],
  });

describe("a hostile edition", () => {
  it("with script in every text opens as text, word for word", () => {
    const spoilt: Workbook = {
      ...withCell("note", SCRIPT),
      meta: { ...book.meta, title: SCRIPT, note: SCRIPT },
    };
    const read = readDocument(writeDocument(spoilt), "evil.edition.json");
    expect(read).toEqual({ ok: true, value: spoilt });
  });

  it("with prototype keys changes no prototype", () => {
    const spoilt = text.replace(
      /^\{/,
      '{"__proto__":{"polluted":1},"constructor":{"prototype":{"polluted":2}},"later":{"__proto__":{"polluted":3}},',
    );
    const read = readDocument(spoilt, "evil.edition.json");
    if (!read.ok) throw new Error(read.problems[0]?.message);
    expect(Reflect.get({}, "polluted")).toBeUndefined();
    expect(Reflect.get(read.value, "polluted")).toBeUndefined();
    expect(Object.getPrototypeOf(read.value)).toBe(Object.prototype);
    const again = readDocument(writeDocument(read.value), "evil.edition.json");
    expect(again.ok && Reflect.get(again.value, "polluted")).toBeUndefined();
  });

  it("with prototype keys for cells, rows and columns is refused", () => {
    for (const key of ["constructor", "__defineGetter__", "toString()", "a.b.c"]) {
      const spoilt = text.replace('"piece":"01"', `"piece":"01",${JSON.stringify(key)}:"x"`);
      expect(problemsOf(spoilt)[0]?.message, key).toContain("evil.edition.json");
    }
    const own = text.replace('"piece":"01"', '"piece":"01","__proto__":{"polluted":1}');
    const read = readDocument(own, "evil.edition.json");
    expect(read.ok ? [] : read.problems.map(({ code }) => code)).toEqual(["file.unrecognized_keys"]);
    expect(Reflect.get({}, "polluted")).toBeUndefined();
    for (const id of ["__proto__", "constructor()", "P 1"])
      expect(problemsOf(text.replace('"id":"p1"', `"id":${JSON.stringify(id)}`)).length, id).toBeGreaterThan(0);
  });

  it("nested without end is refused before it is read", () => {
    for (const depth of [65, 100_000, 5_000_000])
      expect(problemsOf("[".repeat(depth) + "]".repeat(depth)).map(({ code }) => code)).toEqual(["file.depth"]);
    expect(problemsOf(text.replace(/\}$/, `,"later":${'{"a":'.repeat(80)}1${"}".repeat(80)}}`))[0]?.code).toBe(
      "file.depth",
    );
    // Brackets in texts are no depth, and an escaped quote does not end one.
    const noted = withCell("note", `"${"[{".repeat(500)}\\`);
    expect(readDocument(writeDocument(noted), "f")).toEqual({ ok: true, value: noted });
  });

  it("with texts, numbers and lists beyond measure is refused with a short message", () => {
    const spoilt: readonly Workbook[] = [
      withCell("note", "a".repeat(1_000_000)),
      withCell("cast.slip", { f: `=${"1+".repeat(500_000)}1` }),
      { ...book, meta: { ...book.meta, title: "a".repeat(1_000_000) } },
      withRows(Array.from({ length: readable(SHEET_MOST.rows) + 1 }, (_, at) => ({ id: `p${at}`, cells: {} }))),
    ];
    for (const one of spoilt) {
      const problems = problemsOf(writeDocument(one));
      expect(problems.length).toBe(1);
      expect(problems[0]?.message.length).toBeLessThan(400);
    }
    for (const number of ["1e999", "-1e999", "NaN", "Infinity"])
      expect(
        problemsOf(text.replace('"piece":"01"', `"piece":"01","cast.slip":${number}`)).length,
        number,
      ).toBeGreaterThan(0);
  });

  it("with the same id tens of thousands of times is refused at once, and only the first are told", () => {
    const rows = Array.from({ length: 30_000 }, () => ({ id: "p1", cells: {} }));
    const problems = problemsOf(writeDocument(withRows(rows)));
    expect([problems.length, problems[0]?.code]).toEqual([100, "file.twice"]);
  });

  it("with tens of thousands of faults tells the first hundred", () => {
    const rows = Array.from({ length: 20_000 }, (_, at) => ({ id: `p${at}`, cells: { note: { x: 1 } as never } }));
    expect(problemsOf(writeDocument(withRows(rows))).length).toBe(100);
    const values = Array.from({ length: 20_000 }, (_, at) => ({ id: `p${at}`, cells: { "cast.slip": -1 } }));
    expect(problemsOf(writeDocument(withRows(values))).length).toBe(100);
  });

  it("that is no edition at all is refused with what was found", () => {
    for (const spoilt of [
      "",
      "null",
      "7",
      '"text"',
      "[]",
      "{}",
      '{"kind":"saggar edition"}',
      "\u0000",
      text.slice(0, 999),
    ])
      expect(problemsOf(spoilt).length, spoilt.slice(0, 20)).toBeGreaterThan(0);
  });
});
