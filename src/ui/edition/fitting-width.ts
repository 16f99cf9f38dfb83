// The width at which a column shows all that stands in it.
import type { Session } from "../../app/edition/session";
import type { SheetView } from "../../app/edition/view";
import { possibleWidth } from "../grid/sizes";
import { sheetContentOf } from "./grid-model";
import { type SheetFont, textWidth } from "./text-width";

/** Of more rows than this, so many are measured, evenly spread. */
const MOST_MEASURED = 2000;
/** Padding at both sides, the line at the edge, and room for a mark before the text. */
const ROUND_TEXT = 30;

/** The width in px at which the texts of a column and its title are whole. */
export function fittingWidth(session: Session, view: SheetView, rows: readonly string[], key: string): number {
  const model = sheetContentOf(session, view);
  const column = model.columns.find((one) => one.key === key);
  if (column === undefined) return possibleWidth(0);
  const widest = (font: SheetFont, texts: readonly string[]) =>
    texts.reduce((most, text) => Math.max(most, textWidth(text, font)), 0);
  const step = Math.max(1, Math.ceil(rows.length / MOST_MEASURED));
  const texts = rows.filter((_, at) => at % step === 0).map((row) => model.display(row, key).text);
  const isName = model.columns[0] === column;
  const cells = widest(isName ? "600 13px" : "13px", texts);
  const title = widest("600 13px", [column.title]);
  const unit = widest("12px", [column.unit]);
  return possibleWidth(Math.ceil(Math.max(cells, title, unit)) + ROUND_TEXT);
}
