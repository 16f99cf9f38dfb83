// What there is to say and do about keeping, above the sheet: loaded when there is something.

import { momentText } from "../../app/edition/written-days";
import { counted } from "../../core/counted";
import "./keeping.css";
import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";
import { rescueText, saveFile } from "../../app/keeping/file-commands";
import { WHOLE_STUDIO } from "../../app/keeping/file-reminder";
import type { Studio } from "../../app/keeping/studio";
import { closePreview, makeRoom, openCopyAsEdition, putBack } from "../../app/keeping/studio-copies";
import type { CopyNote } from "../../storage/copies";
import { copiesOf, showDialog } from "../shell/open-dialog";
import { loadNewest, type Update, useUpdate } from "../shell/update";
import { BackupBehind } from "./backup-file";

interface Props {
  readonly studio: Studio;
  readonly update: Update;
}

/** Every notice about keeping that is due, the gravest first. */
export function KeepingBar({ studio, update }: Props) {
  return (
    <section class="keeping" aria-label="Keeping">
      <Refused studio={studio} update={update} />
      <Newer studio={studio} update={update} />
      <Unsaved studio={studio} update={update} />
      <DamagedRecord studio={studio} />
      <Stranded studio={studio} />
      <Following studio={studio} />
      <Aside studio={studio} />
      <PreviewLine studio={studio} />
      <NewVersion studio={studio} update={update} />
      <Reminder studio={studio} />
      <Behind studio={studio} />
    </section>
  );
}

interface LineProps {
  readonly grave?: boolean;
  readonly name: string;
  readonly children: ComponentChildren;
}

function Line({ grave = false, name, children }: LineProps) {
  return (
    <div class={grave ? "line grave" : "line"} role={grave ? "alert" : "status"} data-testid={`keeping-${name}`}>
      {children}
    </div>
  );
}

function Button({ act, children }: { readonly act: () => void; readonly children: ComponentChildren }) {
  return (
    <button type="button" onClick={act}>
      {children}
    </button>
  );
}

function Refused({ studio, update }: Props) {
  const [first] = studio.refused.value;
  if (!first) return null;
  return (
    <Line name="refused" grave>
      <p>
        <b>Nothing can be kept in this browser:</b> {first.found}. You can go on working here, and open and save files,
        but what is not saved as a file is gone when this page is closed.
      </p>
      <Button act={() => void saveFile(studio)}>Save as a file now</Button>
      {first.code === "store.closed" || first.code === "store.newer" ? (
        <Button act={() => void loadNewest(update)}>Reload the page</Button>
      ) : (
        <Button act={() => void studio.tryHomeAgain()}>Try again</Button>
      )}
    </Line>
  );
}

/** A newer program has written the open edition, or one that was to be opened: this one leaves it alone. */
function Newer({ studio, update }: Props) {
  const isOpen = studio.open?.outrun.value !== undefined;
  const found = studio.newer.value;
  if (!isOpen && !found) return null;
  return (
    <Line name="newer" grave>
      <p>
        {isOpen ? (
          <>
            <b>A newer version of Saggar has written this edition.</b> This page is older: it shows the edition as it
            was, and writes nothing over it. Reload the page to go on.
          </>
        ) : (
          found?.message
        )}
      </p>
      <Button act={() => void loadNewest(update)}>Reload the page</Button>
      {isOpen ? (
        <Button act={() => void saveFile(studio)}>Save what is shown as a file</Button>
      ) : (
        <Button
          act={() => {
            studio.newer.value = undefined;
          }}
        >
          Not now
        </Button>
      )}
    </Line>
  );
}

function Unsaved({ studio, update }: Props) {
  const state = studio.saveState.value;
  if (state.kind !== "failed" || studio.lock.value === "following") return null;
  const [first] = state.problems;
  const code = first?.code;
  return (
    <Line name="unsaved" grave>
      <p>
        <b>Not saved:</b> {first?.message}
        {state.retryInMs === undefined ? "" : " It is tried again by itself."}
      </p>
      <Button act={() => void saveFile(studio)}>Save as a file now</Button>
      {code === "store.full" ? (
        <Button act={() => void makeRoom(studio)}>Remove earlier copies of this edition and save</Button>
      ) : null}
      {code === "store.removed" ? (
        <Button act={() => void studio.open?.storeAgain()}>Keep it here after all</Button>
      ) : null}
      {code === "store.closed" ? <Button act={() => void loadNewest(update)}>Reload the page</Button> : null}
      {state.retryInMs === undefined ? null : <Button act={() => void studio.flush()}>Try now</Button>}
    </Line>
  );
}

function DamagedRecord({ studio }: { readonly studio: Studio }) {
  const damaged = studio.damaged.value;
  if (!damaged) return null;
  const { id, newest } = damaged;
  const when = newest && momentText(newest.takenAt, studio.session.value?.formats.locale);
  return (
    <Line name="damaged" grave>
      <p>
        <b>The stored record of an edition is damaged</b>
        {newest ? `: “${newest.title}”` : ""}. It is set aside as it is, and nothing was written over it.{" "}
        {newest
          ? `The last good copy is of ${when}, with ${counted(newest.pieces, "piece")}.`
          : "There is no earlier copy of it in this browser: open your last file of it."}
      </p>
      {newest && when ? (
        <Button act={() => void openCopyAsEdition(studio, id, newest, when)}>Open the last good copy</Button>
      ) : null}
      {newest ? (
        <Button
          act={() => {
            copiesOf.value = id;
            showDialog("copies");
          }}
        >
          All copies…
        </Button>
      ) : null}
      <Button act={() => void rescueText(studio, id)}>Save what is left as a file</Button>
      <Button
        act={() => {
          studio.damaged.value = undefined;
        }}
      >
        Not now
      </Button>
    </Line>
  );
}

function Stranded({ studio }: { readonly studio: Studio }) {
  const [first] = studio.open?.stranded.value ?? [];
  const count = studio.open?.unsaved.edits.length ?? 0;
  if (!first) return null;
  const edits = counted(count, "edit");
  return (
    <Line name="stranded" grave>
      <p>
        <b>{edits} of this tab are not saved, and are in no other place.</b> Another tab writes this edition now.{" "}
        {first.message}
      </p>
      <Button act={() => void saveFile(studio)}>Save as a file now</Button>
      <Button act={() => void studio.open?.keepStranded()}>Try again</Button>
      <Button act={() => void studio.open?.giveUpStranded()}>Give up {edits} and follow the other tab</Button>
    </Line>
  );
}

function Aside({ studio }: { readonly studio: Studio }) {
  const aside = studio.open?.unsaved.aside.value ?? [];
  if (aside.length === 0 || studio.lock.value === "following" || studio.preview.value) return null;
  const count = aside.reduce((sum, { edits }) => sum + edits.length, 0);
  return (
    <Line name="aside">
      <p>
        <b>{counted(count, "edit is", "edits are")} set aside:</b> made in a page that was closed before they were
        saved, and not fitting the edition when it was opened again.
      </p>
      <Button act={() => showDialog("copies")}>Look at them…</Button>
    </Line>
  );
}

function Following({ studio }: { readonly studio: Studio }) {
  const { outrun, stranded } = studio.open ?? {};
  if (studio.lock.value !== "following" || outrun?.value || (stranded?.value.length ?? 0) > 0) return null;
  return (
    <Line name="following">
      <p>
        <b>Another tab writes this edition.</b> This one shows what is done there, and can't be written in.
      </p>
      <Button act={() => void studio.takeOver()}>Write here</Button>
    </Line>
  );
}

function PreviewLine({ studio }: { readonly studio: Studio }) {
  const preview = studio.preview.value;
  if (!preview) return null;
  const { edition, note } = preview;
  return (
    <Line name="preview">
      <p>
        <b>You look at {nameOf(note, studio)}.</b> Nothing can be changed in it; the edition stays as it is.
      </p>
      <Button act={() => closePreview(studio)}>Back to the edition</Button>
      <CopyActions studio={studio} edition={edition} note={note} />
    </Line>
  );
}

function nameOf(note: CopyNote, studio: Studio): string {
  const when = momentText(note.takenAt, studio.session.value?.formats.locale);
  return note.name === undefined ? `the copy of ${when}` : `the copy “${note.name}” of ${when}`;
}

/** What can be done with a copy besides looking at it. */
export function CopyActions({
  studio,
  edition,
  note,
  onDone,
}: {
  readonly studio: Studio;
  readonly edition: string;
  readonly note: CopyNote;
  readonly onDone?: () => void;
}) {
  const when = momentText(note.takenAt, studio.session.value?.formats.locale);
  const isOpen = edition === studio.open?.id;
  return (
    <>
      {isOpen && studio.lock.value === "writing" ? (
        <Button act={() => void putBack(studio, note, when).then(onDone)}>
          Put it back<span class="unseen"> as it was on {when}</span>
        </Button>
      ) : null}
      <Button act={() => void openCopyAsEdition(studio, edition, note, when).then(onDone)}>
        Open as a new edition<span class="unseen"> the copy of {when}</span>
      </Button>
    </>
  );
}

function NewVersion({ studio, update }: Props) {
  const [later, setLater] = useState(false);
  if (update.ready.value === "no" || later) return null;
  return (
    <Line name="update">
      <p>
        {update.ready.value === "in use elsewhere"
          ? "Another tab uses a newer version of Saggar. This one goes on as it is until it is reloaded."
          : "A new version of Saggar is ready. It is used when you say so, or the next time you come."}
      </p>
      <Button act={() => void useUpdate(studio, update)}>Use it now</Button>
      <Button act={() => setLater(true)}>Later</Button>
    </Line>
  );
}

function Reminder({ studio }: { readonly studio: Studio }) {
  const due = studio.files.reminder.value;
  if (!due || studio.lock.value === "following" || studio.preview.value) return null;
  const since = momentText(due.since, studio.platform.locale);
  return (
    <Line name="reminder">
      <p>
        {due.hasFile
          ? `${counted(due.edits, "edit")} since the last file of ${since}.`
          : `${counted(due.edits, "edit")}, and no file of them yet.`}{" "}
        A file is the only copy that outlives this device's browser.
      </p>
      {due.edition === WHOLE_STUDIO ? (
        <Button act={() => showDialog("studio")}>The whole studio in one file…</Button>
      ) : (
        <Button act={() => void saveFile(studio)}>Save as a file</Button>
      )}
      <Button act={() => studio.files.putOff()}>In a week</Button>
    </Line>
  );
}

function Behind({ studio }: { readonly studio: Studio }) {
  if (!studio.backup.value?.waits || studio.preview.value) return null;
  return (
    <Line name="backup">
      <BackupBehind studio={studio} />
    </Line>
  );
}
