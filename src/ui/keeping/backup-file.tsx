// A file that is kept up to date by itself: where it stands in words, and what can be done.
import { momentText } from "../../app/edition/written-days";
import type { Backup as State } from "../../app/keeping/backup";
import { bringBackup, endBackup, startBackup } from "../../app/keeping/backup-file";
import type { Studio } from "../../app/keeping/studio";

/** What is said where the file waits for the maker, and what the button says. */
const WAITS: Readonly<Partial<Record<State["kind"], readonly [why: string, button: string]>>> = {
  "not permitted": [
    "The browser has to be asked again before this page may write to it.",
    "Bring the backup file up to date",
  ],
  "changed elsewhere": [
    "Something else has changed that file since, so it was left alone.",
    "Write over it all the same",
  ],
  failed: ["", "Try again"],
};

/** Why the backup file is behind, with what to do; nothing while it needs nobody. */
export function BackupBehind({ studio }: { readonly studio: Studio }) {
  const backup = studio.backup.value;
  const words = backup?.waits ? WAITS[backup.kind] : undefined;
  if (!backup || !words) return null;
  const [why, button] = words;
  return (
    <>
      <p>
        <b>The backup file {backup.name} is behind.</b>{" "}
        {backup.at === ""
          ? ""
          : `It holds the edition as it was on ${momentText(backup.at, studio.session.value?.formats.locale)}. `}
        {why} {backup.problems[0]?.message}
      </p>
      <button type="button" onClick={() => void bringBackup(studio)}>
        {button}
      </button>
      <button type="button" onClick={() => void startBackup(studio)}>
        Keep another file…
      </button>
      <button type="button" onClick={() => void endBackup(studio)}>
        Keep no backup file
      </button>
    </>
  );
}

/** In the list of editions: starts one for the open edition, says how it stands, and ends it. */
export function BackupFile({ studio }: { readonly studio: Studio }) {
  const backup = studio.backup.value;
  if (!("showSaveFilePicker" in window) || studio.lock.value === "following") return null;
  if (backup?.waits)
    return (
      <div class="row" data-testid="backup">
        <BackupBehind studio={studio} />
      </div>
    );
  const when = backup && backup.at !== "" ? momentText(backup.at, studio.session.value?.formats.locale) : "";
  return (
    <p class="row" data-testid="backup">
      <span role="status">
        {backup === undefined
          ? "A backup file of the open edition outlives this browser. It is brought up to date some seconds after each edit, while this page is open."
          : backup.kind === "due"
            ? `Backup file ${backup.name}: it gets the last edits in a moment.`
            : `Backup file ${backup.name}: up to date, written on ${when}.`}
      </span>
      {backup === undefined ? (
        <button type="button" onClick={() => void startBackup(studio)}>
          Keep a backup file…
        </button>
      ) : (
        <button type="button" onClick={() => void endBackup(studio)}>
          Keep it no longer
        </button>
      )}
    </p>
  );
}
