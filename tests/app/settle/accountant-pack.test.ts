// The papers for the accountant of the invented edition: they add up among themselves and to the Results sheet.
import { describe, expect, test } from "vitest";
import { demoEdition } from "../../../src/app/demo/demo";
import { accountantPack } from "../../../src/app/settle/accountant-pack";
import { applyChange } from "../../../src/core/document/change";
import { writeEntries } from "../../../src/core/document/edits";
import type { Workbook } from "../../../src/core/document/workbook";
import { checkCsvw, readGrid } from "../../csv/csvw";
import { evaluate } from "../../tools/evaluate";

const TERMS = { from: "2026-09-01", to: "2026-11-25", reference: "MAR" };
const STANDARD = { delimiter: ",", decimal: ".", hasMark: false } as const;
const FORMS = [
  STANDARD,
  { delimiter: ";", decimal: ",", hasMark: true },
  { delimiter: "\t", decimal: ".", hasMark: false },
] as const;
const book = demoEdition();
const read = evaluate(book);

function filesOf(from: Workbook, form: (typeof FORMS)[number] = STANDARD) {
  const made = accountantPack(from, evaluate(from), TERMS, form);
  if (!made.ok) throw new Error(made.problems[0]?.message);
  return made.value.files;
}

const files = filesOf(book);
/** A table as records, money and grams as text. */
function table(name: string, from = files, delimiter = ","): Record<string, string>[] {
  const [header = [], ...rows] = readGrid(from[name] ?? "", delimiter, null);
  return rows.map((cells) => Object.fromEntries(header.map((title, at) => [title, cells[at] ?? ""])));
}
const cents = (text: string | undefined) => Number((text || "0.00").replace(/[.,]/, ""));
const sum = (rows: readonly Record<string, string>[], name: string) =>
  rows.reduce((all, row) => all + cents(row[name]), 0);
const result = (id: string) => Math.round(Number(read("results", id, "value")) * 100 + 1e-7);
const amount = (line: string) => cents(table("cost-statement.csv").find((row) => row.line === line)?.amount);

describe("the papers", () => {
  test("journal: one side a line, one day and balance a reference", () => {
    const byReference = new Map<string, number>();
    for (const { reference = "", debit, credit, date } of table("journal.csv")) {
      expect([debit, credit].filter(Boolean)).toHaveLength(1);
      expect(date).toBe("2026-11-25");
      expect(reference).toMatch(/^MAR-\d+$/);
      byReference.set(reference, (byReference.get(reference) ?? 0) + cents(debit) - cents(credit));
    }
    expect(byReference.size).toBeGreaterThan(3);
    expect(new Set(byReference.values())).toEqual(new Set([0]));
  });

  test("totals are those of Results, to the cent", () => {
    expect(amount("Everything put in")).toBe(result("put_in"));
    expect(sum(table("losses.csv"), "abnormal loss")).toBe(amount("Abnormal loss, a cost of the period"));
    expect(Math.abs(sum(table("losses.csv"), "abnormal loss") - result("abnormal"))).toBeLessThanOrEqual(1);
    expect(sum(table("losses.csv"), "normal loss")).toBe(result("normal"));
    expect(sum(table("losses.csv"), "clay won back")).toBe(amount("Clay won back"));
  });

  test("stock in the list is stock in the journal and on the statement", () => {
    const stock = table("inventory.csv");
    expect(sum(stock, "cost")).toBe(amount("In progress") + amount("Cost of finished pieces"));
    expect(sum(stock, "cost") - sum(stock, "write-down")).toBe(sum(stock, "carried at"));
    const held = table("journal.csv")
      .filter(({ account }) => ["Work in progress", "Finished pieces", "Seconds"].includes(account ?? ""))
      .reduce((all, { debit, credit }) => all + cents(debit) - cents(credit), 0);
    expect(held).toBe(sum(stock, "carried at"));
    expect(stock.map(({ piece }) => piece)).toContain("001");
    expect(stock.filter(({ state }) => state === "finished")).toHaveLength(Number(read("results", "good", "value")));
  });

  test("materials sum to what the statement spends on them", () => {
    const used = table("metal-and-materials.csv");
    expect(sum(used, "cost")).toBe(result("in_material"));
    expect(used.filter((row) => row["fine metal grams"] !== "")).toHaveLength(1);
  });

  test("process costing, told beside the books, accounts for what was put in by each way of costing", () => {
    const rows = table("process-costing.csv");
    const own = (column: string) => rows.reduce((all, row) => all + Number(row[column] || "0"), 0) * 100;
    for (const method of ["weighted average", "first in first out"])
      expect(Math.abs(own(method) - result("put_in")), method).toBeLessThan(1);
    expect(new Set(table("equivalent-units.csv").map(({ tier }) => tier))).toEqual(new Set(["standard", "special"]));
  });

  test("the rules name currency, period, rounding, losses and tax", () => {
    const rules = files["readme.txt"] ?? "";
    for (const word of [
      "EUR",
      "2026-09-01 to 2026-11-25",
      "half away from zero",
      "at least 1 run of 20 are normal",
      "abnormal and an expense of the period (IAS 2 §16(a); ASC 330-10-30-7)",
      "VAT",
      "invented",
      "weight",
    ])
      expect(rules).toContain(word);
  });

  test.each(FORMS)("are what their metadata says, with $delimiter and $decimal", (form) => {
    const made = filesOf(book, form);
    expect(checkCsvw(JSON.parse(made["csv-metadata.json"] ?? "{}"), made)).toEqual([]);
    expect(sum(table("journal.csv", made, form.delimiter), "debit")).toBe(sum(table("journal.csv"), "debit"));
    expect((made["journal.csv"] ?? "").startsWith("\ufeff")).toBe(form.hasMark);
  });
});

describe("a year that closes under ASC 330", () => {
  const withCells = (from: Workbook, cells: readonly (readonly ["edition" | "pieces", string, string, string])[]) => {
    const entries = cells.map(([sheet, row, column, typed]) => ({ cell: { sheet, row, column }, typed }));
    return applyChange(
      from,
      writeEntries(from, entries, { label: "", marks: { decimal: "." }, override: false }).change,
    );
  };
  const notKept = (from: Workbook, to = "2026-12-31") => {
    const made = accountantPack(from, evaluate(from), { ...TERMS, to }, STANDARD);
    if (!made.ok) throw new Error(made.problems[0]?.message);
    return made.value.checks.filter(({ says }) => says.includes("not kept as cost"));
  };

  test("asks for what is carried below cost to be kept as cost, until it is", () => {
    const asc = withCells(book, [["edition", "stock_rule", "value", "ASC 330"]]);
    expect(notKept(book)).toEqual([]);
    expect(notKept(asc, "2026-11-30")).toEqual([]);
    // The second, 042, is carried 36.88 below its cost.
    expect(notKept(asc)).toMatchObject([{ found: "1", expected: "0", isMet: false }]);
    const kept = withCells(asc, [
      ["pieces", "p42", "down_by", "36.88"],
      ["pieces", "p42", "down_on", "2026-12-31"],
      ["pieces", "p42", "down_why", "kept as cost"],
    ]);
    expect(notKept(kept)).toMatchObject([{ found: "0", isMet: true }]);
  });
});

describe("no papers are made", () => {
  const refusal = (from: Workbook, terms = TERMS) => {
    const made = accountantPack(from, evaluate(from), terms, STANDARD);
    return made.ok ? [] : made.problems;
  };
  const overridden = (sheet: "pieces" | "results", row: string, column: string) => {
    const typed = writeEntries(book, [{ cell: { sheet, row, column }, typed: "999" }], {
      ...{ label: "by hand", marks: { decimal: "." }, override: true },
    });
    return applyChange(book, typed.change);
  };

  test("of an edition that does not add up, and it is said where", () => {
    const [first] = refusal(overridden("pieces", "p20", "own"));
    expect(`${first?.where} ${first?.fix}`).toMatch(/020/);
    const total = refusal(overridden("results", "put_in", "value"));
    expect(total.map(({ where }) => where).join("; ")).toContain("Everything put in");
    const empty = refusal(overridden("results", "empty_kiln", "value"));
    expect(empty.map(({ where }) => where).join("; ")).toContain("Firings with nothing in them");
  });

  test("without a period and a reference that make sense", () => {
    expect(refusal(book, { ...TERMS, from: "2026-12-01" }).map(({ where }) => where)).toEqual(["The period"]);
    expect(refusal(book, { ...TERMS, to: "soon" })).toHaveLength(1);
    expect(refusal(book, { ...TERMS, to: "2026-09-31" })).toHaveLength(1);
    expect(refusal(book, { ...TERMS, reference: " " })).toHaveLength(1);
  });
});
