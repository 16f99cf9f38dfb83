// The columns and lines every edition has. A document does not hold them: they come from here whenever one is read.
import { SHEET_TITLES } from "../document/sheet-keys";
import type { Row, Sheet, SheetKey } from "../document/workbook";
import { CHANNEL_COLUMNS } from "./channels-sheet";
import { FIRING_COLUMNS } from "./firings-sheet";
import { EDITION_COLUMNS, EDITION_LINES, RESULT_COLUMNS, RESULT_LINES } from "./lines";
import { columnsOfStep, PIECE_CLOSING_COLUMNS, PIECE_LEADING_COLUMNS } from "./pieces-sheet";
import { ROUTE_COLUMNS } from "./route-sheet";
import { KILN_COLUMNS, MATERIAL_COLUMNS, PROGRAMME_COLUMNS, PURCHASE_COLUMNS, TARIFF_COLUMNS } from "./stock-sheets";

/** Every sheet for a route, with the columns of its steps, and the lines of those that read line by line. */
export function standardSheets(route: readonly Row[]): Readonly<Record<SheetKey, Sheet>> {
  const pieces = [...PIECE_LEADING_COLUMNS, ...route.flatMap(columnsOfStep), ...PIECE_CLOSING_COLUMNS];
  return {
    edition: { title: SHEET_TITLES.edition, columns: EDITION_COLUMNS, rows: EDITION_LINES },
    route: { title: SHEET_TITLES.route, columns: ROUTE_COLUMNS, rows: [] },
    materials: { title: SHEET_TITLES.materials, columns: MATERIAL_COLUMNS, rows: [] },
    purchases: { title: SHEET_TITLES.purchases, columns: PURCHASE_COLUMNS, rows: [] },
    kilns: { title: SHEET_TITLES.kilns, columns: KILN_COLUMNS, rows: [] },
    programmes: { title: SHEET_TITLES.programmes, columns: PROGRAMME_COLUMNS, rows: [] },
    tariffs: { title: SHEET_TITLES.tariffs, columns: TARIFF_COLUMNS, rows: [] },
    firings: { title: SHEET_TITLES.firings, columns: FIRING_COLUMNS, rows: [] },
    pieces: { title: SHEET_TITLES.pieces, columns: pieces, rows: [] },
    channels: { title: SHEET_TITLES.channels, columns: CHANNEL_COLUMNS, rows: [] },
    results: { title: SHEET_TITLES.results, columns: RESULT_COLUMNS, rows: RESULT_LINES },
  };
}
