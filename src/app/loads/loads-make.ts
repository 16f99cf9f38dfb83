// Loads become firings: new rows on the Firings sheet and the pieces put into them, all in one change.

import { dayNumber } from "../../ceramics/calendar/days";
import { rowLabel, rowOf } from "../../core/document/access";
import { applyChange, type Change, type Operation, squash } from "../../core/document/change";
import { addRows, freshRowId } from "../../core/document/edits";
import type { Raw, Workbook } from "../../core/document/workbook";
import { fail, ok, type Problem, problem, type Result } from "../../core/problem";
import { namePieces } from "../../core/record/choose-pieces";
import { nextFiringName } from "../../core/record/piece-edits";
import { logged } from "../../core/record/run-log";
import { isFiringStep } from "../../core/sheets/step-kinds";
import type { Waiting } from "./loads";
import type { DraftLoad } from "./loads-draft";

/** Names for new firings, none of them taken: numbered on, with the letters of the last firing by the same programme. */
export function newFiringNames(book: Workbook, programmes: readonly string[]): readonly string[] {
  const { rows } = book.sheets.firings;
  const taken = new Set(rows.map((row) => rowLabel("firings", row).toLowerCase()));
  const usual = /^(.*?)\d+$/.exec(nextFiringName(book))?.[1] ?? "F";
  const lettersOf = (programme: string) => {
    const last = rows.findLast((row) => programme !== "" && row.cells.programme === programme);
    return last && /^(.*?)\d+$/.exec(rowLabel("firings", last))?.[1];
  };
  let number = Math.max(0, ...rows.map((row) => Number(/(\d+)$/.exec(rowLabel("firings", row))?.[1] ?? 0)));
  return programmes.map((programme) => {
    const letters = lettersOf(programme) ?? usual;
    do number += 1;
    while (taken.has(`${letters}${number}`.toLowerCase()));
    return `${letters}${number}`;
  });
}

/**
 * One change that makes the firings of some loads, puts the pieces into them, each at the step it waits for, and writes it
 * into the run log; `at` is the moment, ISO 8601.
 */
export function makeFirings(
  book: Workbook,
  loads: readonly DraftLoad[],
  waiting: readonly Waiting[],
  at: string,
): Result<Change> {
  const filled = loads.filter(({ pieces }) => pieces.length > 0);
  const problems = [...nameProblems(book, filled), ...filled.flatMap((load) => loadProblems(book, load))];
  if (filled.length === 0) problems.push(nothingToFire());
  if (problems.length > 0) return fail(...problems);
  const stepOf = new Map(waiting.map(({ row, step }) => [row, step]));
  const changes: Change[] = [];
  let after = book;
  const make = (change: Change) => {
    changes.push(change);
    after = applyChange(after, change);
  };
  for (const load of filled) {
    const steps = new Set(load.pieces.flatMap((row) => stepOf.get(row) ?? []));
    if (load.tops === undefined) make(newFiring(after, load, steps));
    for (const step of steps)
      make(
        intoFiring(
          after,
          load.pieces.filter((row) => stepOf.get(row) === step),
          step,
          load.name.trim(),
        ),
      );
  }
  const names = filled.map(({ name }) => name.trim()).join(", ");
  const pieces = filled.flatMap((load) => load.pieces);
  const label = `Firings ${names}: ${namePieces(book, pieces)}`;
  const { operations } = squash(changes, label);
  return ok(logged(book, { act: "firing", label, pieces, operations, at }));
}

function intoFiring(book: Workbook, pieces: readonly string[], step: string, firing: string): Change {
  const column = `${step}.firing`;
  const operations = pieces.map((row): Operation => {
    const was = rowOf(book, "pieces", row)?.cells[column];
    return { kind: "cell", sheet: "pieces", row, column, was, is: firing };
  });
  return { label: "", operations };
}

function newFiring(book: Workbook, load: DraftLoad, steps: ReadonlySet<string>): Change {
  const first = book.sheets.route.rows.find(isFiringStep)?.id ?? "";
  const cells: Record<string, Raw> = { id: load.name.trim(), kiln: load.kiln, basis: "count" };
  if (load.programme !== "") cells.programme = load.programme;
  if (load.date !== "") cells.date = load.date;
  // What is fired for the first time still holds the water bound in its clay.
  if (steps.size === 1 && steps.has(first)) cells.ware = "raw";
  return addRows(book, "firings", [{ id: freshRowId(book.sheets.firings.rows, "f"), cells }], "");
}

function nothingToFire(): Problem {
  return problem({ code: "load.none", where: "Loads", found: "no load with a piece in it", allowed: "one or more" });
}

function nameProblems(book: Workbook, loads: readonly DraftLoad[]): Problem[] {
  const taken = new Set(book.sheets.firings.rows.map((row) => String(row.cells.id).toLowerCase()));
  return loads
    .filter(({ tops }) => tops === undefined)
    .flatMap(({ name }) => {
      const key = name.trim().toLowerCase();
      const isBad = key === "" || taken.has(key);
      taken.add(key);
      return isBad
        ? [
            problem({
              code: "firing.name",
              where: "New firing",
              found: name,
              allowed: "a name that no other firing has",
            }),
          ]
        : [];
    });
}

function loadProblems(book: Workbook, { name, kiln, date, tops }: DraftLoad): Problem[] {
  const found: Problem[] = [];
  const where = `Load ${name}`;
  if (!book.sheets.kilns.rows.some((row) => row.cells.id === kiln))
    found.push(problem({ code: "load.kiln", where, found: kiln, allowed: "a kiln of the Kilns sheet" }));
  if (date !== "" && dayNumber(date) === undefined)
    found.push(problem({ code: "load.date", where, found: date, allowed: "a day such as 2026-12-01" }));
  if (tops !== undefined && !rowOf(book, "firings", tops))
    found.push(problem({ code: "load.gone", where, found: name, allowed: "a firing that is still there" }));
  return found;
}
