// An edition from a template.

import type { FormulaCheck } from "../formula/formula-check";
import type { Problem } from "../problem";
import { pieceLabels } from "../record/piece-labels";
import { standardSheets } from "../sheets/standard";
import { applyChange } from "./change";
import { addOwnColumn } from "./own-edits";
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
  /** How much of the currency is about as much as one euro, in which templates are written; 1 where nothing is said. */
  readonly perEuro?: number;
}

/** An edition with the template's own columns; those that can't be added are left out and named. */
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
export function emptyEdition(written: Template, answers: StartAnswers): Workbook {
  const perEuro = answers.perEuro ?? 1;
  const template = inCurrency(written, perEuro);
  const route = template.route.map(
    (step, at): Row => ({
      id: step.id,
      cells: { key: step.id, order: at + 1, title: step.title, kind: step.kind, ...step.cells },
    }),
  );
  const inputs = { ...template.inputs, wanted: answers.wanted };
  const standard = standardSheets(route);
  const edition = standard.edition.rows.map((row): Row => {
    const value = (inputs as Readonly<Record<string, number>>)[row.id] ?? row.cells.value;
    if (typeof value !== "number") return row;
    return { ...row, cells: { ...row.cells, value: isMoney(row.cells.unit) ? sized(value, perEuro) : value } };
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
    lists: { log: [], cases: [], recipes: [], ranges: [], plans: [], packs: [] },
  };
  return book;
}

const isMoney = (unit: unknown) => typeof unit === "string" && unit.startsWith("¤");
/** An amount in another currency, to two figures: a template's amounts are examples, and so are these. */
const sized = (amount: number, perEuro: number) => (perEuro === 1 ? amount : Number((amount * perEuro).toPrecision(2)));

/** A template whose prices are of the currency's size; inputs are sized where they meet those it does not name. */
function inCurrency(template: Template, perEuro: number): Template {
  if (perEuro === 1) return template;
  const standard = standardSheets([]);
  const sizedRows = <T extends Readonly<Record<string, Raw>>>(
    sheet: "materials" | "kilns" | "tariffs",
    rows: T[],
  ): T[] => {
    const money = new Set(standard[sheet].columns.filter(({ unit }) => isMoney(unit)).map(({ key }) => key));
    return rows.map(
      (row) =>
        Object.fromEntries(
          Object.entries(row).map(([key, raw]) => [
            key,
            money.has(key) && typeof raw === "number" ? sized(raw, perEuro) : raw,
          ]),
        ) as T,
    );
  };
  return {
    ...template,
    materials: sizedRows("materials", template.materials),
    kilns: sizedRows("kilns", template.kilns),
    ...(template.tariffs ? { tariffs: sizedRows("tariffs", template.tariffs) } : {}),
  };
}

function numbered(prefix: string, rows: readonly Readonly<Record<string, Raw>>[]): Row[] {
  return rows.map((row, at) => ({ id: `${prefix}${at + 1}`, cells: row }));
}
