// At a step whose minutes are the Route's for all pieces, measured time is held against the Route, and may go there.
import { commit } from "../../app/commands/commands";
import { showNumber } from "../../app/edition/format";
import { endTimer } from "../../app/keeping/bench-timer";
import type { Studio } from "../../app/keeping/studio";
import { rowOf } from "../../core/document/access";
import { ok } from "../../core/problem";
import { type BenchTimer, minutesOf } from "../../core/record/bench-timer";
import { rulesOf } from "../../core/sheets/step-kinds";
import { stepTitle, usualAmount } from "../../core/steps/piece-steps";
import { piecesOfTimer, takesMinutes } from "./timer-stop";

/** What was measured for one piece beside what the Route says; nothing where minutes are entered piece by piece. */
export function RouteMinutes({ studio, timer }: { readonly studio: Studio; readonly timer: BenchTimer }) {
  const session = studio.open?.session;
  const book = session?.book.value;
  const row = book && rowOf(book, "route", timer.step);
  if (!session || !book || !row || takesMinutes(book, timer.step)) return null;
  const time = rulesOf(row)?.time;
  const usual = typeof time === "object" ? usualAmount(row) : 1;
  const pieces = piecesOfTimer(book, timer).length;
  const each = minutesOf(timer.workedMs / (pieces * (typeof usual === "number" ? usual : 1)));
  const of = typeof time === "object" ? `a piece and ${time.each}` : "a piece";
  const was = row.cells.minutes;
  const shown = (minutes: number) => showNumber(minutes, 0, 1, session.formats.locale);
  const said = typeof was === "number" ? `the Route says ${shown(was)}` : "the Route says nothing";
  const take = () => {
    const label = `${stepTitle(book, row.id)}: ${each} minutes ${of} on the Route, as timed`;
    const operations = [{ kind: "cell", sheet: "route", row: row.id, column: "minutes", was, is: each } as const];
    if (each === was || commit(session, ok({ label, operations }), `${label}.`)) void endTimer(studio);
  };
  return (
    <>
      <span>
        {shown(each)} min {of}, {said}: it counts for every piece.
      </span>
      <button type="button" disabled={!(each > 0 && each <= 1440)} onClick={take}>
        Put {shown(each)} min on the Route
      </button>
    </>
  );
}
