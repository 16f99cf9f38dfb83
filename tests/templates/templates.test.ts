import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { describe, expect, test } from "vitest";
import { checkFormula } from "../../src/app/edition/formula-check";
import { listTemplates } from "../../src/app/plan/templates";
import { checkCellsOf } from "../../src/core/document/check-cells";
import type { Template } from "../../src/core/document/template-schema";
import type { Workbook } from "../../src/core/document/workbook";
import { compareSheets } from "../tools/compare-sheets";
import { errorsOf, evaluate, type Sheetful } from "../tools/evaluate";
import { standardRun } from "../tools/standard-run";

const entries = listTemplates(checkFormula);
const templates = entries.flatMap(({ template }) => (template.ok ? [template.value] : []));
const fileOf = (template: Template, name: string) =>
  fileURLToPath(new URL(`../../templates/${template.id}/${name}`, import.meta.url));

const EDITION_RESULTS = [
  ...["chain_yield", "starts", "naive", "naive_chance", "starts_unsure", "plan_good", "plan_cost", "plan_per_good"],
  ...["plan_per_delivered", "plan_loss", "plan_hours", "plan_kwh", "plan_buy"],
];

function resultsOf(template: Template, book: Workbook, read: Sheetful) {
  const edition = EDITION_RESULTS.map((id) => [id, read("edition", id, "value")]);
  const results = book.sheets.results.rows.map((row) => [row.id, read("results", row.id, "value")]);
  return {
    template: template.id,
    version: template.version,
    wanted: template.wanted,
    edition: Object.fromEntries(edition),
    results: Object.fromEntries(results),
  };
}

test("every template of the project is read, in the order of the folders", () => {
  expect(entries.flatMap(({ template }) => (template.ok ? [] : template.problems))).toEqual([]);
  expect(templates.map(({ id }) => id)).toEqual(["lustre", "tableware", "trial", "two-firing"]);
});

describe.each(templates.map((template) => [template.id, template] as const))("%s", (_, template) => {
  const book = standardRun(template);
  const read = evaluate(book);

  test("a standard run keeps every rule of its sheets and shows no error", () => {
    expect(checkCellsOf(book)).toEqual([]);
    expect(errorsOf(book, read)).toEqual([]);
  });

  test("every computed cell is what plain loops over the document give", () => {
    const { compared, differ } = compareSheets(book, read);
    expect(differ).toEqual([]);
    expect(compared).toBeGreaterThan(book.sheets.pieces.rows.length * 20);
  });

  test("gives the results written down beside it", () => {
    const found = resultsOf(template, book, read);
    const file = fileOf(template, "expected.json");
    if (process.env.UPDATE_EXPECTED === "1") writeFileSync(file, `${JSON.stringify(found, undefined, 2)}\n`);
    const expected = JSON.parse(readFileSync(file, "utf8")) as typeof found;
    const { results, edition, ...rest } = expected;
    expect({ template: found.template, version: found.version, wanted: found.wanted }).toEqual(rest);
    expect(Object.keys(found.results)).toEqual(Object.keys(results));
    for (const [id, value] of Object.entries({ ...edition, ...results }))
      expectClose(id, { ...found.edition, ...found.results }[id], value);
  });

  test("finishes about as many pieces as are wanted and adds up to nothing left over", () => {
    const value = (id: string) => Number(read("results", id, "value"));
    expect(value("good") + value("lost")).toBe(value("started"));
    expect(value("good")).toBeGreaterThanOrEqual(template.wanted);
    expect(Math.abs(value("adds_up"))).toBeLessThan(1e-9 * value("put_in"));
    expect(Math.abs(value("put_in") - value("own_finished") - value("own_lost"))).toBeLessThan(1e-9 * value("put_in"));
  });

  test("says in its README what was assumed and that the numbers are invented", () => {
    expect(existsSync(fileOf(template, "README.md"))).toBe(true);
    const text = readFileSync(fileOf(template, "README.md"), "utf8");
    expect(text).toMatch(/Every number is invented/);
    expect(text).toMatch(/\| assumed +\| why +\|/);
  });
});

function expectClose(id: string, found: unknown, expected: unknown): void {
  if (typeof expected !== "number") expect([id, found]).toEqual([id, expected]);
  else expect(Math.abs(Number(found) - expected), id).toBeLessThanOrEqual(1e-9 * Math.max(1, Math.abs(expected)));
}

describe("listTemplates", () => {
  const path = (folder: string) => `../../templates/${folder}/template.json`;
  const good = structuredClone(templates[0]);

  test("refuses a broken template by itself; the others still work", () => {
    const spoilt = structuredClone(good) as unknown as { route: { cells: Record<string, unknown> }[] };
    const first = spoilt.route[0];
    if (first) first.cells.loss = 1.2;
    const listed = listTemplates(checkFormula, { [path("zebra")]: { ...spoilt, id: "zebra" }, [path("lustre")]: good });
    expect(listed.map(({ folder, template }) => [folder, template.ok])).toEqual([
      ["lustre", true],
      ["zebra", false],
    ]);
    const broken = listed[1]?.template;
    expect(broken && !broken.ok && broken.problems.map(({ message }) => message)).toEqual([
      "templates/zebra/template.json, route[0].cells.loss: found 1.2, but it takes a percentage, 0 % or more and below 100 %.",
    ]);
  });

  test("refuses a template that is not called like its folder", () => {
    const listed = listTemplates(checkFormula, { [path("bowls")]: good });
    const template = listed[0]?.template;
    expect(template && !template.ok && template.problems[0]?.message).toBe(
      "templates/bowls/template.json, id: found “lustre”, but it takes the name of its folder, bowls.",
    );
  });
});
