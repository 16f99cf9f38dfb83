import { useEffect, useState } from "preact/hooks";
import { openFile, saveFile } from "../../app/keeping/file-commands";
import type { Studio } from "../../app/keeping/studio";
import { KEPT_DAYS, purgeDeleted } from "../../app/keeping/studio-editions";
import type { EditionStatus, EditionSummary } from "../../storage/edition-store";
import { safetyOf } from "../../storage/keeping";
import { Dialog } from "../controls/dialog";
import { install } from "../shell/install";
import { closeDialog, showDialog } from "../shell/open-dialog";
import { BackupFile } from "./backup-file";
import { EditionRow } from "./edition-row";

/** Where editions are that are not worked on. */
const STATUSES: readonly (readonly [status: EditionStatus, title: string, words: string])[] = [
  ["shelf", "The studio’s shelf", "Kilns, materials, prices and more that all editions share."],
  [
    "template",
    "Templates of your own",
    "Offered when an edition is started. What you change in one is there the next time.",
  ],
  ["archived", "Archive", "Kept as they are, out of the way."],
  ["deleted", "Deleted", `Kept for ${KEPT_DAYS} days, then removed for good with their copies.`],
];

/** The editions kept in this browser, and files. */
export function EditionsDialog({ studio, openDemo }: { readonly studio: Studio; readonly openDemo: () => void }) {
  const [opened, setOpened] = useState<string | undefined>(undefined);
  useEffect(() => void purgeDeleted(studio), []);
  const all = studio.editions.value;
  const rows = (editions: readonly EditionSummary[]) =>
    editions.map((edition) => (
      <EditionRow
        key={edition.id}
        studio={studio}
        edition={edition}
        isOpened={opened === edition.id}
        onMore={() => setOpened(opened === edition.id ? undefined : edition.id)}
      />
    ));
  return (
    <Dialog title="Editions" onClose={closeDialog}>
      <p class="quiet">
        Kept in this browser, on this device. A file is the only copy that outlives clearing the browser's data.
      </p>
      <Promised studio={studio} />
      <BackupFile studio={studio} />
      <ul class="list editions" data-testid="editions">
        {rows(all.filter(({ mark }) => mark === undefined))}
      </ul>
      {STATUSES.map(([status, title, words]) => {
        const there = all.filter(({ mark }) => mark?.as === status);
        return there.length === 0 ? null : (
          <details key={status} data-testid={`editions-${status}`}>
            <summary>
              {title} ({there.length})
            </summary>
            <p class="quiet">{words}</p>
            <ul class="list editions">{rows(there)}</ul>
          </details>
        );
      })}
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
        <button type="button" onClick={() => showDialog("studio")}>
          The whole studio in one file…
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
        <button
          type="button"
          onClick={() => {
            closeDialog();
            void import("../../app/demo/sister").then(({ sisterEdition }) => studio.openNew(sisterEdition()));
          }}
        >
          Its sister, in the same kiln
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
      <span role="status">{keeping === undefined ? "" : safetyOf(keeping, studio.platform.clearsUnvisited)}</span>
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
