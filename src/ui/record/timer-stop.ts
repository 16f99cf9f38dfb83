// What is done with the time of the bench timer: it goes to the Record page, to be read over and recorded there.
import { pauseTimer } from "../../app/keeping/bench-timer";
import type { Studio } from "../../app/keeping/studio";
import { rowOf } from "../../core/document/access";
import type { Workbook } from "../../core/document/workbook";
import { problem } from "../../core/problem";
import { type BenchTimer, minutesOf } from "../../core/record/bench-timer";
import { piecesAsText } from "../../core/record/choose-pieces";
import { amountOf, rulesOf } from "../../core/sheets/step-kinds";
import { recordWishOf } from "../edition/chosen";
import { showPage } from "../edition/go-to";

/** The pieces of a timer that are still on the sheet. */
export const piecesOfTimer = (book: Workbook, { pieces }: BenchTimer): readonly string[] =>
  pieces.filter((id) => rowOf(book, "pieces", id) !== undefined);

/** Whether minutes are entered piece by piece at a step; elsewhere they are the Route's for all pieces. */
export function takesMinutes(book: Workbook | undefined, step: string): boolean {
  const row = book && rowOf(book, "route", step);
  const rules = row && rulesOf(row);
  return rules !== undefined && amountOf(rules)?.column === "minutes";
}

/** Holds the timer and opens the Record page with its pieces, step and minutes; the timer goes once they are recorded. */
export async function stopTimer(studio: Studio): Promise<void> {
  if (studio.benchTimer.value?.since !== undefined && !(await pauseTimer(studio))) return;
  const timer = studio.benchTimer.value;
  if (!timer || !(await studio.openStored(timer.edition))) return;
  const { session } = studio.open ?? {};
  if (!session) return;
  const book = session.book.value;
  const pieces = piecesOfTimer(book, timer);
  if (!rowOf(book, "route", timer.step) || pieces.length === 0)
    return studio.report([
      problem({
        code: "timer.gone",
        where: "Bench timer",
        found: timer.what,
        allowed: "a step and pieces that are still there",
        fix: "Record the minutes by hand and discard the timer.",
      }),
    ]);
  session.chosen.value = piecesAsText(book, pieces);
  if (takesMinutes(book, timer.step)) {
    const amount = String(minutesOf(timer.workedMs)).replace(".", session.marks.decimal);
    recordWishOf(session).value = { act: "minutes", step: timer.step, amount, isTogether: true, isTimed: true };
  }
  showPage(session, "record");
}
