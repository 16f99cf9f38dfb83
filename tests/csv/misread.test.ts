// What could be read wrong, or lost, is asked or refused with its line.
import { describe, expect, it } from "vitest";
import { applyChange } from "../../src/core/document/change";
import { type FileContent, readFileTable } from "../../src/csv/file-table";
import type { FileReading, ImportOptions } from "../../src/csv/import-options";
import { planImport } from "../../src/csv/plan";
import { writeRejectedCsv } from "../../src/csv/rejected-csv";
import { createCsvWork } from "../../src/csv/work";
import { smallEdition } from "../storage/small-edition";

const book = smallEdition(4);

function read(content: string | Uint8Array, reading: FileReading = {}, options: ImportOptions = {}) {
  const file: FileContent =
    typeof content === "string" ? { name: "f.csv", text: content } : { name: "f.csv", bytes: content };
  const { table, preview, questions } = readFileTable(file, reading, book, "pieces");
  const plan = planImport(book, "pieces", table, options);
  const { rows } = applyChange(book, plan.change).sheets.pieces;
  return {
    ...{ table, preview, plan },
    questions: [...questions, ...plan.questions],
    about: [...questions, ...plan.questions].map(({ about }) => about),
    notes: rows.map(({ cells }) => cells.note),
    refused: plan.rejected.map(({ line, code }) => [line, code]),
  };
}

describe("a quotation mark without its other half", () => {
  it("refuses the lines it takes in, each with its number, and gives them back as they stood", () => {
    const text = 'Piece,note\n001,a\n002,"b\n003,c\n004,"d"\n';
    const { notes, refused, plan, table } = read(text);
    expect(notes).toEqual(["a", undefined, undefined, undefined]);
    expect(refused).toEqual([
      [3, "csv.quotes"],
      [4, "csv.quotes"],
      [5, "csv.quotes"],
    ]);
    expect(plan.counts).toMatchObject({ read: 4, changed: 1, refused: 3 });
    expect(plan.rejected[1]?.reason).toContain("line 3");
    expect(writeRejectedCsv(table, plan.rejected)).toMatch(/\r\n4,.*,003,c\r\n/);
    expect(table.problems.map(({ where }) => where)).toEqual(["f.csv, lines 3 to 5"]);
  });

  it("that closes again leaves what comes after", () => {
    const { notes, refused } = read('Piece,note\n001,"a"x\n002,"b"\n003,c\n004,"two\nlines"\n');
    expect(refused.map(([line]) => line)).toEqual([2, 3]);
    expect(notes.slice(2)).toEqual(["c", "two\nlines"]);
  });
});

describe("letters", () => {
  const bytes = (text: string, ...odd: readonly number[]) => {
    const [before = "", after = ""] = text.split("*");
    const encoder = new TextEncoder();
    return Uint8Array.from([...encoder.encode(before), ...odd, ...encoder.encode(after)]);
  };

  it("one of them unreadable is shown in both readings and asked, and the rest stays as it is", () => {
    const file = bytes("Piece,note\n001,größer\n002,caf*, wet\n", 0xe9);
    const { preview, questions, notes, refused } = read(file);
    expect(preview.encoding).toEqual({ encoding: "utf-8", shownBy: "rest" });
    expect(questions.map(({ about }) => about)).toEqual(["letters"]);
    expect(questions[0]?.examples).toMatchObject([{ line: 3, found: expect.stringContaining("caf\ufffd") }]);
    expect(questions[0]?.answers[0]).toMatchObject({
      label: expect.stringContaining("café"),
      reading: { encoding: "windows-1252" },
    });
    expect(notes[0]).toBe("größer");
    expect(refused).toEqual([[3, "csv.long"]]);
  });

  it("are read as told, without another question", () => {
    const file = bytes("Piece,note\n001,ö\n002,caf*\n", 0xe9);
    const kept = read(file, { encoding: "utf-8" });
    expect([kept.about, kept.notes.slice(0, 2), kept.refused]).toEqual([[], ["ö", undefined], [[3, "csv.encoding"]]]);
    const western = read(file, { encoding: "windows-1252" });
    expect([western.about, western.notes.slice(0, 2)]).toEqual([[], ["Ã¶", "café"]]);
    const name = read(bytes("Piece,note\n00*,x\n", 0xe9), { encoding: "utf-8" }, { addMissing: true });
    expect(name.refused).toEqual([[2, "csv.encoding"]]);
  });

  it("many of them unreadable and none that only UTF-8 has show another encoding", () => {
    const file = bytes("Piece,note\n001,*\n", 0xe9, 0xe8, 0xea);
    expect(read(file)).toMatchObject({ preview: { encoding: { encoding: "windows-1252" } }, about: [] });
  });

  it("are asked by the worker too", async () => {
    const work = createCsvWork();
    const file = new Blob([bytes("Piece,note\n001,caf*\n", 0xe9)]);
    await work({ kind: "file", file, name: "f.csv" }, () => undefined);
    await work({ kind: "table", reading: {}, book, sheet: "pieces" }, () => undefined);
    const planned = await work({ kind: "plan", options: {} }, () => undefined);
    expect(planned).toMatchObject({ ok: true, value: { questions: [{ about: "letters" }] } });
  });
});

describe("columns", () => {
  it("without a name are asked about where they hold something", () => {
    const text = "Piece,,note,\n001,12,x,\n002,13,y,\n";
    const asked = read(text);
    expect(asked.questions).toMatchObject([
      {
        about: "nameless",
        text: expect.stringContaining("column 2"),
        examples: [{ line: 2, found: "12" }, { line: 3 }],
      },
    ]);
    const [answer] = asked.questions[0]?.answers ?? [];
    expect(read(text, {}, answer?.options).about).toEqual([]);
    const result = read(text, {}, { columns: { "column 2": "fettle.minutes" } });
    expect([result.about, result.plan.change.operations.length]).toEqual([[], 4]);
  });

  it("that come twice are asked about where they differ", () => {
    const text = "Piece,note,note\n001,a,a\n002,b,c\n";
    const asked = read(text);
    expect(asked.questions).toMatchObject([
      {
        about: "repeated",
        examples: [
          { line: 3, found: "b" },
          { line: 3, found: "c", column: "note, column 3" },
        ],
      },
    ]);
    const [first, second] = asked.questions[0]?.answers ?? [];
    expect(read(text, {}, first?.options)).toMatchObject({ about: [], notes: ["a", "b", undefined, undefined] });
    expect(read(text, {}, second?.options)).toMatchObject({ about: [], notes: ["a", "c", undefined, undefined] });
    expect(read("Piece,note,note\n001,a,a\n").about).toEqual([]);
  });

  it("are found by their titles, never by names that only the program knows", () => {
    expect(read("Piece,fettle.minutes,lost_at\n001,44,x\n").plan.ignored.map(({ why }) => why)).toEqual([
      "unknown",
      "unknown",
    ]);
  });
});

describe("the line of names", () => {
  it("is found below a title, a date and blank lines, and shown", () => {
    const text = "Studio list, spring\nWeek 12\n\nPiece,Fettle: time (min),note\n001,4,a\n002,5,b\n";
    const { table, preview, notes } = read(text);
    expect([table.delimiter, table.headerLine, preview.headerLine]).toEqual([",", 4, 4]);
    expect(preview.beginning.map(({ line }) => line)).toEqual([1, 2, 4, 5, 6]);
    expect(notes.slice(0, 2)).toEqual(["a", "b"]);
  });

  it("is found where it holds none of our names, below lines with one cell", () => {
    const { table } = read("Studio list\nWeek 12\nNr;wet;dry\n1;4,5;3\n2;5,5;4\n3;1,5;2\n");
    expect([table.delimiter, table.headerLine, table.header]).toEqual([";", 3, ["Nr", "wet", "dry"]]);
  });

  it("is the one that was told, or none", () => {
    const text = "Piece,note\nPiece,note\n001,x\n";
    expect(read(text).table.headerLine).toBe(1);
    expect(read(text, { headerLine: 2 }).table).toMatchObject({ headerLine: 2, rows: [{ line: 3 }] });
    const none = read(text, { headerLine: 0 }).table;
    expect([none.header, none.rows.length]).toEqual([["column 1", "column 2"], 3]);
  });
});

describe("other ways of writing a table", () => {
  it("a line that says the mark between columns", () => {
    const { table, notes } = read("sep=;\nPiece;note\n001;a, b\n002;c, d\n");
    expect([table.delimiter, table.headerLine, table.header]).toEqual([";", 2, ["Piece", "note"]]);
    expect(notes.slice(0, 2)).toEqual(["a, b", "c, d"]);
    expect(read('"sep=|"\r\nPiece|note\r\n001|x\r\n').notes[0]).toBe("x");
  });

  it("upright bars", () => {
    const { table, notes } = read("Piece|note|Cast: slip kept (g)\n001|a, b; c|900.5\n002|d, e; f|901\n");
    expect([table.delimiter, notes[0]]).toEqual(["|", "a, b; c"]);
  });

  it("remarks that begin with #, where they are no rows", () => {
    const text = "# fired on Tuesday\nPiece,note,Fettle: time (min)\n001,x,4\n# not yet dry\n002,y,5\n";
    const found = read(text, {}, { addMissing: true });
    expect([found.table.remarks, found.table.headerLine, found.refused, found.plan.added]).toEqual([true, 2, [], []]);
    const rows = read(text, { remarks: false }, {});
    expect(rows.refused).toEqual([[4, "csv.missing"]]);
    const pieces = read("Piece,note\n#7,x\n#8,y\n", {}, { addMissing: true });
    expect([pieces.table.remarks, pieces.plan.added]).toEqual([false, ["#7", "#8"]]);
    expect(read("Piece,note\n001,x\n").table.remarks).toBeUndefined();
  });

  it("with more columns or cells than any sheet has is refused, and nothing of it is read", () => {
    const wide = read(`Piece,${"c,".repeat(3000)}note\n001,${",".repeat(3000)}x\n`);
    expect([wide.table.rows, wide.table.problems.map(({ code }) => code)]).toEqual([[], ["csv.size"]]);
    const many = read(`Piece,note\n${`${",".repeat(1000)}\n`.repeat(10_001)}`);
    expect([many.table.rows, many.table.problems.map(({ code }) => code)]).toEqual([[], ["csv.size"]]);
  });
});
