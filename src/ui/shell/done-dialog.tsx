// What was done, step by step: where the edition stands among it, and one press to stand elsewhere. It works on the one undo
// stack, so that Undo and Redo go on from there.
import { momentText, withDaysWritten } from "../../app/edition/written-days";
import "./done.css";
import { useLayoutEffect, useRef, useState } from "preact/hooks";
import { type DoneLine, doneLines, goToLine } from "../../app/commands/what-was-done";
import type { Session } from "../../app/edition/session";
import { CloseActions, Dialog } from "../controls/dialog";
import { closeDialog } from "./open-dialog";

const KEYS: Readonly<Record<string, number>> = { ArrowDown: 1, ArrowUp: -1, PageDown: 10, PageUp: -10 };

/** The dialog of what was done. */
export function DoneDialog({ session }: { readonly session: Session }) {
  const history = session.history.value;
  const [message, setMessage] = useState("");
  const list = useRef<HTMLOListElement>(null);
  const lines = doneLines(history);
  const now = lines.findIndex(({ by }) => by === 0);
  const [reached, setReached] = useState(now);
  useLayoutEffect(() => {
    const button = list.current?.querySelector<HTMLElement>("[aria-current]");
    button?.focus();
    button?.scrollIntoView({ block: "center" });
  }, []);
  const move = (to: number) => {
    const at = Math.max(0, Math.min(lines.length - 1, to));
    setReached(at);
    list.current?.querySelectorAll("button")[at]?.focus();
  };
  const readOnly = session.readOnly.value;
  const { locale } = session.formats;
  return (
    <Dialog title="What was done" onClose={closeDialog}>
      <p class="quiet">
        The newest stands first. Press a line, and the edition is as it was right after it; nothing is lost by going
        back until you change something else. Arrow keys move, Enter goes there.
      </p>
      <p role="status">{readOnly ? `Nothing can be undone for now: ${readOnly.why}. ${readOnly.fix}` : message}</p>
      <ol
        class="done-list"
        reversed
        ref={list}
        onKeyDown={(event) => {
          const by = KEYS[event.key];
          if (by !== undefined) move(reached + by);
          else if (event.key === "Home") move(0);
          else if (event.key === "End") move(lines.length - 1);
          else return;
          event.preventDefault();
        }}
      >
        {lines.map((line, at) => (
          <Line
            key={lines.length - at}
            line={line}
            label={line.label && withDaysWritten(line.label, locale)}
            when={line.at === undefined ? "" : momentText(line.at, locale)}
            cut={history.cut === undefined ? undefined : momentText(history.cut, locale)}
            isReached={at === Math.min(reached, lines.length - 1)}
            onGo={() => {
              setReached(at);
              setMessage(goToLine(session, line) ?? "");
            }}
          />
        ))}
      </ol>
      <CloseActions onClose={closeDialog} />
    </Dialog>
  );
}

interface LineProps {
  readonly line: DoneLine;
  /** Its name, with days written out. */
  readonly label: string | undefined;
  readonly when: string;
  /** Up to when what was done can't be undone. */
  readonly cut: string | undefined;
  readonly isReached: boolean;
  readonly onGo: () => void;
}

function Line({ line: { isUndone, by }, label, when, cut, isReached, onGo }: LineProps) {
  const isNow = by === 0;
  const lead = isNow ? "You are here" : by < 0 ? "Back to here" : "Undone; redo to here";
  return (
    <li>
      <button
        type="button"
        class={isUndone ? "undone" : undefined}
        aria-current={isNow ? "step" : undefined}
        tabIndex={isReached ? 0 : -1}
        onClick={onGo}
      >
        <b>{label ?? "Before all of these"}</b>
        <small>
          {isNow ? "▸ " : ""}
          {lead}
          {when === "" ? "" : ` · ${when}`}
          {label === undefined && cut !== undefined ? ` · What was done up to ${cut} can’t be undone any more` : ""}
        </small>
      </button>
    </li>
  );
}
