// How things stand with saving and calculating, in the header: short, and true.

import { useEffect, useState } from "preact/hooks";
import type { EngineState } from "../../app/edition/calculation";
import type { Session } from "../../app/edition/session";
import { clockText } from "../../app/edition/written-days";
import type { Studio } from "../../app/keeping/studio";
import type { SaveState } from "../../storage/autosave";

function saveText(state: SaveState): string {
  switch (state.kind) {
    case "loading":
      return "Opening…";
    case "saved":
      return state.at === "" ? "Saved" : `Saved ${clockText(state.at)}`;
    case "waiting":
    case "saving":
      return "Saving…";
    case "failed":
      return "Not saved";
  }
}

/** Whether the edition is saved, and where not, why. */
export function Saving({ studio }: { readonly studio: Studio }) {
  const state = studio.saveState.value;
  const text = studio.preview.value
    ? "An earlier copy"
    : studio.lock.value === "following"
      ? "Follows another tab"
      : studio.refused.value.length > 0
        ? "Kept only while this page is open"
        : saveText(state);
  return (
    <span
      class={state.kind === "failed" || studio.refused.value.length > 0 ? "unsaved" : "quiet"}
      role="status"
      data-testid="save-state"
      title={state.kind === "failed" ? state.problems[0]?.message : undefined}
    >
      {text}
    </span>
  );
}

/** A calculation of this length may be stopped: nothing that is left alone takes so long, but the largest editions. */
const MAY_STOP_MS = 5000;

/** What each state of calculating is called. */
const STATE_WORDS: Readonly<Record<Exclude<EngineState, "ready">, string>> = {
  starting: "Calculating…",
  working: "Calculating…",
  checking: "Checking…",
  searching: "A formula takes too long: looking for it…",
  failed: "Not calculating",
};

/** That the engine is at work, and after a while a way to stop it. */
export function Calculating({ session }: { readonly session: Session }) {
  const [isLong, setLong] = useState(false);
  const state = session.engineState.value;
  const isFailed = state === "failed";
  const isSearching = state === "searching";
  useEffect(() => {
    setLong(false);
    if (isFailed) return;
    const timer = setTimeout(() => setLong(true), MAY_STOP_MS);
    return () => clearTimeout(timer);
  }, [session, isFailed]);
  return (
    <>
      <span class="quiet" role="status">
        {state === "ready" ? STATE_WORDS.working : STATE_WORDS[state]}
      </span>
      {(isLong || isSearching) && !isFailed ? (
        <button type="button" onClick={() => session.stopCalculating()}>
          Stop
        </button>
      ) : null}
    </>
  );
}
