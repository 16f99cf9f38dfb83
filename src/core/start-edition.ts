// An edition from a template.
import { applyChange } from "./change";
import type { FormulaCheck } from "./formula-check";
import { addOwnColumn } from "./own-edits";
import { pieceLabels } from "./piece-labels";
import type { Problem } from "./problem";
import { standardSheets } from "./sheets/standard";
import type { Template } from "./template-schema";
import { FORMAT_VERSION, type Raw, type Row, type Workbook } from "./workbook";

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

/** An edition with the template's own columns; those that can't be added are left out and told of. */
export function withOwnColumns(
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

/** An edition from a template, with `starts` blank pieces ready to be recorded. */
export function startEdition(template: Template, answers: StartAnswers, starts: number): Workbook {
  const { book } = withOwnColumns(emptyEdition(template, answers), template, "");
  const labels = pieceLabels(answers.firstPiece, starts);
  const rows = labels.map((label, at): Row => ({ id: `p${at + 1}`, cells: { piece: label, tier: "standard" } }));
  return { ...book, sheets: { ...book.sheets, pieces: { ...book.sheets.pieces, rows } } };
}

/** An edition from a template with no piece in it. */
export function emptyEdition(template: Template, answers: StartAnswers): Workbook {
  const route = template.route.map(
    (step, at): Row => ({
      id: step.id,
      cells: { key: step.id, order: at + 1, title: step.title, kind: step.kind, ...step.cells },
    }),
  );
  const inputs: Readonly<Record<string, number>> = { ...template.inputs, wanted: answers.wanted };
  const standard = standardSheets(route);
  const edition = standard.edition.rows.map((row): Row => {
    const value = inputs[row.id];
    return value === undefined ? row : { ...row, cells: { ...row.cells, value } };
  });
  const sheets = {
    ...standard,
    edition: { ...standard.edition, rows: edition },
    route: { ...standard.route, rows: route },
    materials: { ...standard.materials, rows: numbered("m", template.materials) },
    kilns: { ...standard.kilns, rows: numbered("k", template.kilns) },
    programmes: { ...standard.programmes, rows: numbered("r", template.programmes ?? []) },
    tariffs: { ...standard.tariffs, rows: numbered("t", template.tariffs ?? []) },
  };
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
