// What a maker might do next, chosen by random numbers against the workbook as it stands.
import fc from "fast-check";
import type { Change } from "../../src/core/document/change";
import { addRows, clearCells, editMeta, freshRowId, removeRows, writeEntries } from "../../src/core/document/edits";
import { addOwnColumn, addOwnInput, removeOwnColumn } from "../../src/core/document/own-edits";
import type { SheetKey, Workbook } from "../../src/core/document/workbook";
import type { Result } from "../../src/core/problem";
import { addPieces, loseAt, nextFiringName } from "../../src/core/record/piece-edits";
import { STEP_KINDS } from "../../src/core/sheets/step-kinds";
import { addStep, removeStep, repeatStep } from "../../src/core/steps/step-edits";
import { fireIn, passAs } from "./piece-changes";

/** One choice: which command, and numbers from 0 to below 1 that choose what it is done to. */
export interface Choice {
  readonly command: number;
  readonly a: number;
  readonly b: number;
  readonly c: number;
}

const part = fc.integer({ min: 0, max: 9999 }).map((value) => value / 10_000);
export const choices = (count: number) =>
  fc.array(fc.record({ command: part, a: part, b: part, c: part }), { minLength: count, maxLength: count });

const TYPED = [
  "0",
  "1",
  "2",
  "3",
  "17.5",
  "250",
  "900",
  "-4",
  "",
  "x",
  "F1",
  "F2",
  "Large",
  "Glaze",
  "standard",
  "special",
  "good",
  "second",
  "count",
  "weight",
  "shelf area",
  "cast",
  "glaze",
  "2026-03-04",
  "=wage*2",
  "=1/0",
  "=COAT_GRAMS(1,-1,1)",
  "={kg}*3",
  "={own}+1",
  "={cast.slip}/2",
  "={route[cast]:minutes}",
  "=SUM({pieces:cast.slip})",
  "={pieces[p2]:own}",
  '=PICK("F1",{firings:id},{firings:cost})',
  '=COUNT_BY("F1",{pieces:bisque.firing})',
  "=my_rent*2",
  "slow",
  "raw",
  "07:30",
  "slow",
  "raw",
  "=IF(wage>20,1,2)",
];
const FORMULAS = ["", "={own}*2", "=wage+{kg}", "=SUM({pieces:own})/{foot}", "={cast.slip}", "={glaze.cost}+my_rent"];
const SHEETS: readonly SheetKey[] = [
  ...(["pieces", "pieces", "pieces", "route", "firings", "kilns", "materials", "edition", "programmes"] as const),
];

function pick<T>(list: readonly T[], at: number): T | undefined {
  return list[Math.floor(at * list.length)];
}

const nameOf = (book: Workbook, sheet: "materials" | "kilns", at: number) =>
  String(pick(book.sheets[sheet].rows, at)?.cells.id);

type Command = (book: Workbook, choice: Choice) => Change | Result<Change> | undefined;

const typeIntoCell: Command = (book, { a, b, c }) => {
  const sheet = pick(SHEETS, a) ?? "pieces";
  const row = pick(book.sheets[sheet].rows, (a * SHEETS.length) % 1);
  const column = pick(book.sheets[sheet].columns, b);
  if (!row || !column) return undefined;
  const entry = { cell: { sheet, row: row.id, column: column.key }, typed: pick(TYPED, c) ?? "" };
  return writeEntries(book, [entry], { label: "Type", marks: { decimal: "." }, override: true }).change;
};

/** Fills one column for a run of pieces with what fits it. */
const fillDown: Command = (book, { a, b, c }) => {
  const column = pick(
    book.sheets.pieces.columns.filter(({ step, kind }) => step && kind === "input"),
    a,
  );
  const from = Math.floor(b * book.sheets.pieces.rows.length);
  if (!column) return undefined;
  const entries = book.sheets.pieces.rows.slice(from, from + 4).map((row) => ({
    cell: { sheet: "pieces" as const, row: row.id, column: column.key },
    typed: column.type === "choice" ? (pick(["F1", "F2"], c) ?? "") : String(1 + Math.floor(c * 5)),
  }));
  return writeEntries(book, entries, { label: "Fill", marks: { decimal: "." }, override: false }).change;
};

const removePiece: Command = (book, { a }) => {
  const row = pick(book.sheets.pieces.rows, a);
  return row && book.sheets.pieces.rows.length > 2 ? removeRows(book, "pieces", [row.id], "Remove") : undefined;
};

const newStep: Command = (book, { a, b, c }) => {
  if (book.sheets.route.rows.length > 12) return undefined;
  const kind = pick(STEP_KINDS, a) ?? "hand";
  const names = { material: nameOf(book, "materials", b), kiln: nameOf(book, "kilns", c) };
  const cells = { minutes: 3, area: 10, laydown: 0.1, transfer: 0.5, coats: 1, ...names };
  return addStep(book, { kind, title: `New ${Math.floor(c * 1000)}`, cells }, pick(book.sheets.route.rows, b)?.id);
};

const sameStep: Command = (book, { a }) =>
  book.sheets.route.rows.length > 12 ? undefined : repeatStep(book, pick(book.sheets.route.rows, a)?.id ?? "");

const lessStep: Command = (book, { a }) =>
  book.sheets.route.rows.length < 3 ? undefined : removeStep(book, pick(book.sheets.route.rows, a)?.id ?? "");

const ownColumn: Command = (book, { a, b, c }) => {
  const sheet = pick(["pieces", "pieces", "route", "firings"] as const, a) ?? "pieces";
  const title = `Own ${Math.floor(c * 1000)}`;
  return addOwnColumn(book, sheet, { title, unit: "", type: "number", formula: pick(FORMULAS, b) ?? "" });
};

const lessOwnColumn: Command = (book, { a }) => {
  const own = book.sheets.pieces.columns.filter((column) => column.own);
  return removeOwnColumn(book, "pieces", pick(own, a)?.key ?? "");
};

const lose: Command = (book, { a, b, c }) => {
  const row = pick(book.sheets.pieces.rows, a);
  const step = c < 0.3 ? undefined : pick(book.sheets.route.rows, b)?.id;
  return row && loseAt(book, [row.id], step, "cracked");
};

const pass: Command = (book, { a, b }) => {
  const row = pick(book.sheets.pieces.rows, a);
  return row && passAs(book, [row.id], pick(["good", "second", undefined] as const, b));
};

const fire: Command = (book, { a, b, c }) => {
  const step = pick(
    book.sheets.route.rows.filter(({ cells }) => cells.kind === "firing"),
    a,
  );
  const row = pick(book.sheets.pieces.rows, b);
  if (!step || !row || book.sheets.firings.rows.length > 12) return undefined;
  return fireIn(book, [row.id], step.id, { name: nextFiringName(book), kiln: nameOf(book, "kilns", c) });
};

const lessFiring: Command = (book, { a }) => {
  const row = pick(book.sheets.firings.rows, a);
  return row && removeRows(book, "firings", [row.id], "Remove firing");
};

const giveBack: Command = (book, { a, b }) => {
  const row = pick(book.sheets.pieces.rows, a);
  const key = row && pick(Object.keys(row.cells), b);
  return row && key ? clearCells(book, [{ sheet: "pieces", row: row.id, column: key }], "Clear").change : undefined;
};

const newMaterial: Command = (book, { a }) => {
  const id = freshRowId(book.sheets.materials.rows, "m");
  const cells = { id: `Material ${id}`, sort: "other", pack_price: 10 * a, pack_grams: 1000 };
  return addRows(book, "materials", [{ id, cells }], "Add material");
};

const COMMANDS: readonly Command[] = [
  ...[typeIntoCell, typeIntoCell, typeIntoCell, typeIntoCell, typeIntoCell, typeIntoCell],
  ...[fillDown, fillDown, fillDown, lose, pass, fire, giveBack, removePiece, newMaterial, lessFiring],
  (book, { a }) => (book.sheets.pieces.rows.length > 40 ? undefined : addPieces(book, 1 + Math.floor(a * 3))),
  ...[newStep, sameStep, lessStep, lessStep, ownColumn, lessOwnColumn],
  (book) => addOwnInput(book, "Rent", "¤"),
  (book, { a }) => editMeta(book, { title: `Title ${a}` }, "Title"),
];

/** The change that a choice makes of a workbook; undefined where it is refused or there is nothing to do it to. */
export function changeOf(book: Workbook, choice: Choice): Change | undefined {
  const made = pick(COMMANDS, choice.command)?.(book, choice);
  if (!made) return undefined;
  const change = "ok" in made ? (made.ok ? made.value : undefined) : made;
  return change && change.operations.length > 0 ? change : undefined;
}
