// The columns and lines every edition has, and how an older edition gets those of today.
import type { Column, Row, Sheet, SheetKey, Workbook } from "../workbook";
import { FIRING_COLUMNS } from "./firings-sheet";
import { EDITION_COLUMNS, EDITION_LINES, RESULT_COLUMNS, RESULT_LINES } from "./lines";
import { columnsOfStep, PIECE_CLOSING_COLUMNS, PIECE_LEADING_COLUMNS } from "./pieces-sheet";
import { ROUTE_COLUMNS } from "./route-sheet";
import { KILN_COLUMNS, MATERIAL_COLUMNS, PROGRAMME_COLUMNS, TARIFF_COLUMNS } from "./stock-sheets";
import { wiredFormulas } from "./wire";

/** The columns of every sheet for a route, with the formulas that depend on it in place. */
export function standardColumns(route: readonly Row[]): Readonly<Record<SheetKey, readonly Column[]>> {
  const wired = new Map(wiredFormulas(route).map((one) => [`${one.sheet} ${one.column}`, one.formula]));
  const wire = (sheet: SheetKey, columns: readonly Column[]) =>
    columns.map((column) => {
      const formula = wired.get(`${sheet} ${column.key}`);
      return formula === undefined ? column : { ...column, formula };
    });
  const pieces = [...PIECE_LEADING_COLUMNS, ...route.flatMap(columnsOfStep), ...PIECE_CLOSING_COLUMNS];
  return {
    edition: EDITION_COLUMNS,
    route: ROUTE_COLUMNS,
    materials: MATERIAL_COLUMNS,
    kilns: KILN_COLUMNS,
    programmes: PROGRAMME_COLUMNS,
    tariffs: TARIFF_COLUMNS,
    firings: wire("firings", FIRING_COLUMNS),
    pieces: wire("pieces", pieces),
    results: RESULT_COLUMNS,
  };
}

/**
 * An edition of an earlier format with the columns and lines of today. What the maker entered or added stays, and so
 * does a column that today's sheets do not know: it is then one of the maker's own.
 */
export function bringUpToDate(book: Workbook): Workbook {
  const standard = standardColumns(book.sheets.route.rows);
  const renewed = (key: SheetKey, rows: readonly Row[]): Sheet => {
    const { columns, title } = book.sheets[key];
    const known = new Set(standard[key].map((column) => column.key));
    const others = columns
      .filter((column) => !known.has(column.key))
      .map((column): Column => (column.own ? column : { ...column, own: true }));
    return { title, columns: [...standard[key], ...others], rows };
  };
  const sheets = Object.fromEntries(
    Object.entries(book.sheets).map(([key, sheet]) => [key, renewed(key as SheetKey, sheet.rows)]),
  ) as Record<SheetKey, Sheet>;
  sheets.edition = renewed("edition", renewedLines(book.sheets.edition.rows, EDITION_LINES));
  sheets.results = renewed("results", renewedLines(book.sheets.results.rows, RESULT_LINES));
  return { ...book, sheets };
}

/** Today's lines in their order with what was entered in them; lines of the maker's own after them. */
function renewedLines(rows: readonly Row[], lines: readonly Row[]): readonly Row[] {
  const held = new Map(rows.map((row) => [row.id, row]));
  const known = new Set(lines.map((line) => line.id));
  const renewed = lines.map((line): Row => {
    const row = held.get(line.id);
    return row ? { ...line, cells: { ...line.cells, ...row.cells, ...words(line) } } : line;
  });
  return [
    ...renewed,
    ...rows.filter((row) => !known.has(row.id)).map((row) => (row.own ? row : { ...row, own: true })),
  ];
}

/** What a computed line says of itself is ours; what stands beside an input may be the maker's. */
function words(line: Row): Row["cells"] {
  const { value: _, ...said } = line.cells;
  return line.line?.kind === "computed" ? said : {};
}
