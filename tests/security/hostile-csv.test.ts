// CSV files and zips made to do harm: read as data, refused with words, and never over and over.
import { describe, expect, it } from "vitest";
import { readDocument } from "../../src/core/document/document-file";
import { writeDocument } from "../../src/core/document/write-document";
import { planImport } from "../../src/csv/plan";
import { readSheetCsv } from "../../src/csv/read";
import { reportOf } from "../../src/csv/report";
import { readWorkbookZip } from "../../src/csv/workbook-zip";
import { unzipTexts, zipTexts } from "../../src/csv/zip";
import { smallEdition } from "../storage/small-edition";

const book = smallEdition(4);
const plan = (text: string) => planImport(book, "pieces", readSheetCsv(text), {});
const codesOf = (text: string) => plan(text).rejected.map(({ code }) => code);
const SCRIPT = "<img src=x onerror=alert(1)><script>alert(2)</script>";

describe("a hostile CSV", () => {
  it("with script in its cells brings it in as text", () => {
    expect(plan(`Piece,note\n001,"${SCRIPT}"\n`).change.operations).toMatchObject([{ is: SCRIPT }]);
  });

  it("with formulas in its cells brings in text, never a formula", () => {
    for (const typed of ["=1+1", '=HYPERLINK(""javascript:alert(1)"")', "+1", "@SUM(1)", "=cmd|' /C calc'!A0"]) {
      const { operations } = plan(`Piece,note\n001,"${typed}"\n`).change;
      for (const one of operations) expect(one.kind === "cell" && typeof one.is, typed).toBe("string");
    }
    // Where a formula may be typed, one from a file is checked as one that is typed.
    for (const typed of ["=SUM(A1:A1000000000)", "=nobody*2", `=${"(".repeat(2000)}1${")".repeat(2000)}`])
      expect(plan(`Piece,Cast: slip kept (g)\n001,"${typed}"\n`).change.operations, typed.slice(0, 20)).toEqual([]);
  });

  it("with prototype names for its columns changes no prototype", () => {
    const text = "Piece,__proto__,constructor,toString,note\n001,polluted,polluted,polluted,x\n";
    const { change } = plan(text);
    expect(Reflect.get({}, "polluted")).toBeUndefined();
    expect(String({})).toBe("[object Object]");
    for (const one of change.operations) expect(one.kind === "cell" && one.column).toBe("note");
    expect(codesOf("Piece,note\n__proto__,x\nconstructor,y\n")).toEqual(["csv.missing", "csv.missing"]);
  });

  it("with a cell of a million characters refuses that cell", () => {
    const planned = plan(`Piece,note\n001,${"a".repeat(1_000_000)}\n002,good\n`);
    expect(planned.change.operations).toMatchObject([{ row: "p2", is: "good" }]);
    // The file of refused lines has it whole; what the page is given is short.
    expect(planned.rejected).toHaveLength(1);
    expect(JSON.stringify(reportOf(planned, book)).length).toBeLessThan(2000);
  });

  it("with numbers that could send a pattern round and round is read once", () => {
    for (const number of [
      "1".repeat(20_000),
      `${"1,".repeat(10_000)}x`,
      `${"1.".repeat(10_000)}x`,
      `${" ".repeat(20_000)}1x`,
      `-${"0".repeat(20_000)}e${"9".repeat(20_000)}`,
      `${"2026-".repeat(4000)}01`,
      `${"=".repeat(20_000)}`,
    ]) {
      const read = plan(`Piece;Cast: slip kept (g);note\n001;"${number}";"${number.slice(0, 15_000)}"\n`);
      expect(read.change.operations.length).toBeLessThan(3);
      plan(`Piece;Firing: date\n001;"${number}"\n`);
    }
  });

  it("with a quote that never ends, a hundred thousand columns, or lines of commas is told, not chewed on", () => {
    expect(plan(`Piece,note\n001,"${"x\n".repeat(50_000)}`).change.operations.length).toBeLessThan(2);
    const wide = `Piece,${"c,".repeat(100_000)}note\n001,${",".repeat(100_000)}x\n`;
    expect(plan(wide).change.operations.length).toBeLessThan(2);
    expect(plan(`Piece,note\n${",".repeat(100)}\n`.repeat(500)).change.operations).toEqual([]);
  });
});

describe("a hostile zip", () => {
  const MEGABYTE = "0".repeat(1_000_000);

  it("that would unpack to more than an edition is refused before it is unpacked", () => {
    const files = Object.fromEntries(Array.from({ length: 190 }, (_, at) => [`f${at}.csv`, MEGABYTE]));
    const bomb = zipTexts({ ...files, "edition.json": "0".repeat(20_000_000) });
    expect(bomb.length).toBeLessThan(1_000_000);
    const refused = unzipTexts(bomb, "bomb.zip");
    expect(refused.ok ? [] : refused.problems.map(({ code }) => code)).toEqual(["zip.read"]);
  });

  it("that lies about the size of what it holds is refused", () => {
    const bytes = zipTexts({ "edition.json": MEGABYTE });
    const view = new DataView(bytes.buffer);
    // The size unpacked stands in the directory at the end (APPNOTE 4.3.12), 24 bytes after its signature.
    for (let at = 0; at < bytes.length - 4; at += 1)
      if (view.getUint32(at, true) === 0x02014b50) view.setUint32(at + 24, 10, true);
    const read = unzipTexts(bytes, "lies.zip");
    if (read.ok) expect(read.value["edition.json"]?.length).toBeLessThanOrEqual(10);
    else expect(read.problems[0]?.code).toBe("zip.read");
  });

  it("with names of other folders, of prototypes, or of no table gives an edition or words, and nothing else", () => {
    for (const name of ["../../etc/passwd.csv", "/etc/passwd.csv", "__proto__.json", "a.exe"]) {
      const read = readWorkbookZip(zipTexts({ [name]: "x", "edition.json": writeDocument(book) }), "odd.zip");
      expect(read.ok ? "an edition" : read.problems[0]?.message, name).toBeTruthy();
      expect(Reflect.get({}, "x")).toBeUndefined();
    }
  });

  it("within a zip, or cut short, is refused with words", () => {
    const inner = zipTexts({ "edition.json": writeDocument(book) });
    const nested = zipTexts({ "edition.json": new TextDecoder("latin1").decode(inner) });
    expect(readWorkbookZip(nested, "nested.zip").ok).toBe(false);
    for (const cut of [0, 1, 30, inner.length - 30])
      expect(readWorkbookZip(inner.slice(0, cut), "cut.zip").ok).toBe(false);
  });

  it("with a deep edition inside is refused as a deep file is", () => {
    const deep = `{"edition":${"[".repeat(10_000)}${"]".repeat(10_000)},"csv":{"delimiter":",","decimal":"."}}`;
    expect(readWorkbookZip(zipTexts({ "edition.json": deep }), "deep.zip").ok).toBe(false);
    expect(readDocument(deep, "deep.json").ok).toBe(false);
  });
});
