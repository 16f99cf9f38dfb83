import { useEffect, useState } from "preact/hooks";
import { momentText } from "../../app/edition/written-days";
import type { Studio } from "../../app/keeping/studio";
import {
  keepCopy,
  LONGEST_NAME,
  listCopies,
  previewCopy,
  removeCopies,
  sizeText,
} from "../../app/keeping/studio-copies";
import { counted } from "../../core/counted";
import type { CopyNote } from "../../storage/copies";
import { Dialog } from "../controls/dialog";
import { TextField } from "../controls/fields";
import { closeDialog, copiesOf } from "../shell/open-dialog";
import { AsideList } from "./aside-edits";
import { CopyActions } from "./keeping-bar";

/** Earlier copies of an edition: to look at, to put back, to open as an edition of its own; and one more, on purpose. */
export function CopiesDialog({ studio }: { readonly studio: Studio }) {
  const edition = copiesOf.value ?? studio.editionId.value ?? "";
  const [notes, setNotes] = useState<readonly CopyNote[] | undefined>(undefined);
  const list = () => void listCopies(studio, edition).then(setNotes);
  useEffect(list, [edition]);
  const isOpen = edition === studio.open?.id;
  const close = () => {
    copiesOf.value = undefined;
    closeDialog();
  };
  const title = isOpen ? studio.open?.session.book.value.meta.title : notes?.[0]?.title;
  const size = (notes ?? []).reduce((sum, note) => sum + note.size, 0);
  return (
    <Dialog title={`Earlier copies${title ? ` of ${title}` : ""}`} onClose={close} isWide>
      <p class="quiet">
        While you work, how the edition stood is put by every ten minutes and before a pause. Of older copies the last
        of each hour, day and month stays; copies with a name stay until you remove them. Putting one back is one step
        that Undo takes back.
      </p>
      {isOpen && studio.open && studio.lock.value === "writing" ? <AsideList open={studio.open} close={close} /> : null}
      {isOpen ? <KeepOne studio={studio} onKept={list} /> : null}
      {notes === undefined ? <p role="status">Looking…</p> : null}
      {notes?.length === 0 ? (
        <p class="empty" data-testid="no-copies">
          No copies yet. The first is put by with your next edit.
        </p>
      ) : null}
      {notes && notes.length > 0 ? (
        <>
          <ul class="list" data-testid="copies">
            {notes.map((note) => (
              <Copy key={note.takenAt} studio={studio} edition={edition} note={note} close={close} list={list} />
            ))}
          </ul>
          <p class="quiet">
            {counted(notes.length, "copy", "copies")}, about {sizeText(size)}.
          </p>
        </>
      ) : null}
      <div class="actions">
        <button type="button" onClick={close}>
          Close
        </button>
      </div>
    </Dialog>
  );
}

function KeepOne({ studio, onKept }: { readonly studio: Studio; readonly onKept: () => void }) {
  const [name, setName] = useState("");
  return (
    <form
      class="row"
      onSubmit={(event) => {
        event.preventDefault();
        void keepCopy(studio, name).then((isKept) => {
          if (isKept) setName("");
          onKept();
        });
      }}
    >
      <TextField
        label="Name of a copy of how it stands now"
        name="copy"
        required
        maxLength={LONGEST_NAME}
        placeholder="Before the second glaze"
        value={name}
        onText={setName}
      />
      <button type="submit">Keep a copy</button>
    </form>
  );
}

interface CopyProps {
  readonly studio: Studio;
  readonly edition: string;
  readonly note: CopyNote;
  readonly close: () => void;
  readonly list: () => void;
}

function Copy({ studio, edition, note, close, list }: CopyProps) {
  const [asks, setAsks] = useState(false);
  const when = momentText(note.takenAt, studio.session.value?.formats.locale);
  return (
    <li>
      <div>
        <b>{when}</b>{" "}
        <span class="quiet">
          {note.name === undefined ? "" : `“${note.name}” · `}
          {note.title} · {counted(note.pieces, "piece")} · {sizeText(note.size)}
        </span>
      </div>
      <button
        type="button"
        onClick={() => {
          close();
          void previewCopy(studio, edition, note);
        }}
      >
        Look at it<span class="unseen">: the copy of {when}</span>
      </button>
      <CopyActions studio={studio} edition={edition} note={note} onDone={close} />
      {asks ? (
        <button type="button" class="act" onClick={() => void removeCopies(studio, edition, [note]).then(list)}>
          Remove it for good
        </button>
      ) : (
        <button type="button" class="plain" onClick={() => setAsks(true)}>
          Remove…<span class="unseen"> the copy of {when}</span>
        </button>
      )}
    </li>
  );
}
