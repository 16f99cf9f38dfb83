// What a maker adds beyond the template: columns of their own and inputs of their own.

import { contextOfColumn, type FormulaCheck } from "../formula/formula-check";
import { checkTypedFormula } from "../formula/typed-formula";
import { fail, ok, problem, type Result } from "../problem";
import { readOwnUnit } from "../units/own-unit";
import { columnIndex } from "./access";
import type { Change } from "./change";
import type { Column, Row, SheetKey, Workbook } from "./workbook";

/** A column as asked for. With a formula it is computed, without one it takes entries. */
export interface NewColumn {
  readonly title: string;
  readonly unit: string;
  readonly type: "number" | "text";
  readonly formula: string;
}

/** Adds a column of the maker's own at the end of a sheet; `check` looks at the units of its formula. */
export function addOwnColumn(book: Workbook, sheet: SheetKey, wanted: NewColumn, check?: FormulaCheck): Result<Change> {
  const title = wanted.title.trim();
  const columns = book.sheets[sheet].columns;
  if (title === "" || title.length > 80 || columns.some((column) => column.title.toLowerCase() === title.toLowerCase()))
    return fail(
      problem({
        code: "column.title",
        where: "The new column",
        found: title,
        allowed: "a title of 1 to 80 characters that no other column has",
      }),
    );
  const formula = wanted.formula.trim();
  const checked =
    formula === "" ? ok("") : checkTypedFormula(book, sheet, formula.startsWith("=") ? formula : `=${formula}`);
  if (!checked.ok) return checked;
  const unit = readOwnUnit(wanted.unit, book.meta.currency, `The new column ${title}, unit`);
  if (!unit.ok) return unit;
  const key = freshKey(title, new Set(columns.map((column) => column.key)));
  const base = { key, title, unit: unit.value, own: true, ...formatOf(unit.value) } as const;
  const column: Column =
    checked.value === ""
      ? { ...base, kind: "input", type: wanted.type }
      : { ...base, kind: "computed", type: "number", formula: checked.value };
  const problems =
    check && column.formula ? check(book, contextOfColumn(book, sheet, column), column.formula).problems : [];
  if (problems.length > 0) return fail(...problems);
  return ok({
    label: `Add column: ${title}`,
    operations: [{ kind: "add columns", sheet, at: columns.length, columns: [column] }],
  });
}

/** A percentage is kept as its fraction. */
function formatOf(unit: string): { readonly format?: "percent" } {
  return unit === "%" ? { format: "percent" } : {};
}

/** Removes a column of the maker's own, with what was entered in it. */
export function removeOwnColumn(book: Workbook, sheet: SheetKey, key: string): Result<Change> {
  const at = columnIndex(book.sheets[sheet]).get(key);
  const column = at === undefined ? undefined : book.sheets[sheet].columns[at];
  if (at === undefined || !column?.own)
    return fail(
      problem({
        code: "column.own",
        where: `Column ${column?.title ?? key}`,
        found: "a column of the template",
        allowed: "to be removed only if you added it",
      }),
    );
  const cells = book.sheets[sheet].rows.flatMap((row) => {
    const was = row.cells[key];
    return was === undefined ? [] : [{ kind: "cell", sheet, row: row.id, column: key, was, is: undefined } as const];
  });
  return ok({
    label: `Remove column: ${column.title}`,
    operations: [...cells, { kind: "remove columns", sheet, at, columns: [column] }],
  });
}

/** Changes the formula of a computed column for all its rows; `check` looks at its units. */
export function changeColumnFormula(
  book: Workbook,
  sheet: SheetKey,
  key: string,
  typed: string,
  check?: FormulaCheck,
): Result<Change> {
  const at = columnIndex(book.sheets[sheet]).get(key);
  const was = at === undefined ? undefined : book.sheets[sheet].columns[at];
  if (!was?.own || was.kind !== "computed")
    return fail(
      problem({
        code: "column.formula",
        where: `Column ${was?.title ?? key}`,
        found: typed,
        allowed: "a new formula only if the column is your own",
      }),
    );
  const checked = checkTypedFormula(book, sheet, typed.trim().startsWith("=") ? typed.trim() : `=${typed.trim()}`);
  if (!checked.ok) return checked;
  const problems = check?.(book, contextOfColumn(book, sheet, was), checked.value).problems ?? [];
  if (problems.length > 0) return fail(...problems);
  return ok({
    label: `Formula of ${was.title}`,
    operations: [{ kind: "column", sheet, was, is: { ...was, formula: checked.value } }],
  });
}

/** Adds an input of the maker's own to the Edition sheet; formulas name it by the id made from its label. */
export function addOwnInput(book: Workbook, label: string, unit: string): Result<Change> {
  const text = label.trim();
  const rows = book.sheets.edition.rows;
  if (
    text === "" ||
    text.length > 120 ||
    rows.some((row) => String(row.cells.label).toLowerCase() === text.toLowerCase())
  )
    return fail(
      problem({
        code: "input.label",
        where: "The new input",
        found: text,
        allowed: "a name of 1 to 120 characters that no other input has",
      }),
    );
  const read = readOwnUnit(unit, book.meta.currency, `The new input ${text}, unit`);
  if (!read.ok) return read;
  const id = freshKey(text, new Set(rows.map((row) => row.id)));
  const row: Row = {
    id,
    cells: { label: text, unit: read.value, value: 0, note: `in formulas: ${id}` },
    line: { kind: "input", type: "number", ...formatOf(read.value) },
    own: true,
  };
  return ok({
    label: `Add input: ${text}`,
    operations: [{ kind: "add rows", sheet: "edition", at: rows.length, rows: [row] }],
  });
}

function freshKey(title: string, taken: ReadonlySet<string>): string {
  const words = title
    .toLowerCase()
    .normalize("NFKD")
    .replace(/[^a-z0-9]+/g, "_")
    .replace(/^[^a-z]+|_+$/g, "")
    .slice(0, 30);
  // Never a word that the formula text could read as an address or a truth value.
  const base = `my_${words || "column"}`;
  let key = base;
  for (let count = 2; taken.has(key); count += 1) key = `${base}_${count}`;
  return key;
}
