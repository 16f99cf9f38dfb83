// How a file is laid out, seen or told; and what is saved of lines that were refused.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readFileTable } from "../../src/csv/file-table";
import { planImport } from "../../src/csv/plan";
import { readSheetCsv } from "../../src/csv/read";
import { writeRejectedCsv } from "../../src/csv/rejected-csv";
import { smallEdition } from "../storage/small-edition";

const book = smallEdition(4);
const cells = (text: string, options = {}) => readSheetCsv(text, options).rows.map((row) => row.cells);

describe("quotes", () => {
  it("are apostrophes where every name stands in them", () => {
    const table = readSheetCsv("'Piece','note'\n'001','a, b'\n");
    expect([table.quote, table.header, table.rows[0]?.cells]).toEqual(["'", ["Piece", "note"], ["001", "a, b"]]);
    expect(readSheetCsv("Piece,note\n001,'tis\n").quote).toBe('"');
  });
  it("are what they are told to be", () => {
    expect(cells('Piece,note\n001,"a"\n', { quote: "" })).toEqual([["001", '"a"']]);
    expect(cells("Piece,note\n001,'a,b'\n", { quote: "'" })).toEqual([["001", "a,b"]]);
  });
});

describe("the first line", () => {
  for (const [name, text, hasHeader] of [
    ["names above numbers", "Piece,kg\n001,2\n002,3\n", true],
    ["a name above numbers beside a number above numbers", "Mark,7\n12,1\n13,2\n", true],
    ["texts only", "Piece,note\nA,x\nB,y\n", true],
    ["numbers above numbers", "A,2\nB,3\nC,4\n", false],
    ["one line only", "001,2\n", true],
  ] as const)
    it(`holds ${hasHeader ? "names" : "data"}: ${name}`, () =>
      expect(readSheetCsv(text).headerLine > 0).toBe(hasHeader));

  it("holds names where one of ours is among them, and is data where it is told to be", () => {
    const text = "Piece,7\n001,1\n002,2\n";
    const read = (reading = {}) => readFileTable({ name: "f", text }, reading, book, "pieces").preview;
    expect([read().headerLine, read().header]).toEqual([1, ["Piece", "7"]]);
    expect(read({ headerLine: 0 })).toMatchObject({ header: ["column 1", "column 2"], rowCount: 3 });
  });
});

describe("refused lines as a file", () => {
  const text = "Piece,note,Cast: slip kept (g)\n001,=1+1,soon\n002,ok,900\n003,-5,-5\n009,x,1\n";
  const table = readSheetCsv(text);
  const plan = planImport(book, "pieces", table);
  const saved = writeRejectedCsv(table, plan.rejected);

  it("have their line, the reasons, and what stood there, made harmless", () => {
    const again = readSheetCsv(saved);
    expect(again.header.slice(0, 2)).toEqual(["line in the file", "why not brought in"]);
    expect(again.rows.map((row) => [row.cells[0], ...row.cells.slice(2)])).toEqual([
      ["2", "001", "'=1+1", "soon"],
      ["4", "003", "-5", "-5"],
      ["5", "009", "x", "1"],
    ]);
    expect(again.rows[0]?.cells[1]).toContain("Cast: slip kept (g): It takes a number");
  });

  it("can be mended and brought in", () => {
    const mended = planImport(book, "pieces", readSheetCsv(saved.replace("soon", "880")));
    expect(mended.changed).toContain("001");
  });
});

describe("mangled files", () => {
  const good =
    'Piece,tier,note,Cast: slip kept (g),Glaze: coats\r\n001,standard,"a, b",900.5,2\r\n002,special,,1,3\r\n';
  const piece = fc.constantFrom(
    '"',
    ",",
    ";",
    "\t",
    "\r\n",
    "\n",
    "\r",
    "\0",
    "\ufeff",
    "'",
    "=",
    "1,234",
    "001",
    "é",
    "🏺",
  );
  const cut = fc.record({ at: fc.nat(good.length), drop: fc.nat(20), put: fc.array(piece, { maxLength: 6 }) });
  it("never throw, and every line read is counted once", () => {
    fc.assert(
      fc.property(fc.array(cut, { minLength: 1, maxLength: 8 }), fc.boolean(), (cuts, addMissing) => {
        const text = cuts.reduce(
          (sum, { at, drop, put }) => sum.slice(0, at) + put.join("") + sum.slice(at + drop),
          good + good.split("\r\n").slice(1).join("\r\n"),
        );
        const bytes = new TextEncoder().encode(text);
        const { table, preview } = readFileTable({ name: "f", bytes }, {}, book, "pieces");
        const { counts, ...plan } = planImport(book, "pieces", table, { addMissing });
        const { read, ...rest } = counts;
        expect(read).toBe(preview.rowCount);
        expect(Object.values(rest).reduce((sum, count) => sum + count, 0)).toBe(read);
        expect(Math.min(...Object.values(rest))).toBeGreaterThanOrEqual(0);
        // A refused line has its reason, unless nothing says which row any line is for.
        if (plan.questions.every(({ about }) => about !== "label"))
          expect(new Set(plan.rejected.map(({ line }) => line)).size).toBeGreaterThanOrEqual(counts.refused);
        writeRejectedCsv(table, plan.rejected);
      }),
      { seed: 20261125, numRuns: 400 },
    );
  });
  it("of raw bytes never throw either", () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 300 }), (bytes) => {
        const { table } = readFileTable({ name: "f", bytes }, {}, book, "pieces");
        const { counts } = planImport(book, "pieces", table);
        expect(counts.read).toBe(table.rows.length);
      }),
      { seed: 20261125, numRuns: 300 },
    );
  });
});
