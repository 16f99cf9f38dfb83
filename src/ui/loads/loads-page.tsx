// Loads: which waiting pieces go into which kiln, as proposed and as the maker arranges it, until they become firings.
import { counted, plural } from "../../core/counted";
import "../shell/pages.css";
import "./loads.css";
import { useMemo, useState } from "preact/hooks";
import { dayName } from "../../app/edition/day-name";
import { shownAmount } from "../../app/edition/display";
import { moneyText } from "../../app/edition/money-text";
import type { Session } from "../../app/edition/session";
import type { Studio } from "../../app/keeping/studio";
import { firingName, stepsFiredAgain } from "../../app/loads/loads";
import { arrange, type LoadsBoard, loadsBoard, makeTheseFirings } from "../../app/loads/loads-board";
import { loadsState } from "../../app/loads/loads-state";
import { rowLabel } from "../../core/document/access";
import { choosePieces, namePieces } from "../../core/record/choose-pieces";
import { StepOptions } from "../controls/options";
import { PageWords } from "../controls/page-words";
import { SharedNotice } from "../shelf/shared-firings";
import { LoadCard, PieceChips } from "./load-card";
import { LoadMover } from "./load-mover";

/** The loads of the open edition. */
export function LoadsPage({ session, studio }: { readonly session: Session; readonly studio: Studio }) {
  const book = session.book.value;
  const version = session.valuesVersion.value;
  const state = loadsState(session);
  const { again, draft, kilnsLeftOut, firingsChosen } = state;
  const of = [book, version, again.value, draft.value, kilnsLeftOut.value, firingsChosen.value];
  const board = useMemo(() => loadsBoard(session), of);
  return (
    <article class="paper loads" id="sheet" tabIndex={-1} aria-label="Loads" data-testid="loads">
      <header>
        <h2>Loads</h2>
        <PageWords page="loads" />
      </header>
      <SharedNotice session={session} studio={studio} />
      {board ? (
        <Arranged session={session} board={board} />
      ) : (
        <p class="quiet">The sizes of the pieces are being calculated…</p>
      )}
    </article>
  );
}

interface BoardProps {
  readonly session: Session;
  readonly board: LoadsBoard;
}

function Arranged({ session, board }: BoardProps) {
  const [chosen, setChosen] = useState<ReadonlySet<string>>(new Set());
  const toggle = (row: string) => {
    const next = new Set(chosen);
    if (!next.delete(row)) next.add(row);
    setChosen(next);
  };
  const isEmpty = board.read.waiting.length === 0;
  return (
    <>
      <Waiting session={session} board={board} />
      <Choices session={session} board={board} />
      <Refused session={session} board={board} />
      {isEmpty ? null : (
        <>
          <div class="paper-tools">
            <button type="button" class="act" onClick={() => makeTheseFirings(session, board)}>
              Make these firings
            </button>
            <button type="button" disabled={!board.isArranged} onClick={() => arrange(session, undefined)}>
              As proposed again
            </button>
            <Together session={session} board={board} />
          </div>
          <LoadMover session={session} board={board} chosen={chosen} onMoved={() => setChosen(new Set())} />
        </>
      )}
      <div class="load-cards">
        {board.views.map((view) => (
          <LoadCard key={view.load.key} session={session} board={board} view={view} chosen={chosen} onToggle={toggle} />
        ))}
      </div>
      {board.left.length > 0 ? (
        <section class="load-left" aria-label="In no load">
          <h3>In no load</h3>
          <p class="quiet">These go on waiting.</p>
          <PieceChips session={session} pieces={board.left} chosen={chosen} onToggle={toggle} />
        </section>
      ) : null}
    </>
  );
}

/** What waits, step by step, in a sentence each. */
function Waiting({ session, board }: BoardProps) {
  const { waiting } = board.read;
  const book = session.book.value;
  const steps = book.sheets.route.rows.filter((row) => waiting.some(({ step }) => step === row.id));
  if (steps.length === 0)
    return <p class="words">No piece waits for a firing now. When some do, their loads are proposed here.</p>;
  return (
    <ul class="plain-list" data-testid="waiting">
      {steps.map((step) => {
        const pieces = waiting.filter((piece) => piece.step === step.id);
        const [first] = pieces;
        return (
          <li key={step.id}>
            <b>{rowLabel("route", step)}</b>, {first ? firingName(book, first.firing) : ""}: {pieces.length}{" "}
            {plural(pieces.length, "piece waits", "pieces wait")} (
            {namePieces(
              book,
              pieces.map(({ row }) => row),
            )}
            ).
          </li>
        );
      })}
    </ul>
  );
}

function Together({ session, board }: BoardProps) {
  const made = board.views.filter(({ pieces }) => pieces.length > 0);
  const isKnown = made.every(({ cost }) => cost !== undefined);
  const cost = made.reduce((sum, view) => sum + (view.cost ?? 0), 0);
  const count = made.reduce((sum, { pieces }) => sum + pieces.length, 0);
  const fresh = made.filter(({ load }) => load.tops === undefined).length;
  const firings = `${fresh} new ${plural(fresh, "firing")}`;
  return (
    <p class="words" data-testid="loads-sum" role="status">
      {made.length === 0
        ? "No load has a piece in it."
        : `${firings} for ${counted(count, "piece")}${isKnown ? `, ${moneyText(session, cost)} in all, ${moneyText(session, cost / Math.max(1, count))} a piece` : ""}.`}
    </p>
  );
}

function Refused({ session, board }: BoardProps) {
  if (board.refused.length === 0) return null;
  return (
    <div class="problem" role="alert" data-testid="refused">
      <b>{counted(board.refused.length, "piece goes", "pieces go")} into no kiln that may be used.</b>
      <ul>
        {board.refused.slice(0, 12).map(({ piece, reasons }) => (
          <li key={piece.id}>
            {piece.id}, {shownAmount(session, piece.heightCm, "cm", 1, 0)} tall:{" "}
            {reasons.length === 0
              ? "no kiln can fire it as its step says."
              : reasons.map(({ message }) => message).join(" ")}
          </li>
        ))}
      </ul>
    </div>
  );
}

/** Which kilns and planned firings may be used, and what is to be fired once more. */
function Choices({ session, board }: BoardProps) {
  const state = loadsState(session);
  const { locale } = session.formats;
  const leaveOut = (kiln: string, isOut: boolean) => {
    const next = new Set(state.kilnsLeftOut.value);
    if (isOut) next.add(kiln);
    else next.delete(kiln);
    state.kilnsLeftOut.value = next;
    arrange(session, undefined);
  };
  const fill = (row: string, may: boolean) => {
    state.firingsChosen.value = new Map(state.firingsChosen.value).set(row, may);
    arrange(session, undefined);
  };
  return (
    <div class="load-choices">
      <fieldset>
        <legend>Kilns to use</legend>
        {board.read.kilns.map(({ id, heightCm, capacity }) => (
          <label key={id}>
            <input
              type="checkbox"
              checked={!state.kilnsLeftOut.value.has(id)}
              onChange={(event) => leaveOut(id, !event.currentTarget.checked)}
            />
            {id}: {counted(capacity, "piece")}
            {heightCm === undefined ? "" : `, ${shownAmount(session, heightCm, "cm", 1, 0)} high`}
          </label>
        ))}
      </fieldset>
      {board.read.unread.length > 0 ? (
        <fieldset>
          <legend>Firings that may take more</legend>
          {board.read.unread.map((firing) => (
            <label key={firing.row}>
              <input
                type="checkbox"
                checked={board.filling.has(firing.row)}
                onChange={(event) => fill(firing.row, event.currentTarget.checked)}
              />
              {firing.name}, {firing.kiln}
              {firing.date === "" ? "" : `, ${dayName(firing.date, locale, "short")}`}: {firing.pieces.length}{" "}
              {plural(firing.pieces.length, "piece")}, meter not read
            </label>
          ))}
        </fieldset>
      ) : null}
      <FireAgain session={session} />
    </div>
  );
}

function FireAgain({ session }: { readonly session: Session }) {
  const { again } = loadsState(session);
  const book = session.book.value;
  const steps = stepsFiredAgain(book);
  const [typed, setTyped] = useState("");
  const [step, setStep] = useState(steps[0]?.id ?? "");
  if (steps.length === 0) return null;
  const add = () => {
    const found = choosePieces(book, typed);
    if (!found.ok) {
      session.refuse(found.problems);
      return;
    }
    const rest = again.value.filter(({ row }) => !found.value.includes(row));
    again.value = [...rest, ...found.value.map((row) => ({ row, step }))];
    arrange(session, undefined);
    setTyped("");
  };
  return (
    <fieldset>
      <legend>To be fired once more</legend>
      <div class="row">
        <input
          aria-label="Pieces to be fired once more"
          placeholder="such as 41-44, 60"
          value={typed}
          onInput={(event) => setTyped(event.currentTarget.value)}
        />
        <select aria-label="Step to be fired at" value={step} onChange={(event) => setStep(event.currentTarget.value)}>
          <StepOptions steps={steps} />
        </select>
        <button type="button" disabled={typed.trim() === ""} onClick={add}>
          Fire these once more
        </button>
      </div>
      {again.value.length > 0 ? (
        <p>
          {namePieces(
            book,
            again.value.map(({ row }) => row),
          )}{" "}
          <button
            type="button"
            class="plain"
            onClick={() => {
              again.value = [];
              arrange(session, undefined);
            }}
          >
            None of them after all
          </button>
        </p>
      ) : null}
    </fieldset>
  );
}
