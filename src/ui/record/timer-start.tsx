// Starting the bench timer for the step in hand and the chosen pieces.
import type { Session } from "../../app/edition/session";
import { startTimer } from "../../app/keeping/bench-timer";
import type { Studio } from "../../app/keeping/studio";
import { rowOf } from "../../core/document/access";
import { namePieces } from "../../core/record/choose-pieces";
import { rulesOf } from "../../core/sheets/step-kinds";
import { stepTitle } from "../../core/steps/piece-steps";

interface Props {
  readonly studio: Studio;
  readonly session: Session;
  readonly step: string;
  readonly chosen: readonly string[];
}

/** The press that starts it, where work at the step is timed; nothing while there is one already, which says so itself. */
export function TimerStart({ studio, session, step, chosen }: Props) {
  const book = session.book.value;
  const row = rowOf(book, "route", step);
  const isKept = session === studio.open?.session;
  if (!isKept || studio.benchTimer.value || !row || rulesOf(row)?.time === undefined) return null;
  const title = stepTitle(book, step);
  return (
    <p class="row timer-start">
      <button
        type="button"
        disabled={chosen.length === 0}
        onClick={() => void startTimer(studio, { step, pieces: chosen, what: `${title}: ${namePieces(book, chosen)}` })}
      >
        Start the bench timer: {title}
      </button>
      {chosen.length === 0 ? <small class="quiet">Choose the pieces that are worked on first.</small> : null}
    </p>
  );
}
