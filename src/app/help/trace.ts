// Where a number comes from, one step back: the cells and columns a formula names, with their values.
import { type CellName, columnOf, describeCell, resolveCell, rowLabel, rowOf } from "../../core/document/access";
import type { SheetKey, Workbook } from "../../core/document/workbook";
import { readFormula } from "../../core/formula/formula";
import { columnFor } from "../../core/formula/reference";
import { allNodes, type Expression } from "../../core/formula/tree";
import { eachSteps } from "../../core/sheets/each-step";
import { isFiringStep } from "../../core/sheets/step-kinds";
import type { Value } from "../../engine/values";

/** One thing a cell is computed from. */
export interface Origin {
  readonly title: string;
  readonly unit: string;
  readonly value: Value | undefined;
  /** The cell, where it is one; undefined for a whole column. */
  readonly cell?: CellName;
  /** How many filled cells a whole column has. */
  readonly count?: number;
}

type Reader = (cell: CellName) => Value | undefined;

/** What a cell is computed from; empty where it was typed. */
export function originsOf(book: Workbook, cell: CellName, read: Reader): readonly Origin[] {
  const formula = resolveCell(book, cell)?.formula;
  if (formula === undefined) return [];
  const parsed = readFormula(formula, eachSteps(book));
  if (!parsed.ok) return [];
  const seen = new Set<string>();
  const nodes = allNodes(parsed.value);
  const origins = nodes.flatMap((node) => originOf(book, cell, node, read));
  const firing = firingOrigins(book, cell, nodes, read);
  return [...firing, ...origins].filter((origin) => {
    const name = `${origin.title} ${origin.cell?.row}`;
    if (seen.has(name)) return false;
    seen.add(name);
    return true;
  });
}

function originOf(book: Workbook, cell: CellName, node: Expression, read: Reader): Origin[] {
  if (node.kind === "name")
    return rowOf(book, "edition", node.name)
      ? cellOrigin(book, { sheet: "edition", row: node.name, column: "value" }, read)
      : [];
  if (node.kind !== "reference") return [];
  const { to } = node;
  switch (to.kind) {
    case "own":
      return cellOrigin(book, { sheet: cell.sheet, row: cell.row, column: to.column }, read);
    case "cell":
      return cellOrigin(book, { sheet: to.sheet, row: to.row, column: to.column }, read);
    case "column":
      return rangeOrigin(book, to.sheet, columnFor(to.column, cell.row), read);
  }
}

function cellOrigin(book: Workbook, cell: CellName, read: Reader): Origin[] {
  const found = resolveCell(book, cell);
  if (!found || found.column.hidden) return [];
  return [{ title: describeCell(book, cell), unit: found.unit, value: read(cell), cell }];
}

function rangeOrigin(book: Workbook, sheet: SheetKey, key: string, read: Reader): Origin[] {
  const column = columnOf(book, sheet, key);
  if (!column || column.hidden || column.type !== "number") return [];
  const values = book.sheets[sheet].rows.map((row) => read({ sheet, row: row.id, column: key }));
  const numbers = values.filter((value) => typeof value === "number");
  const step = column.step ? rowOf(book, "route", column.step) : undefined;
  const group = step ? `${rowLabel("route", step)}: ` : "";
  return [
    {
      title: `${book.sheets[sheet].title}, ${group}${column.title}, all together`,
      unit: column.unit,
      value: numbers.reduce((sum, value) => sum + value, 0),
      count: numbers.length,
    },
  ];
}

/** For a share of a firing: what the firing cost, how it is shared and over how many. */
function firingOrigins(book: Workbook, cell: CellName, nodes: readonly Expression[], read: Reader): Origin[] {
  if (!nodes.some((node) => node.kind === "call" && node.name === "FIRING_SHARE")) return [];
  const load = cell.column.replace(/\.[a-z]+$/, ".load");
  const name = read({ ...cell, column: load });
  const firing = book.sheets.firings.rows.find((row) => row.cells.id === name);
  if (!firing) return [];
  const isShared = read({ sheet: "firings", row: firing.id, column: "others" }) !== 0;
  return ["cost", "kwh", "basis", "pieces", ...(isShared ? ["ours"] : [])].flatMap((column) =>
    cellOrigin(book, { sheet: "firings", row: firing.id, column }, read),
  );
}

/** A piece's share of a firing beside what it would be in a full load; undefined for cells that are no share of one. */
export function loadOf(
  session: { readonly book: { readonly value: Workbook }; value(cell: CellName): Value | undefined },
  cell: CellName,
): { readonly count: number; readonly capacity: number; readonly share: number; readonly full: number } | undefined {
  const book = session.book.value;
  const step = columnOf(book, cell.sheet, cell.column)?.step;
  const at = step === undefined ? undefined : rowOf(book, "route", step);
  if (cell.sheet !== "pieces" || !at || !isFiringStep(at) || !cell.column.endsWith(".cost")) return undefined;
  const name = session.value({ ...cell, column: `${step}.load` });
  const firing = book.sheets.firings.rows.find((row) => row.cells.id === name);
  const read = (column: string) => (firing ? session.value({ sheet: "firings", row: firing.id, column }) : undefined);
  const [share, count, each, capacity] = [session.value(cell), read("all"), read("each_full"), read("full")];
  if (
    typeof share !== "number" ||
    typeof count !== "number" ||
    typeof each !== "number" ||
    typeof capacity !== "number"
  )
    return undefined;
  return { count, capacity, share, full: each };
}
