// Templates: a folder each under templates/, read from template.json and checked.

import type { FormulaCheck } from "../formula/formula-check";
import { fail, ok, type Problem, problem, type Result } from "../problem";
import { EDITION_LINES } from "../sheets/lines";
import { allowedFor, isAllowed } from "./entry";
import { emptyEdition, withOwnColumns } from "./start-edition";
import { type Template, templateSchema } from "./template-schema";
import type { Column, Raw, Workbook } from "./workbook";
import { zodProblems } from "./zod-problems";

/**
 * Reads a template and checks every value in it against the rules of the sheet it is for; `check` looks at the units of
 * its formulas.
 */
export function readTemplate(json: unknown, where: string, check?: FormulaCheck): Result<Template> {
  const parsed = templateSchema.safeParse(json);
  if (!parsed.success) return fail(...zodProblems(parsed.error, json, where));
  const problems = checkTemplate(parsed.data, where, check);
  return problems.length > 0 ? fail(...problems) : ok(parsed.data);
}

function checkTemplate(template: Template, where: string, check: FormulaCheck | undefined): Problem[] {
  const book = emptyEdition(template, {
    title: "check",
    wanted: 1,
    currency: "EUR",
    firstPiece: "1",
    started: "2026-01-01",
  });
  const problems: Problem[] = [];
  for (const [key, value] of Object.entries(template.inputs)) {
    const row = EDITION_LINES.find((line) => line.id === key && line.line?.kind === "input");
    const at = `${where}, inputs.${key}`;
    if (!row?.line)
      problems.push(problem({ code: "template.input", where: at, found: key, allowed: "the name of an input" }));
    else if (!isAllowed(book, row.line, value))
      problems.push(problem({ code: "template.value", where: at, found: value, allowed: allowedFor(book, row.line) }));
  }
  const groups = [
    ["materials", template.materials],
    ["kilns", template.kilns],
    ["programmes", template.programmes ?? []],
    ["tariffs", template.tariffs ?? []],
    ["route", template.route.map((step) => step.cells)],
  ] as const;
  for (const [sheet, rows] of groups) {
    // A step has its kind and title beside its cells, not among them.
    const columns = book.sheets[sheet].columns.filter(({ key }) => sheet !== "route" || !OUTSIDE_CELLS.includes(key));
    rows.forEach((row, at) => {
      const path = `${where}, ${sheet}[${at}]${sheet === "route" ? ".cells" : ""}`;
      problems.push(...checkCells(book, columns, row, path), ...checkName(rows, at, path));
    });
  }
  template.route.forEach((step, at) => {
    if (template.route.findIndex((other) => other.id === step.id || other.title === step.title) !== at)
      problems.push(
        problem({
          code: "template.twice",
          where: `${where}, route[${at}]`,
          found: step.id,
          allowed: "an id and a title that no other step has",
        }),
      );
  });
  return [...problems, ...withOwnColumns(book, template, where, check).problems];
}

const OUTSIDE_CELLS = ["kind", "title"];

function checkName(rows: readonly Readonly<Record<string, Raw>>[], at: number, path: string): Problem[] {
  const found = rows[at]?.id;
  const isSame = (row: Readonly<Record<string, Raw>>) => String(row.id).toLowerCase() === String(found).toLowerCase();
  return found === undefined || rows.findIndex(isSame) === at
    ? []
    : [problem({ code: "template.twice", where: `${path}.id`, found, allowed: "a name that no other row has" })];
}

function checkCells(
  book: Workbook,
  columns: readonly Column[],
  row: Readonly<Record<string, Raw>>,
  path: string,
): Problem[] {
  const problems: Problem[] = [];
  for (const [key, value] of Object.entries(row)) {
    const column = columns.find(
      (candidate) => candidate.key === key && candidate.kind === "input" && !candidate.hidden,
    );
    if (!column)
      problems.push(
        problem({
          code: "template.column",
          where: `${path}.${key}`,
          found: key,
          allowed: `an input column: ${inputKeys(columns)}`,
        }),
      );
    else if (!isAllowed(book, column, value))
      problems.push(
        problem({ code: "template.value", where: `${path}.${key}`, found: value, allowed: allowedFor(book, column) }),
      );
  }
  for (const column of columns)
    if (column.required && !column.formula && row[column.key] === undefined)
      problems.push(
        problem({
          code: "template.missing",
          where: `${path}.${column.key}`,
          found: "",
          allowed: allowedFor(book, column),
        }),
      );
  return problems;
}

function inputKeys(columns: readonly Column[]): string {
  return columns
    .filter((column) => column.kind === "input" && !column.hidden)
    .map((column) => column.key)
    .join(", ");
}
