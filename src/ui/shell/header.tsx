import { redo, undo } from "../../app/commands/commands";
import { withDaysWritten } from "../../app/edition/written-days";
import { saveFile } from "../../app/keeping/file-commands";
import type { Studio } from "../../app/keeping/studio";
import { showDialog } from "./open-dialog";
import { Calculating, Saving } from "./saving";
import { closesOnPress, placeTitle } from "./sheet-list";

/** Title, save state and what acts on the whole edition; in a narrow window a slim bar that says where one is. */
export function Header({ studio }: { readonly studio: Studio }) {
  const session = studio.session.value;
  if (!session) return null;
  const meta = session.meta.value;
  const { done, undone } = session.history.value;
  const last = done.at(-1);
  const next = undone.at(-1);
  return (
    <header class="top">
      <button type="button" class="narrow-only where" popovertarget="sheets">
        <span class="unseen">Go elsewhere; you are at</span> {placeTitle(session)} <span aria-hidden="true">▾</span>
      </button>
      <h1>{meta.title}</h1>
      <span class="quiet note">{meta.note}</span>
      {session.engineState.value === "ready" && !session.stopTrial.value ? null : <Calculating session={session} />}
      <Saving studio={studio} />
      <button
        type="button"
        disabled={!last}
        title={last ? `Undo: ${withDaysWritten(last.label, session.formats.locale)}` : "Nothing to undo"}
        onClick={() => undo(session)}
      >
        Undo
      </button>
      <button
        type="button"
        class="redo"
        disabled={!next}
        title={next ? `Redo: ${withDaysWritten(next.label, session.formats.locale)}` : "Nothing to redo"}
        onClick={() => redo(session)}
      >
        Redo
      </button>
      <button type="button" class="narrow-only" popovertarget="more">
        More <span aria-hidden="true">▾</span>
      </button>
      <div class="more" id="more" popover="auto" ref={closesOnPress}>
        <button type="button" onClick={() => showDialog("done")}>
          What was done
        </button>
        <button type="button" onClick={() => void saveFile(studio)}>
          Save as a file
        </button>
        <button type="button" title="Search everything: Alt 6" onClick={() => showDialog("search")}>
          Search
        </button>
        <button type="button" onClick={() => showDialog("help")}>
          Help
        </button>
        <button
          type="button"
          onClick={() => {
            void studio.refreshList();
            showDialog("editions");
          }}
        >
          Editions…
        </button>
        <button type="button" class="act" onClick={() => showDialog("start")}>
          Start an edition…
        </button>
      </div>
    </header>
  );
}
