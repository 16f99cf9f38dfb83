import { useEffect, useState } from "preact/hooks";
import { openFile, rescueText, saveFile } from "../../app/keeping/file-commands";
import type { Studio } from "../../app/keeping/studio";
import { safetyOf } from "../../storage/keeping";
import { Dialog } from "../controls/dialog";
import { install } from "../shell/install";
import { closeDialog, copiesOf, showDialog } from "../shell/open-dialog";
import { BackupFile } from "./backup-file";

/** The editions kept in this browser, and files. */
export function EditionsDialog({ studio, openDemo }: { readonly studio: Studio; readonly openDemo: () => void }) {
  const [removing, setRemoving] = useState<string | undefined>(undefined);
  useEffect(() => void studio.refreshList(), []);
  const locale = studio.session.value?.formats.locale;
  return (
    <Dialog title="Editions" onClose={closeDialog}>
      <p class="quiet">
        Kept in this browser, on this device. A file is the only copy that outlives clearing the browser's data.
      </p>
      <Promised studio={studio} />
      <BackupFile studio={studio} />
      <ul class="list" data-testid="editions">
        {studio.editions.value.map((edition) => (
          <li key={edition.id}>
            <div>
              <b>{edition.title}</b>{" "}
              <span class="quiet">
                {edition.problem
                  ? edition.problem.message
                  : `${edition.pieces} pieces · ${new Date(edition.updatedAt).toLocaleString(locale, { dateStyle: "medium", timeStyle: "short" })}`}
                {edition.id === studio.editionId.value ? " · open" : ""}
              </span>
            </div>
            <button
              type="button"
              onClick={() => {
                copiesOf.value = edition.id;
                showDialog("copies");
              }}
            >
              Copies…<span class="unseen"> of {edition.title}</span>
            </button>
            {edition.problem ? (
              <button type="button" onClick={() => void rescueText(studio, edition.id)}>
                {edition.problem.code === "store.newer" ? "Save it as a file" : "Save what is left as a file"}
              </button>
            ) : edition.id === studio.editionId.value ? null : (
              <button
                type="button"
                onClick={() => {
                  closeDialog();
                  void studio.openStored(edition.id);
                }}
              >
                Open<span class="unseen"> {edition.title}</span>
              </button>
            )}
            {edition.id === studio.editionId.value ? null : removing === edition.id ? (
              <button
                type="button"
                class="act"
                onClick={() => void studio.remove(edition.id).then(() => setRemoving(undefined))}
              >
                Remove it for good
              </button>
            ) : (
              <button type="button" class="plain" onClick={() => setRemoving(edition.id)}>
                Remove…<span class="unseen"> {edition.title}</span>
              </button>
            )}
          </li>
        ))}
      </ul>
      <div class="actions" style={{ justifyContent: "flex-start" }}>
        <button type="button" onClick={() => showDialog("start")}>
          Start an edition…
        </button>
        <button
          type="button"
          onClick={() => {
            closeDialog();
            void openFile(studio);
          }}
        >
          Open a file…
        </button>
        <button
          type="button"
          onClick={() => {
            closeDialog();
            void saveFile(studio);
          }}
        >
          Save this one as a file
        </button>
        <button
          type="button"
          onClick={() => {
            closeDialog();
            openDemo();
          }}
        >
          A fresh demo edition
        </button>
        <button type="button" onClick={closeDialog}>
          Close
        </button>
      </div>
    </Dialog>
  );
}

/** Whether the browser promised not to clear what is stored, and a way to ask. */
function Promised({ studio }: { readonly studio: Studio }) {
  const keeping = studio.keeping.value;
  if (studio.refused.value.length > 0) return null;
  return (
    <p class="row" data-testid="promise">
      <span role="status">{keeping === undefined ? "" : safetyOf(keeping, studio.world.clearsUnvisited)}</span>
      {keeping === "kept" ? null : (
        <button type="button" onClick={() => void studio.askToKeep()}>
          Ask the browser to keep it
        </button>
      )}
      {install.value === undefined ? null : (
        <button type="button" onClick={() => void install.value?.()}>
          Install Saggar
        </button>
      )}
    </p>
  );
}
