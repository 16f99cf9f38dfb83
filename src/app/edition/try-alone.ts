// A formula is tried alone before it comes into the edition: by an engine of its own, over the values that stand in the cells
// it names. One that does not end there never gets near the others. It brings every function with it, so it is loaded when a
// formula is typed.
import { columnOf, describeCell } from "../../core/document/access";
import type { CellEntry } from "../../core/document/edits";
import {
  type Column,
  type Row,
  SHEET_KEYS,
  type Sheet,
  type SheetKey,
  type Workbook,
} from "../../core/document/workbook";
import { readFormula } from "../../core/formula/formula";
import { columnFor, type Reference } from "../../core/formula/reference";
import { allNodes, type Expression } from "../../core/formula/tree";
import { checkTypedFormula } from "../../core/formula/typed-formula";
import { type Problem, problem } from "../../core/problem";
import { eachSteps } from "../../core/sheets/each-step";
import { EngineSilent } from "../../engine/client";
import { implicitArguments } from "../../engine/functions";
import { findGuilty } from "../../engine/suspects";
import type { Session } from "./session";

/** How long a formula may take alone, in milliseconds. */
const ALONE_MS = 5000;

/** A formula for a cell of a row, or where none is named for all rows. */
export interface Tried {
  readonly sheet: SheetKey;
  readonly row?: string;
  readonly formula: string;
}

/** Leaves out the entries whose formulas do not end alone in time, and says so; the others are given back. */
export async function withoutSlow(session: Session, entries: readonly CellEntry[]): Promise<readonly CellEntry[]> {
  const formulas = entries.map(({ cell, typed }) => {
    const checked = typed.trimStart().startsWith("=")
      ? checkTypedFormula(session.book.value, cell.sheet, typed.trim())
      : undefined;
    return checked?.ok ? checked.value : undefined;
  });
  const tried = entries.flatMap(({ cell }, at): Tried[] => {
    const formula = formulas[at];
    return formula === undefined ? [] : [{ sheet: cell.sheet, row: cell.row, formula }];
  });
  const slow = await tooSlow(session, tried);
  if (slow.size === 0) return entries;
  const isSlow = (at: number) => slow.has(formulas[at] ?? "");
  const refused = entries.filter((_, at) => isSlow(at));
  session.refuse(
    refused.slice(0, 50).map(({ cell, typed }) => slowProblem(describeCell(session.book.value, cell), typed)),
  );
  return entries.filter((_, at) => !isSlow(at));
}

/** Of the formulas those that do not end in time; all of them where the maker stops the trial. */
export async function tooSlow(session: Session, tried: readonly Tried[]): Promise<ReadonlySet<string>> {
  const formulas = [...new Set(tried.map(({ formula }) => formula))];
  if (formulas.length === 0) return new Set();
  const book = aloneBook(session, tried);
  let isStopped = false;
  const isSound = async (leftOut: readonly string[]) => {
    if (isStopped) return false;
    const engine = session.startTrial(ALONE_MS);
    session.stopTrial.value = () => {
      isStopped = true;
      engine.close();
    };
    try {
      await engine.open(book, leftOut);
      return true;
    } catch (error) {
      // An engine that fails for another reason says nothing of the formula.
      return !(error instanceof EngineSilent) && !isStopped;
    } finally {
      engine.close();
    }
  };
  try {
    if (await isSound([])) return new Set();
    const guilty = await findGuilty(formulas, isSound);
    return new Set(isStopped ? formulas : guilty);
  } finally {
    session.stopTrial.value = undefined;
  }
}

/** What is said of a formula that does not end; `where` it was to stand. */
export function slowProblem(where: string, formula: string): Problem {
  return problem({
    code: "formula.slow",
    where,
    found: formula,
    allowed: `a formula that is calculated within ${ALONE_MS / 1000} seconds`,
    fix: "Write it with smaller numbers, or over fewer cells. Nothing was changed.",
  });
}

/** The document with nothing in it but the formulas, and as plain values what they name. */
function aloneBook(session: Session, tried: readonly Tried[]): Workbook {
  const book = session.book.value;
  const named = new Map(SHEET_KEYS.map((key) => [key, new Set<string>()]));
  named.get("edition")?.add("value");
  for (const column of ["kind", "who"]) named.get("route")?.add(column);
  for (const { sheet, row, formula } of tried) {
    const parsed = readFormula(formula, eachSteps(book));
    const rows = row === undefined ? book.sheets[sheet].rows.map(({ id }) => id) : [row];
    const references = parsed.ok ? allNodes(parsed.value).flatMap(referencesOf) : [];
    for (const to of references)
      for (const id of rows) named.get(to.kind === "own" ? sheet : to.sheet)?.add(columnFor(to.column, id));
  }
  const sheets = SHEET_KEYS.map((key): [SheetKey, Sheet] => {
    const here = tried.filter(({ sheet }) => sheet === key);
    const filled = here.filter(({ row }) => row === undefined);
    const inRows = new Map<string, Tried[]>();
    let most = 0;
    for (const one of here) {
      if (one.row === undefined) continue;
      const list = [...(inRows.get(one.row) ?? []), one];
      inRows.set(one.row, list);
      most = Math.max(most, list.length);
    }
    const columns = [...(named.get(key) ?? [])].flatMap((name) => columnOf(book, key, name) ?? []);
    const added = [
      ...filled.map(({ formula }, at) => ({ ...triedColumn(`filled_${at}`), formula })),
      ...Array.from({ length: most }, (_, at) => triedColumn(triedKey(at))),
    ];
    const rows = book.sheets[key].rows.map((row) => aloneRow(session, key, row, columns, inRows.get(row.id) ?? []));
    return [key, { ...book.sheets[key], columns: [...columns.map(plainColumn), ...added], rows }];
  });
  return { ...book, sheets: Object.fromEntries(sheets) as Workbook["sheets"] };
}

/** What a node refers to, with the columns that a function reads unasked. */
function referencesOf(node: Expression): readonly Reference[] {
  if (node.kind === "call") return implicitArguments(node.name) ?? [];
  return node.kind === "reference" ? [node.to] : [];
}

const plainColumn = ({ key, title, unit, type, step }: Column): Column => ({
  ...{ key, title, unit, type, kind: "input" },
  ...(step === undefined ? {} : { step }),
});

const triedKey = (at: number) => `tried_${at}`;
const triedColumn = (key: string): Column => ({ key, title: "", unit: "", type: "number", kind: "computed" });

function aloneRow(
  session: Session,
  sheet: SheetKey,
  row: Row,
  columns: readonly Column[],
  tried: readonly Tried[],
): Row {
  const cells: Record<string, Row["cells"][string]> = {};
  for (const { key } of columns) {
    const value = session.valueIn(sheet, row, key);
    if (typeof value === "number" || typeof value === "string" || typeof value === "boolean") cells[key] = value;
  }
  for (const [at, { formula }] of tried.entries()) cells[triedKey(at)] = { f: formula };
  return { id: row.id, cells };
}
