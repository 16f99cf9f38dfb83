// Adding, repeating and removing steps: the route and the Pieces columns change together.
import { counted, plural } from "../counted";
import { columnIndex, rowIndex, rowLabel, rowOf } from "../document/access";
import { applyChange, type Change, type Operation } from "../document/change";
import { referencesTo } from "../document/edits";
import type { Raw, Row, Workbook } from "../document/workbook";
import { fail, ok, type Problem, problem, type Result } from "../problem";
import { namePieces } from "../record/choose-pieces";
import { columnsOfStep } from "../sheets/pieces-sheet";
import { isStepKind, type StepKind } from "../sheets/step-kinds";
import { hasHad } from "./piece-steps";

/** A step as asked for: its kind, title and what else the Route sheet says of it. */
export interface NewStep {
  readonly kind: StepKind;
  readonly title: string;
  readonly cells?: Readonly<Record<string, Raw>>;
}

/** Adds a step after another one, or first in the route. */
export function addStep(book: Workbook, step: NewStep, after: string | undefined): Result<Change> {
  const route = book.sheets.route.rows;
  const title = step.title.trim();
  const problems = checkTitle(route, title);
  if (problems.length > 0) return fail(...problems);
  const at = after === undefined ? 0 : (rowIndex(book.sheets.route).get(after) ?? route.length - 1) + 1;
  const id = stepId(route, title, step.kind);
  const between = orderBetween(route[at - 1], route[at]);
  const order = between ?? at + 1;
  const row: Row = { id, cells: { ...step.cells, key: id, order, title, kind: step.kind } };
  const { label, operations } = stepChange(book, row, at, `Add step: ${title}`);
  return ok({ label, operations: between === undefined ? [...renumbered(route, at), ...operations] : operations });
}

/** Adds the same step once more right after itself, as for a refire or a third coat. */
export function repeatStep(book: Workbook, id: string): Result<Change> {
  const row = rowOf(book, "route", id);
  if (!row || !isStepKind(row.cells.kind)) return fail(noStep(id));
  const taken = new Set(book.sheets.route.rows.map((other) => rowLabel("route", other).toLowerCase()));
  const base = rowLabel("route", row).replace(/ \d+$/, "");
  let count = 2;
  while (taken.has(`${base} ${count}`.toLowerCase())) count += 1;
  // It is for the same pieces; what earlier editions saw was seen of the other one.
  const { seen_entered: _, seen_lost: __, ...cells } = row.cells;
  return addStep(book, { kind: row.cells.kind, title: `${base} ${count}`, cells }, id);
}

/**
 * Moves a step one place earlier (−1) or later (1); columns, wiring and costs follow. Refused where a piece has had the
 * one of the two that would come later, or was lost at either: its record would say that it skipped a step.
 */
export function moveStep(book: Workbook, id: string, by: -1 | 1): Result<Change> {
  const { rows } = book.sheets.route;
  const at = rowIndex(book.sheets.route).get(id);
  const row = at === undefined ? undefined : rows[at];
  const other = at === undefined ? undefined : rows[at + by];
  if (at === undefined || !row) return fail(noStep(id));
  if (!other)
    return fail(
      problem({
        code: "step.end",
        where: `Step ${rowLabel("route", row)}`,
        found: by < 0 ? "the first step" : "the last step",
        allowed: "a step that has another one before or after it",
      }),
    );
  const [first, second] = by < 0 ? [other, row] : [row, other];
  const bound = book.sheets.pieces.rows.filter(
    (piece) => hasHad(piece, first) || [first.id, second.id].includes(String(piece.cells.lost_at)),
  );
  if (bound.length > 0)
    return fail(
      problem({
        code: "step.order",
        where: `Step ${rowLabel("route", row)}`,
        found: `${counted(bound.length, "piece")} that had ${rowLabel("route", first)} first or were lost there: ${namePieces(
          book,
          bound.map((piece) => piece.id),
        )}`,
        allowed: `to change places with ${rowLabel("route", other)} only while no piece has had ${rowLabel("route", first)}`,
        fix: "Add a step where it is wanted instead, and leave this one as it was done.",
      }),
    );
  const without = rows.toSpliced(at, 1);
  // The two change their orders too, so that there is always one for each.
  const orderOf = (step: Row) => step.cells.order ?? 0;
  const moved: Row = { ...row, cells: { ...row.cells, order: orderOf(other) } };
  const taken = removeStepColumns(book, id);
  const columns = taken.flatMap((operation) => (operation.kind === "remove columns" ? operation.columns : []));
  const bare = applyChange(book, { label: "", operations: taken });
  return ok({
    label: `Move step ${by < 0 ? "earlier" : "later"}: ${rowLabel("route", row)}`,
    operations: [
      ...taken,
      { kind: "remove rows", sheet: "route", at, rows: [row] },
      { kind: "add rows", sheet: "route", at: at + by, rows: [moved] },
      { kind: "cell", sheet: "route", row: other.id, column: "order", was: other.cells.order, is: orderOf(row) },
      { kind: "add columns", sheet: "pieces", at: columnPosition(bare, without[at + by - 1]?.id), columns },
    ],
  });
}

/** Removes a step with everything entered for it. Refused while pieces are lost at it. */
export function removeStep(book: Workbook, id: string): Result<Change> {
  const row = rowOf(book, "route", id);
  if (!row) return fail(noStep(id));
  const lostHere = referencesTo(book, "route:key", id);
  if (lostHere.length > 0)
    return fail(
      problem({
        code: "step.lost",
        where: `Step ${rowLabel("route", row)}`,
        found: `${lostHere.length} lost ${plural(lostHere.length, "piece")} at it`,
        allowed: "to be removed only when no piece was lost at it",
        fix: "Give those pieces another step to be lost at first.",
      }),
    );
  const users = formulaUsers(book, id);
  if (users.length > 0)
    return fail(
      problem({
        code: "step.formula",
        where: `Step ${rowLabel("route", row)}`,
        found: `a formula that uses it: ${users[0]}`,
        allowed: "to be removed only when no formula of yours uses it",
      }),
    );
  return ok({
    label: `Remove step: ${rowLabel("route", row)}`,
    operations: [
      ...clearStepCells(book, id),
      ...removeStepColumns(book, id),
      { kind: "remove rows", sheet: "route", at: rowIndex(book.sheets.route).get(id) ?? 0, rows: [row] },
    ],
  });
}

function stepChange(book: Workbook, row: Row, at: number, label: string): Change {
  const columns = columnsOfStep(row);
  const before = book.sheets.route.rows[at - 1]?.id;
  const operations: Operation[] = [
    { kind: "add rows", sheet: "route", at, rows: [row] },
    { kind: "add columns", sheet: "pieces", at: columnPosition(book, before), columns },
  ];
  return { label, operations };
}

/** Where on Pieces the columns after a step begin. */
function columnPosition(book: Workbook, after: string | undefined): number {
  const { columns } = book.sheets.pieces;
  const last = after === undefined ? -1 : columns.findLastIndex((column) => column.step === after);
  if (last >= 0) return last + 1;
  const first = columns.findIndex((column) => column.step !== undefined || column.key === "lost_at");
  return first < 0 ? columns.length : first;
}

function clearStepCells(book: Workbook, id: string): Operation[] {
  const keys = book.sheets.pieces.columns.filter((column) => column.step === id).map((column) => column.key);
  return book.sheets.pieces.rows.flatMap((row) =>
    keys.flatMap((column): Operation[] => {
      const was = row.cells[column];
      return was === undefined ? [] : [{ kind: "cell", sheet: "pieces", row: row.id, column, was, is: undefined }];
    }),
  );
}

function removeStepColumns(book: Workbook, id: string): Operation[] {
  const columns = book.sheets.pieces.columns.filter((column) => column.step === id);
  const first = columns[0];
  if (!first) return [];
  return [
    { kind: "remove columns", sheet: "pieces", at: columnIndex(book.sheets.pieces).get(first.key) ?? 0, columns },
  ];
}

/** Columns and cells of the maker's own whose formulas use a step's columns. */
function formulaUsers(book: Workbook, id: string): string[] {
  const uses = (formula: string | undefined) =>
    formula?.includes(`{${id}.`) || formula?.includes(`:${id}.`) || formula?.includes(`[${id}]`);
  return Object.values(book.sheets).flatMap((sheet) => [
    ...sheet.columns
      .filter((column) => column.own && uses(column.formula))
      .map((column) => `${sheet.title}, ${column.title}`),
    ...sheet.rows.flatMap((row) =>
      Object.entries(row.cells)
        .filter(([key, raw]) => typeof raw === "object" && !key.startsWith(`${id}.`) && uses(raw.f))
        .map(([key]) => `${sheet.title} ${row.id}, ${key}`),
    ),
  ]);
}

function checkTitle(route: readonly Row[], title: string): Problem[] {
  if (title === "" || title.length > 80)
    return [
      problem({ code: "step.title", where: "The new step", found: title, allowed: "a title of 1 to 80 characters" }),
    ];
  const taken = route.some((row) => rowLabel("route", row).toLowerCase() === title.toLowerCase());
  return taken
    ? [problem({ code: "step.taken", where: "The new step", found: title, allowed: "a title that no other step has" })]
    : [];
}

function noStep(id: string): Problem {
  return problem({ code: "step.none", where: "The route", found: id, allowed: "a step that is on it" });
}

function stepId(route: readonly Row[], title: string, kind: StepKind): string {
  const words = title
    .toLowerCase()
    .normalize("NFKD")
    .replace(/[^a-z0-9]+/g, "_")
    .replace(/^[^a-z]+|_+$/g, "")
    .slice(0, 28);
  const base = words || kind;
  const taken = new Set(route.map((row) => row.id));
  let id = base;
  for (let count = 2; taken.has(id); count += 1) id = `${base}_${count}`;
  return id;
}

/** A number between the orders of two neighbouring steps, 0 coming before the first; undefined where none is left. */
function orderBetween(before: Row | undefined, after: Row | undefined): number | undefined {
  const low = typeof before?.cells.order === "number" ? before.cells.order : 0;
  const high = typeof after?.cells.order === "number" ? after.cells.order : low + 2;
  const between = (low + high) / 2;
  return low < between && between < high ? between : undefined;
}

/** Gives the steps the orders 1, 2, …, with one left out for a step that comes in at an index. */
function renumbered(route: readonly Row[], at: number): Operation[] {
  return route.flatMap((row, index): Operation[] => {
    const [was, is] = [row.cells.order, index < at ? index + 1 : index + 2];
    return was === is ? [] : [{ kind: "cell", sheet: "route", row: row.id, column: "order", was, is }];
  });
}
