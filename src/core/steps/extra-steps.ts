// Refires, repeats and rescues: steps that only chosen pieces have. A step “as needed” that is there already and still
// blank for them is used again; otherwise one is added. Everyone else's row stays blank there and costs nothing.
import { columnOf, rowLabel, rowOf } from "../document/access";
import { applyChange, type Change, type Operation } from "../document/change";
import { allowedFor, isAllowed } from "../document/entry";
import type { Raw, Row, Workbook } from "../document/workbook";
import { fail, ok, type Problem, problem, type Result } from "../problem";
import { namePieces } from "../record/choose-pieces";
import { type FiringWish, grantFirings } from "../record/firing-wish";
import { PlanDraft, type RecordPlan } from "../record/record-plan";
import { amountOf, fixedColumns, isStepKind, routeColumns, STEP_KIND_RULES, type StepKind } from "../sheets/step-kinds";
import { scaleOfUnit } from "../units/shown";
import { isStepFor, lastStepHad, stepsToHave, stepTitle } from "./piece-steps";
import { addStep } from "./step-edits";

/** A step that some pieces have once more, or besides. */
export interface ExtraStep {
  readonly kind: StepKind;
  readonly title: string;
  /** What the Route sheet says of such a step. */
  readonly cells: Readonly<Record<string, Raw>>;
  /** The amount that is entered for each piece, where it is not what the cells say. */
  readonly amount?: number;
  /** The firing it is done in, at a firing step; blank until it is recorded where none is named. */
  readonly firing?: FiringWish;
}

export interface ExtraSteps {
  readonly kind: "extra" | "rescue";
  /** What it is called in the run log. */
  readonly title: string;
  readonly steps: readonly ExtraStep[];
  /** The price that the pieces are to be sold at, where it is not that of their tier. */
  readonly price?: number;
}

/** A step of the route as it would be done once more. */
export function repeatOf(book: Workbook, id: string): ExtraStep | undefined {
  const row = rowOf(book, "route", id);
  const kind = row?.cells.kind;
  if (!row || !isStepKind(kind)) return undefined;
  return { kind, title: baseTitle(rowLabel("route", row)), cells: cellsForKind(kind, row) };
}

/** The Route columns that say how a step of its kind is done. */
function cellsForKind(kind: StepKind, row: Row): Readonly<Record<string, Raw>> {
  const keys = ["method", ...routeColumns(kind).filter((key) => !NOT_HOW.includes(key))];
  return Object.fromEntries(
    keys.flatMap((key) => {
      const raw = row.cells[key];
      return raw === undefined ? [] : [[key, raw]];
    }),
  );
}

const NOT_HOW = ["title", "loss", "seen_entered", "seen_lost"];
const baseTitle = (title: string) => title.replace(/ \d+$/, "");

/** What adding steps for chosen pieces would do, or what is wrong with it. */
export function planExtraSteps(book: Workbook, ids: readonly string[], wanted: ExtraSteps): Result<RecordPlan> {
  const problems = wanted.steps.flatMap((step) => stepProblems(book, step));
  if (wanted.steps.length === 0) problems.push(noSteps());
  if (problems.length > 0) return fail(...problems);
  const pieces = ids.flatMap((id) => rowOf(book, "pieces", id) ?? []);
  const draft = new PlanDraft(book);
  const able = pieces.filter((piece) => {
    const { lost_at: lostAt, grade } = piece.cells;
    if (typeof lostAt === "string") draft.leave(piece, `lost at ${stepTitle(book, lostAt)}`);
    else if (grade !== undefined) draft.warn(piece, `passed as ${grade} already`);
    return lostAt === undefined;
  });
  const label = (taken: readonly string[]) => `${wanted.title}: ${namePieces(book, taken)}`;
  if (able.length === 0) return ok(draft.finish(wanted.kind, label));
  const added = addSteps(book, able, wanted.steps);
  if (!added.ok) return added;
  const { after, operations, steps } = added.value;
  const firings = steps.flatMap(({ row, step }) => (step.firing ? [[row.id, step.firing] as const] : []));
  const granted = grantFirings(after, firings);
  if (!granted.ok) return granted;
  for (const piece of able) {
    for (const { row, step } of steps) enter(draft, piece, row, step, granted.value.nameOf.get(row.id));
    if (wanted.price !== undefined) draft.put(piece, "own_price", wanted.price);
  }
  const before = [...operations, ...granted.value.operations];
  const filled = draft.finish(wanted.kind, label, before);
  return ok(filled.operations.length > 0 ? filled : { ...filled, takes: able.map(({ id }) => id), operations: before });
}

interface AddedSteps {
  readonly after: Workbook;
  readonly operations: readonly Operation[];
  readonly steps: readonly { readonly row: Row; readonly step: ExtraStep }[];
}

/** Finds or makes the steps, each after the one before and after everything these pieces have had. */
function addSteps(book: Workbook, pieces: readonly Row[], steps: readonly ExtraStep[]): Result<AddedSteps> {
  let after = book;
  let at = Math.max(...pieces.map((piece) => lastStepHad(book, piece)));
  const operations: Operation[] = [];
  const found: { row: Row; step: ExtraStep }[] = [];
  for (const step of steps) {
    const there = reusable(after, pieces, step, at);
    if (!there) {
      const added = addFor(after, step, at);
      if (!added.ok) return added;
      operations.push(...added.value.operations);
      after = applyChange(after, added.value);
    }
    at = there ? after.sheets.route.rows.indexOf(there) : at + 1;
    const row = after.sheets.route.rows[at];
    if (row) found.push({ row, step });
  }
  return ok({ after, operations, steps: found });
}

function addFor(book: Workbook, step: ExtraStep, at: number): Result<Change> {
  const { rows } = book.sheets.route;
  const taken = new Set(rows.map((row) => rowLabel("route", row).toLowerCase()));
  let title = step.title;
  for (let count = 2; taken.has(title.toLowerCase()); count += 1) title = `${baseTitle(step.title)} ${count}`;
  const cells = { ...step.cells, who: "as needed" };
  return addStep(book, { kind: step.kind, title, cells }, at < 0 ? undefined : rows[at]?.id);
}

/** A step as needed after all that these pieces have had, done in the same way, with nothing they wait for between. */
function reusable(book: Workbook, pieces: readonly Row[], step: ExtraStep, at: number): Row | undefined {
  const { rows } = book.sheets.route;
  for (const row of rows.slice(at + 1)) {
    if (isDoneAlike(row, step)) return row;
    if (pieces.some((piece) => isStepFor(row, piece))) return undefined;
  }
  return undefined;
}

function isDoneAlike(row: Row, step: ExtraStep): boolean {
  if (row.cells.who !== "as needed" || row.cells.kind !== step.kind) return false;
  const named = fixedColumns(step.kind).every((key) => row.cells[key] === step.cells[key]);
  return (
    named && (!STEP_KIND_RULES[step.kind].isKnownByTitle || baseTitle(rowLabel("route", row)) === baseTitle(step.title))
  );
}

function enter(draft: PlanDraft, piece: Row, row: Row, step: ExtraStep, firing: string | undefined): void {
  const rules = STEP_KIND_RULES[step.kind];
  const amount = amountOf(rules);
  if (!amount) {
    if (firing !== undefined) draft.put(piece, `${row.id}.firing`, firing);
    else draft.put(piece, "to_have", [...new Set([...stepsToHave(piece), row.id])].join(" "));
    return;
  }
  draft.put(piece, `${row.id}.${amount.column}`, step.amount ?? step.cells[amount.usual] ?? amount.otherwise);
  for (const own of rules.ownOfPiece)
    if (step.cells[own] !== undefined && step.cells[own] !== row.cells[own])
      draft.put(piece, `${row.id}.${own}`, step.cells[own]);
}

/** What is wrong with an extra step: cells that its kind does not have, or that name what is not there. */
export function stepProblems(book: Workbook, step: ExtraStep): Problem[] {
  const keys: readonly string[] = ["method", ...routeColumns(step.kind)];
  const problems = Object.entries(step.cells).flatMap(([key, raw]): Problem[] => {
    const column = columnOf(book, "route", key);
    if (column && keys.includes(key) && isAllowed(book, column, raw)) return [];
    return [
      problem({
        code: "extra.cell",
        where: `${step.title}, ${column?.title ?? key}`,
        found: raw,
        allowed: column && keys.includes(key) ? allowedFor(book, column) : "nothing: this kind of step has none",
      }),
    ];
  });
  if (step.title.trim() === "" || step.title.length > 70)
    problems.push(
      problem({
        code: "extra.title",
        where: "The extra step",
        found: step.title,
        allowed: "a title of 1 to 70 characters",
      }),
    );
  return [...problems, ...amountProblems(book, step)];
}

function amountProblems(book: Workbook, step: ExtraStep): Problem[] {
  if (step.amount === undefined) return [];
  const key = amountOf(STEP_KIND_RULES[step.kind])?.usual;
  const column = key === undefined ? undefined : columnOf(book, "route", key);
  if (column && isAllowed(book, column, step.amount)) return [];
  const allowed = column ? allowedFor(book, column, scaleOfUnit(column.unit, book.meta)) : "no amount";
  return [problem({ code: "extra.amount", where: `${step.title}, ${key ?? "amount"}`, found: step.amount, allowed })];
}

function noSteps(): Problem {
  return problem({ code: "extra.none", where: "Extra steps", found: "", allowed: "one step or more" });
}
