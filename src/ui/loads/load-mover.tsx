// Moves pieces between loads: chosen by their numbers or by clicking on them, by keyboard and pointer alike.
import { useState } from "preact/hooks";
import type { Session } from "../../app/edition/session";
import { type LoadsBoard, moveTo } from "../../app/loads/loads-board";
import type { Target } from "../../app/loads/loads-draft";
import { choosePieces, namePieces } from "../../core/record/choose-pieces";

interface MoverProps {
  readonly session: Session;
  readonly board: LoadsBoard;
  readonly chosen: ReadonlySet<string>;
  readonly onMoved: () => void;
}

/** The line that says which pieces go where. */
export function LoadMover({ session, board, chosen, onMoved }: MoverProps) {
  const [typed, setTyped] = useState("");
  const [to, setTo] = useState("new");
  const book = session.book.value;
  const isTyped = typed.trim() !== "";
  const target: Target = to === "new" || to === "wait" ? to : Number(to);
  const move = () => {
    const found = isTyped ? choosePieces(book, typed) : { ok: true as const, value: [...chosen] };
    if (!found.ok) {
      session.refuse(found.problems);
      return;
    }
    if (!moveTo(session, board, new Set(found.value), target)) return;
    setTyped("");
    onMoved();
  };
  return (
    <form
      class="load-mover"
      aria-label="Move pieces"
      onSubmit={(event) => {
        event.preventDefault();
        move();
      }}
    >
      <label>
        <span>Move pieces</span>
        <input
          placeholder={chosen.size > 0 ? namePieces(book, [...chosen]) : "numbers, or click on pieces below"}
          value={typed}
          onInput={(event) => setTyped(event.currentTarget.value)}
        />
      </label>
      <label>
        <span>to</span>
        <select value={to} onChange={(event) => setTo(event.currentTarget.value)}>
          {board.draft.loads.map((load) => (
            <option key={load.key} value={String(load.key)}>
              {load.name}, {load.kiln}
            </option>
          ))}
          <option value="new">a load of their own</option>
          <option value="wait">no load</option>
        </select>
      </label>
      <button type="submit" disabled={!isTyped && chosen.size === 0}>
        Move
      </button>
      {chosen.size > 0 && !isTyped ? (
        <span class="quiet" role="status">
          {chosen.size} chosen
        </span>
      ) : null}
    </form>
  );
}
