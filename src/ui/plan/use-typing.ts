// Typing into a field of a cell: what is typed is written while the hand rests, as one step of the one undo stack.
import { useEffect, useRef, useState } from "preact/hooks";
import { editTextOf } from "../../app/edition/display";
import type { Session } from "../../app/edition/session";
import { enterFormula, keep, typeInto } from "../../app/plan/plan-typing";
import type { CellName } from "../../core/document/access";
import type { Change } from "../../core/document/change";
import { isExample } from "../../core/document/examples";

/** How long the hand may rest before what was typed so far is written, in milliseconds. */
const REST = 150;

/** What a field remembers of the typing in it. */
interface Typed {
  readonly text: string;
  /** What the cell held, as text, once the last of it was written: anything else came from elsewhere. */
  readonly held: string;
}

const NO_MESSAGE = { refused: "", notice: "" };

/** What stands in a field, and what typing does. */
export interface TypedField {
  readonly text: string;
  /** What the cell holds. */
  readonly held: string;
  /** Whether something is typed that is not finished. */
  readonly isOpen: boolean;
  readonly message: { readonly refused: string; readonly notice: string };
  /** Takes what the field holds now; it is written once the hand rests, if `isWritten`. */
  take(text: string, isWritten: boolean): void;
  /** Writes an entry as finished. */
  write(entry: string): void;
  /** Writes what is typed, as finished. */
  finish(): void;
  /** Forgets what is typed. */
  drop(): void;
}

/** Typing into the field of a cell. */
export function useTyping(session: Session, cell: CellName): TypedField {
  const [typed, setTyped] = useState<Typed | undefined>(undefined);
  const [message, setMessage] = useState(NO_MESSAGE);
  const step = useRef<Change | undefined>(undefined);
  const timer = useRef<ReturnType<typeof setTimeout> | undefined>(undefined);
  useEffect(() => () => clearTimeout(timer.current), []);
  const held = editTextOf(session, cell);
  const open = typed?.held === held ? typed : undefined;
  const write = (entry: string, when: "typing" | "finished") => {
    clearTimeout(timer.current);
    const isFinished = when === "finished";
    const isFormula = entry.trimStart().startsWith("=");
    if (isFormula && isFinished) void enterFormula(session, cell, entry);
    if (isFormula || (!isFinished && entry.trim() === "")) return;
    const came = typeInto(session, cell, entry, step.current);
    step.current = came.step;
    // Half a number may be no number yet: that is said once the field is left.
    if (isFinished || came.refused === "") setMessage(came);
    const isKept = isFinished && came.refused === "";
    setTyped(isKept ? undefined : { text: entry, held: editTextOf(session, cell) });
    if (!isKept) return;
    step.current = undefined;
    if (isExample(session.book.value, cell)) keep(session, [cell]);
  };
  const set = (text: string | undefined) => {
    setTyped(text === undefined ? undefined : { text, held: editTextOf(session, cell) });
    setMessage(NO_MESSAGE);
    clearTimeout(timer.current);
  };
  return {
    text: open?.text ?? held,
    held,
    isOpen: open !== undefined,
    message,
    take(text, isWritten) {
      set(text);
      if (isWritten) timer.current = setTimeout(() => write(text, "typing"), REST);
    },
    write: (entry) => write(entry, "finished"),
    finish() {
      if (open) write(open.text, "finished");
    },
    drop: () => set(undefined),
  };
}
