// Templates: a folder each under templates/, read from template.json, checked, and made into an edition.
import * as z from "zod/mini";
import { applyChange } from "./change";
import { allowedFor, isAllowed } from "./entry";
import type { FormulaCheck } from "./formula-check";
import { addOwnColumn } from "./own-edits";
import { pieceLabels } from "./piece-labels";
import { fail, ok, type Problem, problem, type Result } from "./problem";
import { EDITION_LINES, RESULT_LINES } from "./sheets/lines";
import { standardColumns } from "./sheets/standard";
import { STEP_KINDS } from "./sheets/step-kinds";
import { type Column, FORMAT_VERSION, type Raw, type Row, SHEET_KEYS, type Sheet, type Workbook } from "./workbook";
import { zodProblems } from "./zod-problems";

const text = (most: number) => z.string().check(z.minLength(1), z.maxLength(most));
const cell = z.union([z.string().check(z.maxLength(5000)), z.number()], "text or a number");
const cells = z.record(z.string().check(z.regex(/^[a-z][a-z0-9_]*$/)), cell);
const rows = (most: number) => z.array(cells).check(z.maxLength(most));
const id = z.string().check(z.regex(/^[a-z][a-z0-9_]{0,39}$/, "an id of small letters, digits and _"));

const templateSchema = z.strictObject({
  id: z.string().check(z.regex(/^[a-z][a-z0-9-]*$/, "an id of small letters, digits and -")),
  version: z.int().check(z.minimum(1)),
  title: text(120),
  summary: text(600),
  /** The wanted number the start dialog proposes. */
  wanted: z.int().check(z.minimum(1), z.maximum(20_000)),
  inputs: z.record(id, z.number()),
  materials: rows(200),
  kilns: rows(50).check(z.minLength(1)),
  programmes: z.optional(rows(400)),
  tariffs: z.optional(rows(100)),
  route: z
    .array(z.strictObject({ id, kind: z.enum(STEP_KINDS), title: text(80), cells }))
    .check(z.minLength(1), z.maxLength(60)),
  /** Columns beyond those every edition has, as a maker could add them. */
  columns: z.optional(
    z
      .array(
        z.strictObject({
          sheet: z.enum(SHEET_KEYS),
          title: text(80),
          unit: z.string().check(z.maxLength(40)),
          type: z.optional(z.enum(["number", "text"])),
          formula: z.optional(text(4000)),
        }),
      )
      .check(z.maxLength(100)),
  ),
});

export type Template = z.infer<typeof templateSchema>;

/** What the start dialog asks. */
export interface StartAnswers {
  readonly title: string;
  readonly wanted: number;
  readonly currency: string;
  /** The first piece's number as it is to be written, such as `001` or `M-001`. */
  readonly firstPiece: string;
  /** Today, ISO 8601. */
  readonly started: string;
}

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

/** An edition with the template's own columns; those that can't be added are left out and told of. */
function withOwnColumns(
  book: Workbook,
  template: Template,
  where: string,
  check?: FormulaCheck,
): { readonly book: Workbook; readonly problems: readonly Problem[] } {
  const problems: Problem[] = [];
  let grown = book;
  for (const [at, { sheet, title, unit, type = "number", formula = "" }] of (template.columns ?? []).entries()) {
    const added = addOwnColumn(grown, sheet, { title, unit, type, formula }, check);
    const path = `${where}, columns[${at}]`;
    if (added.ok) grown = applyChange(grown, added.value);
    else problems.push(...added.problems.map((one) => ({ ...one, where: path, message: `${path}: ${one.message}` })));
  }
  return { book: grown, problems };
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

/** An edition from a template, with `starts` blank pieces ready to be recorded. */
export function startEdition(template: Template, answers: StartAnswers, starts: number): Workbook {
  const { book } = withOwnColumns(emptyEdition(template, answers), template, "");
  const labels = pieceLabels(answers.firstPiece, starts);
  const rows = labels.map((label, at): Row => ({ id: `p${at + 1}`, cells: { piece: label, tier: "standard" } }));
  return { ...book, sheets: { ...book.sheets, pieces: { ...book.sheets.pieces, rows } } };
}

function emptyEdition(template: Template, answers: StartAnswers): Workbook {
  const route = template.route.map(
    (step, at): Row => ({
      id: step.id,
      cells: { key: step.id, order: at + 1, title: step.title, kind: step.kind, ...step.cells },
    }),
  );
  const inputs = { ...template.inputs, wanted: answers.wanted };
  const edition = EDITION_LINES.map((row): Row => {
    const value = (inputs as Readonly<Record<string, number>>)[row.id];
    return value === undefined ? row : { ...row, cells: { ...row.cells, value } };
  });
  const columns = standardColumns(route);
  const sheets = {
    edition: { title: "Edition", columns: columns.edition, rows: edition },
    route: { title: "Route", columns: columns.route, rows: route },
    materials: { title: "Materials", columns: columns.materials, rows: numbered("m", template.materials) },
    kilns: { title: "Kilns", columns: columns.kilns, rows: numbered("k", template.kilns) },
    programmes: { title: "Programmes", columns: columns.programmes, rows: numbered("r", template.programmes ?? []) },
    tariffs: { title: "Tariffs", columns: columns.tariffs, rows: numbered("t", template.tariffs ?? []) },
    firings: { title: "Firings", columns: columns.firings, rows: [] },
    pieces: { title: "Pieces", columns: columns.pieces, rows: [] },
    results: { title: "Results", columns: columns.results, rows: RESULT_LINES },
  } satisfies Record<(typeof SHEET_KEYS)[number], Sheet>;
  const book: Workbook = {
    kind: "saggar edition",
    formatVersion: FORMAT_VERSION,
    meta: {
      title: answers.title,
      note: "",
      currency: answers.currency,
      temperature: "C",
      invented: false,
      started: answers.started,
    },
    template: { id: template.id, version: template.version },
    sheets,
    lists: { log: [], cases: [], recipes: [], ranges: [] },
  };
  return book;
}

function numbered(prefix: string, rows: readonly Readonly<Record<string, Raw>>[]): Row[] {
  return rows.map((row, at) => ({ id: `${prefix}${at + 1}`, cells: row }));
}
