// The cautions of the step a selected cell belongs to; loaded when one is first selected.

import type { Session } from "../../app/edition/session";
import { cautionsOfFiring } from "../../app/paper/firing-cautions";
import { type CellName, columnOf, rowOf } from "../../core/document/access";
import { CAUTION_CLOSING, type Caution } from "../../core/sheets/caution-texts";
import { cautionsOfStep } from "../../core/sheets/cautions";

interface NotesProps {
  readonly session: Session;
  readonly cell: CellName;
}

function cautionsAt({ session, cell }: NotesProps): readonly Caution[] {
  const book = session.book.value;
  const row = rowOf(book, cell.sheet, cell.row);
  if (cell.sheet === "firings" && row) {
    const read = (sheet: CellName["sheet"], id: string, column: string) => session.value({ sheet, row: id, column });
    return cautionsOfFiring({ book, read, locale: session.formats.locale }, row);
  }
  const step = cell.sheet === "route" ? cell.row : columnOf(book, cell.sheet, cell.column)?.step;
  const held = step === undefined ? undefined : rowOf(book, "route", step);
  return held ? cautionsOfStep(book.sheets.route.rows, held) : [];
}

/** Each caution with its source, and once whose word comes first. */
export function CautionNotes(props: NotesProps) {
  const cautions = cautionsAt(props);
  if (cautions.length === 0) return null;
  return (
    <>
      {cautions.map(({ id, title, text, source }) => (
        <div class="caution" key={id}>
          <b>{title}.</b> {text} <small class="quiet">Published: {source}.</small>
        </div>
      ))}
      <p class="quiet">{CAUTION_CLOSING}</p>
    </>
  );
}
