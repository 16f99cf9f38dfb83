import { describe, expect, it } from "vitest";
import { readSheetCsv } from "../../src/csv/read";

const codes = (text: string) => readSheetCsv(text).problems.map((found) => found.code);
const cells = (text: string) => readSheetCsv(text).rows.map((row) => row.cells);

describe("finding the delimiter", () => {
  for (const [name, text, delimiter] of [
    ["commas", "Piece,coats\n007,2\n", ","],
    ["semicolons with decimal commas", "Piece;slip;coats\n007;905,5;2\n008;1,25;3\n", ";"],
    ["tabs with commas in text", "Piece\tnote\n007\ta, b; c\n", "\t"],
    ["semicolons in a note between commas", "Piece,note,coats\n007,a; b,1\n008,c,2\n", ","],
    ["commas in names between semicolons", "Piece, number;slip, kept;coats\n7;1,5;2\n8;2,5;1\n", ";"],
    ["a comma in one name and one number between semicolons", "a;b;c;d, e\n1;2;3;4,5\n6;7;8;9,5\n", ";"],
    ["one column only", "Piece\n007\n008\n", ","],
    ["quoted commas between semicolons", '"Piece";"note"\n"007";"a,b,c"\n', ";"],
  ] as const)
    it(`hears ${name}`, () => {
      const table = readSheetCsv(text);
      expect([table.delimiter, table.problems]).toEqual([delimiter, []]);
    });

  it("says so when two fit, and does as it is told", () => {
    const text = "a,b;c\n1,2;3\n4,5;6\n";
    const table = readSheetCsv(text, { where: "pieces.csv" });
    expect(table.problems.map((found) => [found.code, found.where])).toEqual([["csv.delimiter", "pieces.csv"]]);
    const read = readSheetCsv(text, { delimiter: ";" });
    expect([read.delimiter, read.header, read.problems]).toEqual([";", ["a,b", "c"], []]);
  });
});

describe("finding the decimal mark", () => {
  for (const [name, text, decimal] of [
    ["a point", "p,kg\n1,2.5\n2,1.234\n", "."],
    ["a comma", "p;kg\n1;2,5\n2;1.234,5\n", ","],
    ["nothing where no number has a mark", "p,kg\n1,2\n", undefined],
    ["nothing where each could be both", "p;kg\n1;1,234\n2;999.000\n", undefined],
    ["nothing where they contradict", "p;kg\n1;1,5\n2;2.5\n", undefined],
  ] as const)
    it(`tells ${name}`, () => expect(readSheetCsv(text).decimal).toBe(decimal));
});

describe("reading rows", () => {
  it("keeps texts as they are: noughts, quotation marks, line breaks, emoji", () => {
    expect(cells('Piece,note\r\n007,"say ""hi"",\r\nIda"\r\n008, 🏺 שלום \r\n')).toEqual([
      ["007", 'say "hi",\r\nIda'],
      ["008", " 🏺 שלום "],
    ]);
  });

  it("leaves a byte-order mark and blank lines out, and counts lines as the file has them", () => {
    const table = readSheetCsv('\ufeff\r\nPiece,note\r\n\r\n001,a\r\n,\r\n002,"b\r\nc\nd"\r\n003,e\r\n');
    expect(table.header).toEqual(["Piece", "note"]);
    expect(table.rows.map((row) => [row.line, row.cells[0]])).toEqual([
      [4, "001"],
      [6, "002"],
      [9, "003"],
    ]);
  });

  for (const [name, newline] of [
    ["CR LF", "\r\n"],
    ["LF", "\n"],
    ["CR", "\r"],
  ] as const)
    it(`takes lines that end in ${name}, whatever the breaks inside quotation marks`, () => {
      const table = readSheetCsv(["Piece,note", '001,"a\nb\r\nc\rd"', "002,e", ""].join(newline));
      expect(table.rows).toEqual([
        { line: 2, cells: ["001", "a\nb\r\nc\rd"] },
        { line: 6, cells: ["002", "e"] },
      ]);
      expect(table.problems).toEqual([]);
    });

  it("takes mixed line ends", () => {
    const table = readSheetCsv('Piece,note\n001,a\r\n002,"b\r"\r\n003,c\r004,"d\r\ne"\n005,f');
    expect(table.rows.map((row) => [row.line, ...row.cells])).toEqual([
      [2, "001", "a"],
      [3, "002", "b\r"],
      [5, "003", "c"],
      [6, "004", "d\r\ne"],
      [8, "005", "f"],
    ]);
  });

  it("says on which line a quotation mark has no other half, or text follows it", () => {
    const open = readSheetCsv('Piece,note\n001,a\n002,"b\n003,c\n', { where: "x.csv" });
    expect(open.problems[0]).toMatchObject({ code: "csv.quotes", where: "x.csv, lines 3 to 4" });
    const after = readSheetCsv('Piece,note\n001,"a"b\n002,c\n');
    expect(after.problems[0]).toMatchObject({ code: "csv.quotes", where: "The file, lines 2 to 3" });
    expect(codes('Piece,note\n001,5" vase\n')).toEqual([]);
  });

  it("says which lines have too few or too many cells", () => {
    const table = readSheetCsv("Piece,coats,note\n001,2\n002,1,5,x\n003,2,y,,\n");
    expect(table.problems.map((found) => [found.code, found.where])).toEqual([
      ["csv.short", "The file, line 2"],
      ["csv.long", "The file, line 3"],
    ]);
  });

  it("says so when there is nothing", () => {
    for (const text of ["", "\ufeff", "\r\n\r\n", " , \n"]) {
      expect(codes(text)).toEqual(["csv.empty"]);
      expect(readSheetCsv(text)).toMatchObject({ header: [], rows: [] });
    }
  });

  it("takes the guard off names of columns", () => {
    expect(readSheetCsv("Piece,'=odd,'tis\n1,2,3\n").header).toEqual(["Piece", "=odd", "'tis"]);
  });
});
