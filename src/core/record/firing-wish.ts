// Into which firing pieces go: one that is there, or a new one that is made in the same change.
import { rowLabel } from "../document/access";
import { applyChange, type Operation } from "../document/change";
import { addRows } from "../document/edits";
import type { Workbook } from "../document/workbook";
import { fail, ok, type Problem, problem, type Result } from "../problem";
import { type NewFiring, newFiringRow } from "./piece-edits";

export type FiringWish = { readonly kind: "there"; readonly name: string } | ({ readonly kind: "new" } & NewFiring);

/** The firings that steps ask for: the name each step's pieces get, the rows to be added, and the book with them. */
export interface FiringsWished {
  readonly nameOf: ReadonlyMap<string, string>;
  readonly operations: readonly Operation[];
  readonly book: Workbook;
}

/** Makes the firings that are new. Two steps that wish for the same new name share one firing, as coats fired together. */
export function grantFirings(
  book: Workbook,
  wishes: readonly (readonly [step: string, wish: FiringWish])[],
): Result<FiringsWished> {
  const nameOf = new Map<string, string>();
  const made = new Map<string, string>();
  const operations: Operation[] = [];
  let after = book;
  for (const [step, wish] of wishes) {
    const name = wish.name.trim();
    const problems = wishProblems(book, wish, name);
    if (problems.length > 0) return fail(...problems);
    nameOf.set(step, name);
    if (wish.kind === "there" || made.has(name.toLowerCase())) continue;
    made.set(name.toLowerCase(), name);
    const added = addRows(after, "firings", [newFiringRow(after, step, { ...wish, name })], "");
    operations.push(...added.operations);
    after = applyChange(after, added);
  }
  return ok({ nameOf, operations, book: after });
}

function wishProblems(book: Workbook, wish: FiringWish, name: string): readonly Problem[] {
  const isThere = book.sheets.firings.rows.some((row) => rowLabel("firings", row).toLowerCase() === name.toLowerCase());
  if (wish.kind === "there")
    return isThere
      ? []
      : [problem({ code: "firing.none", where: "Firing", found: name, allowed: "a firing of the Firings sheet" })];
  const isKiln = book.sheets.kilns.rows.some((row) => row.cells.id === wish.kiln);
  return [
    ...(isThere || name === "" || name.length > 40
      ? [
          problem({
            code: "firing.name",
            where: "New firing",
            found: name,
            allowed: "a name of 1 to 40 characters that no other firing has",
          }),
        ]
      : []),
    ...(isKiln
      ? []
      : [
          problem({ code: "firing.kiln", where: "New firing", found: wish.kiln, allowed: "a kiln of the Kilns sheet" }),
        ]),
  ];
}
