// The whole studio in one file: saved, and brought back edition by edition.
import { useEffect, useState } from "preact/hooks";
import { momentText } from "../../app/edition/written-days";
import type { Studio } from "../../app/keeping/studio";
import { progressWords, StudioFile } from "../../app/keeping/studio-file";
import {
  compareStudio,
  type FoundEdition,
  type FoundState,
  type Restored,
  type RestoreWish,
  restoreStudio,
  WISHES,
} from "../../app/keeping/studio-restore";
import { counted, listed } from "../../core/counted";
import type { Problem } from "../../core/problem";
import type { CsvClient, Progress } from "../../csv/client";
import { chooseFile, STUDIO_FILE } from "../../storage/files";
import "./edition-row.css";
import { Dialog } from "../controls/dialog";
import { closeDialog } from "../shell/open-dialog";

/** What is said of an edition in each state. */
const STATE_WORDS: Readonly<Record<FoundState, string>> = {
  new: "not in this browser",
  same: "the same here",
  newer: "went on after what is here",
  older: "older than what is here",
  conflicting: "differs from what is here, and neither follows from the other",
  deleted: "deleted here",
  "damaged here": "damaged here",
  unreadable: "can’t be opened",
};

const WISH_WORDS: Readonly<Record<RestoreWish, string>> = {
  leave: "Leave it",
  bring: "Bring it back",
  replace: "Put it in the place of what is here; a copy of that is kept",
  beside: "Keep it beside what is here",
};

/** A file that was read, waiting for what is to be done with it. */
interface Read {
  readonly name: string;
  readonly at: string;
  readonly found: readonly FoundEdition[];
}

/** Saving and bringing back. */
export function StudioFileDialog({ studio }: { readonly studio: Studio }) {
  const [file] = useState(() => new StudioFile(studio));
  const [client] = useState(() => studio.platform.startCsv());
  const [progress, setProgress] = useState("");
  const [problems, setProblems] = useState<readonly Problem[]>([]);
  const [read, setRead] = useState<Read | undefined>(undefined);
  const [restored, setRestored] = useState<Restored | undefined>(undefined);
  const stop = () => {
    file.stop();
    client.cancel();
    setProgress("");
  };
  useEffect(() => stop, []);
  const shown = file.progress.value ? progressWords(file.progress.value) : progress;
  const allProblems = [...file.problems.value, ...problems];
  const open = async () => {
    setRestored(undefined);
    const outcome = await readStudio(studio, client, (one) => setProgress(progressWords(one)));
    setProgress("");
    if (!outcome) return;
    setProblems("problems" in outcome ? outcome.problems : []);
    setRead("problems" in outcome ? undefined : outcome);
  };
  return (
    <Dialog title="The whole studio in one file" onClose={closeDialog} isWide>
      <p class="quiet">
        Every edition, the archive, the shelf and your templates, as they are now; deleted ones are left out. Keep the
        file elsewhere than on this device.
      </p>
      {allProblems.map(({ message }) => (
        <p class="problem" role="alert" key={message}>
          {message}
        </p>
      ))}
      {file.leftOut.value.length > 0 ? (
        <p role="alert">Left out, since they can’t be read: {listed(file.leftOut.value)}.</p>
      ) : null}
      {shown !== "" ? (
        <p class="row">
          <span role="status">{shown}</span>
          <button type="button" onClick={stop}>
            Stop
          </button>
        </p>
      ) : null}
      <div class="actions" style={{ justifyContent: "flex-start" }}>
        <button
          type="button"
          class="act"
          disabled={shown !== ""}
          onClick={() =>
            void file.save().then((isSaved) => isSaved && file.leftOut.value.length === 0 && closeDialog())
          }
        >
          Save it…
        </button>
        <button type="button" disabled={shown !== ""} onClick={() => void open()}>
          Bring back from a file…
        </button>
        <button type="button" onClick={closeDialog}>
          Close
        </button>
      </div>
      {restored ? <Done restored={restored} /> : null}
      {read ? (
        <Preview
          key={read.name}
          studio={studio}
          read={read}
          isBusy={shown !== ""}
          onRestore={async (wished) => {
            const onProgress = (done: number, of: number) => setProgress(`Bringing back ${done + 1} of ${of}…`);
            setRestored(await restoreStudio(studio, client, read.at, wished, onProgress));
            setProgress("");
            setRead(undefined);
          }}
        />
      ) : null}
    </Dialog>
  );
}

/** Asks for a file and holds it against what is kept; undefined where none was chosen or it was stopped. */
async function readStudio(
  studio: Studio,
  client: CsvClient,
  onProgress: (progress: Progress) => void,
): Promise<Read | { readonly problems: readonly Problem[] } | undefined> {
  const chosen = await chooseFile(STUDIO_FILE);
  if (!chosen.ok) return chosen;
  if (!chosen.value) return undefined;
  const { name } = chosen.value;
  const answer = await client.ask({ kind: "studio", file: chosen.value, name }, onProgress);
  if (answer.kind === "cancelled") return undefined;
  if (answer.kind === "refused") return answer;
  return { name, at: answer.value.at, found: await compareStudio(studio, answer.value) };
}

interface PreviewProps {
  readonly studio: Studio;
  readonly read: Read;
  readonly isBusy: boolean;
  readonly onRestore: (wished: readonly (readonly [FoundEdition, RestoreWish])[]) => Promise<void>;
}

function Preview({ studio, read, isBusy, onRestore }: PreviewProps) {
  const { locale } = studio.platform;
  const [wishes, setWishes] = useState<ReadonlyMap<number, RestoreWish>>(new Map());
  const wishOf = ({ index, state }: FoundEdition) => wishes.get(index) ?? WISHES[state][0];
  const count = read.found.filter((found) => wishOf(found) !== "leave").length;
  return (
    <section class="in-file" aria-label={`What ${read.name} holds`} data-testid="studio-preview">
      <p>
        <b>{read.name}</b>, saved {momentText(read.at, locale)}. Nothing here has changed yet.
      </p>
      <ul class="list editions">
        {read.found.map((found) => {
          const { packed, state, here, index } = found;
          return (
            <li key={packed.id}>
              <div class="from-file">
                <b>{packed.title}</b>
                <span class="quiet">
                  {counted(packed.pieces, "piece")}, {momentText(packed.updatedAt, locale)} in the file
                  {here && !here.problem
                    ? `; ${counted(here.pieces, "piece")}, ${momentText(here.updatedAt, locale)} here`
                    : ""}
                </span>
                <span>{STATE_WORDS[state]}</span>
                {packed.problems.slice(0, 1).map(({ message }) => (
                  <span key={message}>{message}</span>
                ))}
              </div>
              {WISHES[state].length === 1 ? null : (
                <select
                  aria-label={`What to do with ${packed.title}`}
                  disabled={isBusy}
                  onChange={(event) => {
                    const wish = WISHES[state][event.currentTarget.selectedIndex];
                    if (wish) setWishes(new Map(wishes).set(index, wish));
                  }}
                >
                  {WISHES[state].map((wish) => (
                    <option key={wish}>{WISH_WORDS[wish]}</option>
                  ))}
                </select>
              )}
            </li>
          );
        })}
      </ul>
      <div class="actions" style={{ justifyContent: "flex-start" }}>
        <button
          type="button"
          class="act"
          disabled={count === 0 || isBusy}
          onClick={() => void onRestore(read.found.map((found) => [found, wishOf(found)] as const))}
        >
          {count === 0 ? "Nothing to bring back" : `Do this for ${counted(count, "edition")}`}
        </button>
      </div>
    </section>
  );
}

function Done({ restored: { done, problems } }: { readonly restored: Restored }) {
  return (
    <div role="status" data-testid="studio-restored">
      <p>{done.length === 0 ? "Nothing was brought back." : `Brought back: ${listed(done)}.`}</p>
      {problems.map(({ message }) => (
        <p class="problem" key={message}>
          {message}
        </p>
      ))}
    </div>
  );
}
