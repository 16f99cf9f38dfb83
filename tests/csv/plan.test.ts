import { describe, expect, it } from "vitest";
import { rawAt } from "../../src/core/document/access";
import { applyChange, invert, type Operation } from "../../src/core/document/change";
import { readDocument } from "../../src/core/document/document-file";
import type { Raw, SheetKey, Workbook } from "../../src/core/document/workbook";
import { writeDocument } from "../../src/core/document/write-document";
import type { ImportOptions } from "../../src/csv/import-options";
import { planImport } from "../../src/csv/plan";
import { readSheetCsv } from "../../src/csv/read";
import { writeSheetCsv } from "../../src/csv/write";
import { smallEdition } from "../storage/small-edition";

const book = withCells(smallEdition(4), "pieces", "p1", { "cast.slip": 900, note: "first" });

function withCells(from: Workbook, sheet: SheetKey, row: string, cells: Readonly<Record<string, Raw>>): Workbook {
  const operations = Object.entries(cells).map(
    ([column, is]): Operation => ({ kind: "cell", sheet, row, column, was: undefined, is }),
  );
  return applyChange(from, { label: "test", operations });
}

const plan = (text: string, options?: ImportOptions, sheet: SheetKey = "pieces", from = book) =>
  planImport(from, sheet, readSheetCsv(text), options);
const imported = (text: string, options?: ImportOptions, sheet: SheetKey = "pieces", from = book) =>
  applyChange(from, plan(text, options, sheet, from).change);
const cell = (from: Workbook, row: string, column: string, sheet: SheetKey = "pieces") =>
  rawAt(from, { sheet, row, column });
const reasons = (text: string, options?: ImportOptions, sheet?: SheetKey, from?: Workbook) =>
  plan(text, options, sheet, from).rejected.map((one) => [one.line, one.column, one.found, one.code]);
const asked = (text: string, options?: ImportOptions, sheet?: SheetKey, from?: Workbook) =>
  plan(text, options, sheet, from).questions.map((question) => question.about);

describe("merging by piece number", () => {
  it("changes what differs, adds nothing unasked, and is one undo step", () => {
    const text = "Piece,Cast: slip kept (g),note\n002,880,new\n001,900,first\n003,,\n";
    const planned = plan(text);
    expect(planned).toMatchObject({
      added: [],
      changed: ["002"],
      unchanged: ["001", "003"],
      rejected: [],
      questions: [],
    });
    expect(planned.change.label).toBe("Import into Pieces");
    const changed = applyChange(book, planned.change);
    expect([cell(changed, "p2", "cast.slip"), cell(changed, "p2", "note")]).toEqual([880, "new"]);
    expect(applyChange(changed, invert(planned.change))).toEqual(book);
    expect(plan(text, { label: "Import marram.csv" }).change.label).toBe("Import marram.csv");
  });

  it("does not touch the workbook it is given", () => {
    const before = structuredClone(book);
    plan("Piece,note\n001,x\n009,y\n", { addMissing: true });
    expect(book).toEqual(before);
  });

  it("leaves a cell as it is where the file is blank or ends early, and clears it only when told", () => {
    expect(plan("Piece,note,Cast: slip kept (g)\n001,,\n002\n").change.operations).toEqual([]);
    const cleared = imported("Piece,note,Cast: slip kept (g)\n001,,900\n", { blankClears: true });
    expect([cell(cleared, "p1", "note"), cell(cleared, "p1", "cast.slip")]).toEqual([undefined, 900]);
    expect(plan("Piece,Cast: slip kept (g),note\n001,900\n", { blankClears: true }).change.operations).toEqual([]);
  });

  it("never clears what can't be blank", () => {
    const text = "Material,kind,pack price (EUR)\nDune glaze,,39\n";
    expect(reasons(text, { blankClears: true }, "materials")).toEqual([[2, "kind", "", "entry.required"]]);
    expect(cell(imported(text, { blankClears: true }, "materials"), "m2", "pack_price", "materials")).toBe(39);
  });

  it("finds names whatever their case and the spaces around them", () => {
    expect(plan("Material,note\n DUNE glaze ,x\n", {}, "materials").changed).toEqual(["DUNE glaze"]);
    expect(cell(imported("Material,note\n dune glaze ,x\n", {}, "materials"), "m2", "id", "materials")).toBe(
      "Dune glaze",
    );
  });

  it("asks before it adds, and then adds whole rows at the end", () => {
    const text = "Piece,tier,note\n001,special,\n101,special,late\n102,,later\n";
    expect(reasons(text)).toEqual([
      [3, "Piece", "101", "csv.missing"],
      [4, "Piece", "102", "csv.missing"],
    ]);
    expect(asked(text)).toEqual(["missing"]);
    const planned = plan(text, { addMissing: true });
    expect(planned).toMatchObject({ added: ["101", "102"], changed: ["001"], rejected: [], questions: [] });
    const added = applyChange(book, planned.change).sheets.pieces.rows.slice(4);
    expect(added).toEqual([
      { id: "p5", cells: { piece: "101", tier: "special", note: "late" } },
      { id: "p6", cells: { piece: "102", note: "later" } },
    ]);
    expect(applyChange(applyChange(book, planned.change), invert(planned.change))).toEqual(book);
  });

  it("adds no row that lacks what it must have, and says what", () => {
    const text = "Material,kind,pack price (EUR),pack holds (g)\nAsh,glaze,12,1000\nMud,slip,x,500\nDust,,3,\n";
    const planned = plan(text, { addMissing: true }, "materials");
    expect(planned.added).toEqual(["Ash"]);
    expect(planned.rejected.map((one) => [one.line, one.column, one.code])).toEqual([
      [3, "pack price (EUR)", "entry.number"],
      [3, "pack price", "csv.lacking"],
      [4, "kind", "csv.lacking"],
      [4, "pack holds", "csv.lacking"],
    ]);
    const document = writeDocument(applyChange(book, planned.change));
    expect(readDocument(document, "test").ok).toBe(true);
  });

  it("adds no steps and no inputs: those have their own ways", () => {
    expect(reasons("Step,how\nPolish,by hand\n", { addMissing: true }, "route")).toEqual([
      [2, "Step", "Polish", "csv.row"],
    ]);
    expect(reasons("What,Value\nMagic,7\n", { addMissing: true }, "edition")).toEqual([
      [2, "What", "Magic", "csv.row"],
    ]);
  });

  it("asks whether 7 is 007, since some programs drop noughts", () => {
    const text = "Piece,note\n1,x\n004,y\n";
    expect(reasons(text, { addMissing: true })).toEqual([[2, "Piece", "1", "csv.zeros"]]);
    expect(asked(text, { addMissing: true })).toEqual(["zeros"]);
    expect(cell(imported(text, { zeros: "same" }), "p1", "note")).toBe("x");
    expect(cell(imported(text, { zeros: "same" }), "p1", "piece")).toBe("001");
    expect(plan(text, { zeros: "different" }).rejected[0]?.code).toBe("csv.missing");
    expect(plan(text, { zeros: "different", addMissing: true }).added).toEqual(["1"]);
  });

  it("does not guess where noughts leave two pieces to choose from", () => {
    const twins = withCells(withCells(book, "pieces", "p1", { piece: "07" }), "pieces", "p2", { piece: "007" });
    expect(plan("Piece,note\n7,x\n", {}, "pieces", twins).rejected[0]?.code).toBe("csv.missing");
    expect(plan("Piece,note\n07,x\n", {}, "pieces", twins).changed).toEqual(["07"]);
  });

  it("takes a piece once, and says where it was before", () => {
    const text = "Piece,note\n002,a\n003,b\n002,c\n1,d\n001,e\n003,b \n";
    const refused = (options: ImportOptions) =>
      plan(text, { zeros: "same", ...options }).rejected.map((one) => [one.line, one.code, one.reason]);
    const differs = (line: number, other: number) => [
      ...[line, "csv.differs", `Line ${other} is for the same row and says something else.`],
    ];
    const same = [7, "csv.twice", "It says the same as line 3."];
    expect(refused({})).toEqual([differs(2, 4), differs(4, 2), differs(5, 6), differs(6, 5), same]);
    expect(asked(text, { zeros: "same" })).toEqual(["twice"]);
    const counts = (line: number, other: number) => [
      line,
      "csv.twice",
      `Line ${other} is for the same row and is the one that counts.`,
    ];
    expect(refused({ twice: "first" })).toEqual([counts(4, 2), counts(6, 5), same]);
    expect(refused({ twice: "last" })).toEqual([counts(2, 4), counts(5, 6), same]);
    const notes = (twice: "first" | "last") => {
      const changed = imported(text, { zeros: "same", twice });
      return ["p1", "p2", "p3"].map((row) => cell(changed, row, "note"));
    };
    expect([notes("first"), notes("last")]).toEqual([
      ["d", "a", "b"],
      ["e", "c", "b"],
    ]);
    expect(plan("Piece\n900\n900\n", { addMissing: true }).added).toEqual(["900"]);
  });

  it("tells rows of one name apart by their order, if they are all there", () => {
    const results = writeSheetCsv(book, "results", () => 1, { delimiter: ",", decimal: ".", withComputed: true });
    const labels = book.sheets.results.rows.map((row) => String(row.cells.label));
    expect(new Set(labels).size).toBeLessThan(labels.length);
    const planned = plan(results, {}, "results");
    expect(planned.change.operations).toEqual([]);
    expect(planned.rejected).toEqual([]);
    expect(planned.unchanged).toEqual(labels);
    const one = results.split("\r\n").filter((line, at, all) => !/^Labour,/.test(line) || all.indexOf(line) === at);
    one.splice(
      one.findIndex((line) => line.startsWith("Labour,")),
      1,
    );
    expect(reasons(one.join("\r\n"), {}, "results").map((reason) => reason[3])).toEqual(["csv.several"]);
  });

  it("leaves out lines without a name, with slipped cells, or beyond what a sheet holds", () => {
    expect(reasons("Piece,note\n,x\n002,1,5\n")).toEqual([
      [2, "Piece", "", "csv.nameless"],
      [3, "Piece", "002", "csv.long"],
    ]);
    expect(reasons(`Piece\n${"9".repeat(301)}\n`, { addMissing: true })[0]?.[3]).toBe("csv.name");
    const many = Array.from({ length: 30_000 }, (_, at) => `x${at}`).join("\n");
    const planned = plan(`Piece\n${many}\n`, { addMissing: true });
    expect(planned.added).toHaveLength(30_000 - 4);
    expect(planned.rejected.map((one) => one.code)).toEqual(["csv.rows", "csv.rows", "csv.rows", "csv.rows"]);
  });
});

describe("columns of the file", () => {
  it("that are computed or unknown are left out and named", () => {
    const planned = plan("Piece,own cost (EUR),colour,Glaze: coats,glaze: COATS\n001,99,blue,2,3\n");
    expect(planned.ignored.map((one) => [one.header, one.why])).toEqual([
      ["own cost (EUR)", "computed"],
      ["colour", "unknown"],
      ["glaze: COATS", "twice"],
    ]);
    expect(planned.change.operations).toHaveLength(1);
  });

  it("in another unit are asked about", () => {
    const text = "Piece,Cast: slip kept (kg)\n002,0.9\n";
    const planned = plan(text);
    expect(planned.change.operations).toEqual([]);
    expect(planned.questions.map((question) => question.about)).toEqual(["unit"]);
    const [yes, no] = planned.questions[0]?.answers ?? [];
    expect(cell(imported(text, yes?.options), "p2", "cast.slip")).toBe(0.9);
    expect(plan(text, no?.options)).toMatchObject({ questions: [], ignored: [{ why: "left out" }] });
  });

  it("without one that names the rows are asked about, and nothing is done", () => {
    const text = "Nr.,note\n001,x\n";
    const planned = plan(text);
    expect(planned).toMatchObject({ change: { operations: [] }, rejected: [], questions: [{ about: "label" }] });
    expect(planned.questions[0]?.answers.map((answer) => answer.label)).toEqual(["Nr."]);
    expect(cell(imported(text, planned.questions[0]?.answers[0]?.options), "p1", "note")).toBe("x");
  });
});

describe("reading cells", () => {
  it("refuses what a cell does not take, one by one, with the line of the file and what it takes", () => {
    const text =
      'Piece,Glaze: coats,passed as,Cast: slip kept (g),note\n001,2.5,good,-1,"two\nlines"\n002,3,perfect,850,ok\n';
    const planned = plan(text);
    expect(planned.rejected).toEqual([
      {
        line: 2,
        column: "Glaze: coats",
        found: "2.5",
        code: "entry.range",
        reason: "It takes a whole number, 0 or more and 50 or less.",
      },
      {
        line: 2,
        column: "Cast: slip kept (g)",
        found: "-1",
        code: "entry.range",
        reason: "It takes a number, 0 or more.",
      },
      { line: 4, column: "passed as", found: "perfect", code: "entry.choice", reason: "It takes one of good, second." },
    ]);
    expect(planned.changed).toEqual(["001", "002"]);
    const changed = applyChange(book, planned.change);
    expect([cell(changed, "p1", "grade"), cell(changed, "p2", "glaze.coats")]).toEqual(["good", 3]);
  });

  it("leaves spaces around a text out, unless the file says that they belong to it", () => {
    const text = "Piece,note,why\n001, plain ,' kept \n";
    expect(cell(imported(text), "p1", "note")).toBe("plain");
    expect(cell(imported(text), "p1", "reason")).toBe(" kept ");
    expect(cell(imported("Piece,note\n001,'   \n", { blankClears: true }), "p1", "note")).toBeUndefined();
  });

  it("reads a title before a key that another row has", () => {
    const crossed = withCells(withCells(book, "route", "glaze", { title: "Bisque" }), "route", "bisque", {
      title: "Glaze",
    });
    expect(cell(imported("Piece,lost at\n001,Glaze\n002,bisque\n", {}, "pieces", crossed), "p1", "lost_at")).toBe(
      "bisque",
    );
    expect(cell(imported("Piece,lost at\n001,Glaze\n002,bisque\n", {}, "pieces", crossed), "p2", "lost_at")).toBe(
      "glaze",
    );
  });

  it("takes dates in any order that is sure, and asks where it is not", () => {
    const firings = (...dates: readonly string[]) =>
      `Firing,kiln,date,shared by\n${dates.map((date, at) => `G${at + 1},Big kiln,${date},count`).join("\n")}\n`;
    const add = { addMissing: true };
    const dates = (text: string, options: ImportOptions) =>
      imported(text, options, "firings").sheets.firings.rows.map((row) => row.cells.date);
    expect(dates(firings("2026-11-25", "25.11.2026", "03.04.2026"), add)).toEqual([
      "2026-11-25",
      "2026-11-25",
      "2026-04-03",
    ]);
    const unsure = firings("03/04/2026", "05/06/2026");
    expect(asked(unsure, add, "firings")).toEqual(["dates"]);
    expect(dates(unsure, add)).toEqual([undefined, undefined]);
    expect(dates(unsure, { ...add, dates: "dmy" })).toEqual(["2026-04-03", "2026-06-05"]);
    expect(dates(unsure, { ...add, dates: "mdy" })).toEqual(["2026-03-04", "2026-05-06"]);
    expect(asked(firings("25/11/2026", "11/25/2026"), add, "firings")).toEqual(["dates"]);
    expect(reasons(firings("31.02.2026"), add, "firings")).toEqual([[2, "date", "31.02.2026", "entry.date"]]);
  });

  it("makes a column of the maker's own where asked to, in the same undo step", () => {
    const text = "Piece,shelf mark,breadth\n001,A-7,12.5\n002,,\n";
    expect(plan(text).ignored.map((one) => one.why)).toEqual(["unknown", "unknown"]);
    const planned = plan(text, { columns: { "shelf mark": "+text", breadth: "+number" } });
    expect([planned.changed, planned.unchanged, planned.ignored]).toEqual([["001"], ["002"], []]);
    const grown = applyChange(book, planned.change);
    const keys = grown.sheets.pieces.columns.slice(-2).map((column) => [column.title, column.type, column.own]);
    expect(keys).toEqual([
      ["shelf mark", "text", true],
      ["breadth", "number", true],
    ]);
    expect([cell(grown, "p1", "my_shelf_mark"), cell(grown, "p1", "my_breadth")]).toEqual(["A-7", 12.5]);
    expect(applyChange(grown, invert(planned.change))).toEqual(book);
    expect(plan(text, { columns: { "shelf mark": "note" } }).changed).toEqual(["001"]);
  });

  it("takes counts of earlier editions' losses onto the route, by step", () => {
    const text = "step,entered before,lost before\nGlaze,120,7\nnobody,1,1\n";
    const planned = plan(text, {}, "route");
    expect(planned.rejected.map((one) => [one.line, one.code])).toEqual([[3, "csv.row"]]);
    const learned = applyChange(book, planned.change);
    expect([cell(learned, "glaze", "seen_entered", "route"), cell(learned, "glaze", "seen_lost", "route")]).toEqual([
      120, 7,
    ]);
  });

  it("leaves rows alone where only new ones are wanted, and counts every line once", () => {
    const text = "Piece,note,Cast: slip kept (g)\n001,x,1\n002,y,soon\n003,,much\n101,new,\n,lost,\n101, new,\n";
    const skipping = plan(text, { existing: "skip", addMissing: true });
    expect([skipping.added, skipping.skipped]).toEqual([["101"], ["001", "002", "003"]]);
    expect(skipping.counts).toEqual({ read: 6, added: 1, changed: 0, unchanged: 0, skipped: 3, refused: 2 });
    expect(plan(text, { addMissing: true }).counts).toEqual({
      ...{ read: 6, added: 1, changed: 2, unchanged: 0, skipped: 0, refused: 3 },
    });
  });

  it("keeps a formula typed by hand unless told", () => {
    const own = withCells(book, "pieces", "p2", { "cast.slip": { f: "=piece_kg*1000" } });
    const text = "Piece,Cast: slip kept (g)\n002,850\n";
    expect(reasons(text, {}, "pieces", own).map((reason) => reason[3])).toEqual(["csv.formula"]);
    expect(asked(text, {}, "pieces", own)).toEqual(["formulas"]);
    expect(cell(imported(text, { replaceFormulas: true }, "pieces", own), "p2", "cast.slip")).toBe(850);
    expect(plan("Piece,Cast: slip kept (g)\n002,'=piece_kg*1000\n", {}, "pieces", own).unchanged).toEqual(["002"]);
    const swapped = imported("Piece,Cast: slip kept (g)\n002,'=piece_kg*900\n", {}, "pieces", own);
    expect(cell(swapped, "p2", "cast.slip")).toEqual({ f: "=piece_kg*900" });
  });

  it("changes neither the kind of a step nor a computed line", () => {
    expect(reasons("Step,kind\nGlaze,hand\nFettle,hand\n", {}, "route")).toEqual([[2, "kind", "hand", "route.kind"]]);
    expect(plan("What,Value\nPieces to start,999\n", {}, "edition").change.operations).toEqual([]);
  });
});

describe("numbers that could mean two things", () => {
  const unclear = 'Piece,Cast: slip kept (g)\n001,"1,234"\n002,950\n';

  it("are held back and asked about while the decimal mark is not sure", () => {
    const planned = plan(unclear);
    expect(planned).toMatchObject({ decimal: undefined, changed: ["002"], unchanged: [], counts: { refused: 1 } });
    expect(planned.rejected.map((one) => [one.line, one.found, one.code])).toEqual([[2, "1,234", "csv.decimal"]]);
    expect(planned.questions).toMatchObject([
      { about: "decimal", examples: [{ line: 2, column: "Cast: slip kept (g)", found: "1,234" }] },
    ]);
    const [point, comma] = planned.questions[0]?.answers ?? [];
    expect(cell(imported(unclear, point?.options), "p1", "cast.slip")).toBe(1234);
    expect(cell(imported(unclear, comma?.options), "p1", "cast.slip")).toBe(1.234);
  });

  it("are read by the marks that the other numbers show", () => {
    const comma = "Piece;Cast: slip kept (g)\n001;1,234\n002;950,5\n";
    expect(plan(comma)).toMatchObject({ decimal: ",", rejected: [], questions: [] });
    expect(cell(imported(comma), "p1", "cast.slip")).toBe(1.234);
    const point = 'Piece,Cast: slip kept (g)\n001,"1,234"\n002,950.5\n';
    expect(reasons(point)).toEqual([[2, "Cast: slip kept (g)", "1,234", "entry.ambiguous"]]);
    expect(asked(point)).toEqual(["thousands"]);
    expect(cell(imported(point, { grouped: true }), "p1", "cast.slip")).toBe(1234);
    expect(asked(point, { grouped: true })).toEqual([]);
  });

  it("that contradict each other are asked about, and text beside them has no say", () => {
    const mixed = "Piece;Cast: slip kept (g);note\n001;900,5;x\n002;950.5;y\n003;800;z\n";
    expect(asked(mixed)).toEqual(["decimal"]);
    expect(plan(mixed).changed).toEqual(["001", "002", "003"]);
    expect(reasons(mixed).map((reason) => reason[3])).toEqual(["csv.decimal", "csv.decimal"]);
    const text = "Piece;Cast: slip kept (g);note\n001;900,5;1.5\n";
    expect(plan(text)).toMatchObject({ decimal: ",", rejected: [], questions: [] });
    expect(readSheetCsv(text).decimal).toBeUndefined();
  });

  it("of a line whose cells have slipped have no say either", () => {
    expect(plan("Piece;Cast: slip kept (g)\n001;1.5;x\n002;950,5\n")).toMatchObject({
      decimal: ",",
      changed: ["002"],
      rejected: [{ line: 2, code: "csv.long" }],
      questions: [],
    });
  });

  it("are read as told, and not otherwise", () => {
    const text = "Piece;Cast: slip kept (g)\n001;900,5\n";
    expect(plan(text, { decimal: "." }).rejected.map((one) => one.code)).toEqual(["entry.number"]);
  });
});

describe("percentages", () => {
  const loss = (header: string, found: string, options?: ImportOptions) =>
    cell(imported(`Step,${header}\nGlaze,${found}\n`, options, "route"), "glaze", "loss", "route");

  it("are read as the header says, or with their sign", () => {
    expect(loss("planned loss (fraction)", "0.125")).toBe(0.125);
    expect(loss("planned loss (%)", "12.5")).toBe(0.125);
    expect(loss("planned loss (%)", "57")).toBe(0.57);
    for (const header of ["planned loss", "planned loss (%)", "planned loss (fraction)"])
      expect(loss(header, "12.5 %")).toBe(0.125);
    expect(loss("planned loss", "0")).toBe(0);
  });

  it("are asked about where neither says it", () => {
    const text = "Step,planned loss\nGlaze,0.5\n";
    expect(reasons(text, {}, "route")).toEqual([[2, "planned loss", "0.5", "csv.percent"]]);
    expect(asked(text, {}, "route")).toEqual(["percent"]);
    expect(loss("planned loss", "0.5", { percent: "percent" })).toBe(0.005);
    expect(loss("planned loss", "0.5", { percent: "fraction" })).toBe(0.5);
    expect(loss("planned loss (%)", "0.5", { percent: "fraction" })).toBe(0.005);
  });

  it("keep the limits of the cell", () => {
    for (const [header, found] of [
      ["planned loss (fraction)", "1"],
      ["planned loss (fraction)", "12.5"],
      ["planned loss (%)", "100"],
      ["planned loss (%)", "-1"],
    ] as const)
      expect(reasons(`Step,${header}\nGlaze,${found}\n`, {}, "route")[0]?.[3]).toBe("entry.range");
    expect(reasons("Step,planned loss (%)\nGlaze,few\n", {}, "route")[0]?.[3]).toBe("entry.number");
  });

  it("of a line need their sign or an answer", () => {
    const text = (found: string) => `What,Value\nHow sure to be of delivering them,${found}\n`;
    const sure = (found: string, options?: ImportOptions) =>
      cell(imported(text(found), options, "edition"), "confidence", "value", "edition");
    expect(sure("99%")).toBe(0.99);
    expect(sure("0.99")).toBe(0.95);
    expect(sure("0.99", { percent: "fraction" })).toBe(0.99);
    expect(sure("99", { percent: "percent" })).toBe(0.99);
  });
});
