// The cautions of the step a selected cell belongs to; loaded when one is first selected.

import { useEffect } from "preact/hooks";
import { perSession } from "../../app/edition/per-session";
import type { Session } from "../../app/edition/session";
import { cautionsOfFiring } from "../../app/paper/firing-cautions";
import { counted, listed } from "../../core/counted";
import { type CellName, columnOf, rowOf } from "../../core/document/access";
import { CAUTION_CLOSING, type Caution } from "../../core/sheets/caution-texts";
import { cautionsOfStep } from "../../core/sheets/cautions";

interface NotesProps {
  readonly session: Session;
  readonly cell: CellName;
}

/** So long a caution stands before it counts as read. */
const READ_AFTER_MS = 1500;

/** Where each caution was first met, by its id: there it stands whole. */
const metAtOf = perSession(() => new Map<string, string>());

/** The row that has cautions: a firing, or the step of the route a cell belongs to. */
function rowOfCautions({ session, cell }: NotesProps): string | undefined {
  if (cell.sheet === "route" || cell.sheet === "firings") return cell.row;
  return columnOf(session.book.value, cell.sheet, cell.column)?.step;
}

function cautionsAt({ session, cell }: NotesProps, id: string): readonly Caution[] {
  const book = session.book.value;
  if (cell.sheet === "firings") {
    const row = rowOf(book, "firings", id);
    const read = (sheet: CellName["sheet"], id: string, column: string) => session.value({ sheet, row: id, column });
    return row ? cautionsOfFiring({ book, read, locale: session.formats.locale }, row) : [];
  }
  const step = rowOf(book, "route", id);
  return step ? cautionsOfStep(book.sheets.route.rows, step) : [];
}

/** Each caution in full where it is first met, and whose word comes first; where it comes again one line opens it. */
export function CautionNotes(props: NotesProps) {
  const rowId = rowOfCautions(props) ?? "";
  const cautions = cautionsAt(props, rowId);
  const metAt = metAtOf(props.session);
  const isNew = ({ id }: Caution) => (metAt.get(id) ?? rowId) === rowId;
  const again = cautions.filter((caution) => !isNew(caution));
  // What was only passed on the way to another cell has not been read.
  useEffect(() => {
    const read = setTimeout(() => {
      for (const { id } of cautions) if (!metAt.has(id)) metAt.set(id, rowId);
    }, READ_AFTER_MS);
    return () => clearTimeout(read);
  }, [rowId]);
  if (cautions.length === 0) return null;
  return (
    <>
      {cautions.filter(isNew).map((caution) => (
        <Whole key={caution.id} caution={caution} />
      ))}
      {again.length > 0 ? (
        <details class="caution" data-testid="cautions-again" key={rowId}>
          <summary>
            {counted(again.length, "caution")}, as before: {listed(again.map(({ title }) => title.toLowerCase()))}
          </summary>
          {again.map((caution) => (
            <Whole key={caution.id} caution={caution} />
          ))}
        </details>
      ) : null}
      <p class="quiet">{CAUTION_CLOSING}</p>
    </>
  );
}

function Whole({ caution: { title, text, source } }: { readonly caution: Caution }) {
  return (
    <div class="caution">
      <b>{title}.</b> {text} <small class="quiet">Published: {source}.</small>
    </div>
  );
}
