// Texts that were typed and landed nowhere, offered to whichever cell is selected.
import { writeChecked } from "../../app/commands/commands";
import type { Session } from "../../app/edition/session";
import { type CellName, describeCell } from "../../core/document/access";
import { dropText, type KeptText, keptTextsOf } from "../edition/kept-text";

interface Props {
  readonly session: Session;
  /** The selected cell, if there is one. */
  readonly cell: CellName | undefined;
}

export function KeptNotes({ session, cell }: Props) {
  const write = async (kept: KeptText, into: CellName) => {
    if (await writeChecked(session, [{ cell: into, typed: kept.text }], "typed")) dropText(session, kept);
  };
  return (
    <>
      {keptTextsOf(session).value.map((kept) => (
        <div class="caution" role="status" data-testid="kept-text" key={kept}>
          <p>
            Typed for {kept.meantFor}, which has gone, so it is in no cell yet: <b>{kept.text}</b>
          </p>
          {cell ? (
            <button type="button" onClick={() => void write(kept, cell)}>
              Write it into {describeCell(session.book.value, cell)}
            </button>
          ) : null}{" "}
          <button type="button" onClick={() => dropText(session, kept)}>
            Throw it away
          </button>
        </div>
      ))}
    </>
  );
}
