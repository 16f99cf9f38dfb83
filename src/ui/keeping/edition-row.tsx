// An edition in the list of those that are kept, and what can be done with it as a whole.

import { momentText } from "../../app/edition/written-days";
import { counted } from "../../core/counted";
import "./edition-row.css";
import { useState } from "preact/hooks";
import { rescueText } from "../../app/keeping/file-commands";
import type { Studio } from "../../app/keeping/studio";
import { duplicateEdition, goneOn, keepAsTemplate, putEdition, renameEdition } from "../../app/keeping/studio-editions";
import type { EditionStatus, EditionSummary } from "../../storage/edition-store";
import { TextField } from "../controls/fields";
import { closeDialog, copiesOf, showDialog, startFromWish } from "../shell/open-dialog";

interface Props {
  readonly studio: Studio;
  readonly edition: EditionSummary;
  readonly isOpened: boolean;
  /** Shows or hides what else can be done with it. */
  readonly onMore: () => void;
}

/** What a status is left by, in words. */
const BACK: Readonly<Record<Exclude<EditionStatus, "shelf">, string>> = {
  archived: "Back from the archive",
  template: "Keep it as an edition",
  deleted: "Bring it back",
};

export function EditionRow({ studio, edition, isOpened, onMore }: Props) {
  const { id, title, problem, mark } = edition;
  const isOpen = id === studio.editionId.value;
  const of = <span class="unseen"> {title}</span>;
  return (
    <li class={isOpened ? "opened" : undefined}>
      <div>
        <b>{title}</b> <span class="quiet">{wordsOf(studio, edition)}</span>
      </div>
      <span class="acts">
        {mark?.as === "deleted" ? (
          <button type="button" onClick={() => void putEdition(studio, id, undefined)}>
            {BACK.deleted}
            {of}
          </button>
        ) : (
          <button
            type="button"
            onClick={() => {
              copiesOf.value = id;
              showDialog("copies");
            }}
          >
            Copies…<span class="unseen"> of {title}</span>
          </button>
        )}
        {problem ? (
          <button type="button" onClick={() => void rescueText(studio, id)}>
            {problem.code === "store.newer" ? "Save it as a file" : "Save what is left as a file"}
          </button>
        ) : isOpen || mark?.as === "deleted" ? null : (
          <button
            type="button"
            onClick={() => {
              closeDialog();
              void studio.openStored(id);
            }}
          >
            Open{of}
          </button>
        )}
        {mark?.as === "shelf" ? null : problem || mark?.as === "deleted" ? (
          isOpen ? null : (
            <RemoveForGood studio={studio} edition={edition} />
          )
        ) : (
          <button type="button" class="plain" aria-expanded={isOpened} onClick={onMore}>
            More<span class="unseen"> to do with {title}</span>
          </button>
        )}
      </span>
      {isOpened ? <More studio={studio} edition={edition} isOpen={isOpen} onDone={onMore} /> : null}
    </li>
  );
}

function wordsOf(studio: Studio, { id, problem, pieces, updatedAt, mark }: EditionSummary): string {
  const locale = studio.session.value?.formats.locale;
  if (problem) return problem.message;
  if (mark?.as === "deleted")
    return `deleted on ${momentText(mark.since, locale)}, can be brought back until ${momentText(goneOn(mark).toISOString(), locale)}`;
  if (mark?.as === "shelf") return `last changed ${momentText(updatedAt, locale)}`;
  if (mark?.as === "template") return `kept on ${momentText(mark.since, locale)}`;
  const open = id === studio.editionId.value ? " · open" : "";
  return `${counted(pieces, "piece")} · ${momentText(updatedAt, locale)}${open}`;
}

function RemoveForGood({ studio, edition: { id, title } }: Pick<Props, "studio" | "edition">) {
  const [asks, setAsks] = useState(false);
  return asks ? (
    <button type="button" class="act" onClick={() => void studio.remove(id)}>
      Remove it for good
    </button>
  ) : (
    <button type="button" class="plain" onClick={() => setAsks(true)}>
      Remove…<span class="unseen"> {title}</span>
    </button>
  );
}

interface MoreProps extends Pick<Props, "studio" | "edition"> {
  readonly isOpen: boolean;
  readonly onDone: () => void;
}

/** What is done with an edition less often. */
function More({ studio, edition: { id, title, mark }, isOpen, onDone }: MoreProps) {
  const [name, setName] = useState(title);
  const put = (as: EditionStatus | undefined) => {
    onDone();
    void putEdition(studio, id, as);
  };
  const act = (words: string, run: () => void) => (
    <button type="button" onClick={run}>
      {words}
    </button>
  );
  return (
    <section class="more" aria-label={`What else can be done with ${title}`}>
      <form
        class="row"
        onSubmit={(event) => {
          event.preventDefault();
          void renameEdition(studio, id, name).then((isDone) => isDone && onDone());
        }}
      >
        <TextField label="Its name" name="rename" required maxLength={200} value={name} onText={setName} />
        <button type="submit" disabled={name.trim() === "" || name.trim() === title}>
          Rename
        </button>
      </form>
      <div class="row">
        {act("Start the next one from it…", () => {
          startFromWish.value = id;
          showDialog("start");
        })}
        {act("Duplicate", () => {
          onDone();
          void duplicateEdition(studio, id);
        })}
        {mark?.as === "template"
          ? null
          : act("Keep as a template", () => {
              onDone();
              void keepAsTemplate(studio, id);
            })}
        {mark && mark.as !== "shelf"
          ? act(BACK[mark.as], () => put(undefined))
          : isOpen
            ? null
            : act("Archive", () => put("archived"))}
        {isOpen ? null : act("Delete", () => put("deleted"))}
      </div>
      {isOpen ? <p class="quiet">It is open: to archive or delete it, open another one first.</p> : null}
    </section>
  );
}
