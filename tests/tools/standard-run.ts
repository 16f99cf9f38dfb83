// An edition in which everything goes as planned: what the templates' expected.json is made from.
import { applyChange, type Change } from "../../src/core/document/change";
import { writeEntries } from "../../src/core/document/edits";
import { startEdition } from "../../src/core/document/start-edition";
import type { Template } from "../../src/core/document/template-schema";
import type { Row, Workbook } from "../../src/core/document/workbook";
import { loseAt } from "../../src/core/record/piece-edits";
import { evaluate } from "./evaluate";
import { fireIn, passAs } from "./piece-changes";

const ENTERED = {
  cast: ["slip", "grams"],
  hand: ["minutes", "minutes"],
  coat: ["coats", "coats"],
  metal: ["coats", "coats"],
};

/** The edition at its end: started as the template says, recorded as planned, losses at the planned rates, the rest good. */
export function standardRun(template: Template): Workbook {
  const answers = {
    title: `Standard run of ${template.id}`,
    wanted: template.wanted,
    currency: "EUR",
    firstPiece: "001",
    started: "2026-01-05",
  };
  const starts = evaluate(startEdition(template, answers, 1))("edition", "starts", "value");
  let book = startEdition(template, answers, Number(starts));
  let alive = book.sheets.pieces.rows.map((row) => row.id);
  for (const step of book.sheets.route.rows) {
    book = recordStep(book, step, alive);
    const lost = spread(alive, Math.round(alive.length * Number(step.cells.loss ?? 0)));
    if (lost.length > 0) book = applyChange(book, loseAt(book, lost, step.id, "planned"));
    alive = alive.filter((id) => !lost.includes(id));
  }
  return applyChange(book, passAs(book, alive, "good"));
}

function recordStep(book: Workbook, step: Row, pieces: readonly string[]): Workbook {
  if (step.cells.kind === "firing") return fireInTurn(book, step, pieces);
  const [column, planned] = ENTERED[step.cells.kind as keyof typeof ENTERED] ?? ["", ""];
  const typed = String(step.cells[planned ?? ""]);
  const entries = pieces.map((row) => ({
    cell: { sheet: "pieces" as const, row, column: `${step.id}.${column}` },
    typed,
  }));
  const outcome = writeEntries(book, entries, {
    label: `${step.cells.title}`,
    marks: { decimal: "." },
    override: false,
  });
  if (outcome.refused.length > 0) throw new Error(outcome.refused[0]?.message);
  return applyChange(book, outcome.change);
}

/** Loads the step's kiln to its capacity again and again until every piece is fired. */
function fireInTurn(book: Workbook, step: Row, pieces: readonly string[]): Workbook {
  const kiln = book.sheets.kilns.rows.find((row) => row.cells.id === step.cells.kiln);
  const capacity = Number(kiln?.cells.capacity);
  let after = book;
  for (let at = 0; at < pieces.length; at += capacity) {
    const name = `F${after.sheets.firings.rows.length + 1}`;
    const load = pieces.slice(at, at + capacity);
    const change: Change = fireIn(after, load, step.id, { name, kiln: String(step.cells.kiln) });
    after = applyChange(after, change);
  }
  return after;
}

/** `count` of the pieces, spread evenly over them. */
function spread(pieces: readonly string[], count: number): readonly string[] {
  return Array.from({ length: count }, (_, at) => pieces[Math.floor(((at + 0.5) * pieces.length) / count)] ?? "");
}
