// The bench timer of the studio: one for all editions and all tabs, kept with the settings of this browser, so that it goes on
// through a reload. What is stored is looked at before each press: another tab may have been quicker.

import { type Problem, problem } from "../../core/problem";
import { type BenchTimer, pausedTimer, runningTimer } from "../../core/record/bench-timer";
import type { Studio } from "./studio";

/** The time that timers are held against, ISO 8601. */
export const timeNow = (studio: Studio): string => studio.platform.now().toISOString();

/** Starts it for pieces of the open edition; false, and said, where one is there already or it can't be kept. */
export async function startTimer(studio: Studio, of: Pick<BenchTimer, "step" | "what" | "pieces">): Promise<boolean> {
  const edition = studio.editionId.value;
  const session = studio.session.value;
  if (edition === undefined || !session || of.pieces.length === 0) return false;
  await studio.readBenchTimer();
  const running = studio.benchTimer.value;
  if (running) {
    studio.report([runsAlready(running)]);
    return false;
  }
  const { title } = session.book.value.meta;
  return keepTimer(studio, { edition, title, ...of, workedMs: 0, since: timeNow(studio) });
}

function runsAlready({ what, title }: BenchTimer): Problem {
  return problem({
    code: "timer.one",
    where: "Bench timer",
    found: `one for ${what} of ${title}`,
    allowed: "one at a time",
    fix: "Record or discard that one first.",
  });
}

/** Holds it, or lets it go on; a timer that another tab has put away meanwhile is left alone. */
export function pauseTimer(studio: Studio, workedMs?: number): Promise<boolean> {
  return changeTimer(studio, (timer) => pausedTimer(timer, timeNow(studio), workedMs));
}

/** Lets it go on. */
export function resumeTimer(studio: Studio): Promise<boolean> {
  return changeTimer(studio, (timer) => runningTimer(timer, timeNow(studio)));
}

/** Puts it away, as when its minutes are recorded. */
export function endTimer(studio: Studio): Promise<boolean> {
  return keepTimer(studio, undefined);
}

async function changeTimer(studio: Studio, change: (timer: BenchTimer) => BenchTimer): Promise<boolean> {
  const seen = studio.benchTimer.value;
  await studio.readBenchTimer();
  const timer = studio.benchTimer.value;
  if (!timer) return false;
  // Another tab has paused it, let it go on or begun another: what is there now is shown, and pressed again if it is meant.
  if (JSON.stringify(seen) !== JSON.stringify(timer)) return false;
  return keepTimer(studio, change(timer));
}

async function keepTimer(studio: Studio, timer: BenchTimer | undefined): Promise<boolean> {
  const kept = await studio.home.preferences.set("benchTimer", timer);
  if (kept.ok) studio.benchTimer.value = timer;
  else studio.report(kept.problems);
  return kept.ok;
}
