// The bench timer above whatever page is shown: how long it has run, and what can be done with it.
import "../keeping/keeping.css";
import { useEffect, useState } from "preact/hooks";
import { momentText } from "../../app/edition/written-days";
import { endTimer, pauseTimer, resumeTimer, timeNow } from "../../app/keeping/bench-timer";
import type { Studio } from "../../app/keeping/studio";
import { type BenchTimer, isForgotten, minutesOf, stopwatchText, workedBy } from "../../core/record/bench-timer";
import { RouteMinutes } from "./route-minutes";
import { stopTimer, takesMinutes } from "./timer-stop";

interface Props {
  readonly studio: Studio;
  readonly timer: BenchTimer;
}

/** The strip of a timer. */
export function TimerStrip({ studio, timer }: Props) {
  const now = useNow(studio, timer.since !== undefined);
  const isOther = timer.edition !== studio.editionId.value;
  const of = `${timer.what}${isOther ? `, of ${timer.title}` : ""}`;
  if (isForgotten(timer, now)) return <Forgotten studio={studio} timer={timer} of={of} now={now} />;
  const isRunning = timer.since !== undefined;
  return (
    <section class="keeping" aria-label="Bench timer">
      <div class="line" data-testid="bench-timer">
        <p>
          <b role="timer">{stopwatchText(workedBy(timer, now))}</b> {isRunning ? "" : "paused · "}
          {of}
        </p>
        {isRunning ? (
          <button type="button" onClick={() => void pauseTimer(studio)}>
            Pause<span class="unseen"> the bench timer</span>
          </button>
        ) : (
          <button type="button" onClick={() => void resumeTimer(studio)}>
            Go on<span class="unseen"> with the bench timer</span>
          </button>
        )}
        {isOther || takesMinutes(studio.open?.session.book.value, timer.step) ? (
          <button type="button" onClick={() => void stopTimer(studio)}>
            {isRunning ? "Stop and record…" : "Record…"}
          </button>
        ) : null}
        {isRunning ? null : <Discard studio={studio} />}
        {isRunning || isOther ? null : <RouteMinutes studio={studio} timer={timer} />}
      </div>
    </section>
  );
}

/** The time, anew every second while it runs; what another tab did is seen every few seconds. */
function useNow(studio: Studio, isRunning: boolean): string {
  const [now, setNow] = useState(timeNow(studio));
  useEffect(() => {
    const { platform } = studio;
    let count = 0;
    let timer: number | undefined;
    const tick = () => {
      count += 1;
      if (isRunning) setNow(timeNow(studio));
      if (count % 3 === 0) void studio.readBenchTimer();
      timer = platform.setTimer(tick, 1000);
    };
    setNow(timeNow(studio));
    timer = platform.setTimer(tick, 1000);
    return () => {
      if (timer !== undefined) platform.clearTimer(timer);
    };
  }, [studio, isRunning]);
  return now;
}

function Discard({ studio }: { readonly studio: Studio }) {
  return (
    <button type="button" onClick={() => void endTimer(studio)}>
      Discard<span class="unseen"> the time measured</span>
    </button>
  );
}

/** It has run for hours and nobody touched it: the maker says how much of that was work. */
function Forgotten({ studio, timer, of, now }: Props & { readonly of: string; readonly now: string }) {
  const [typed, setTyped] = useState("");
  const { locale } = studio.platform;
  const before = minutesOf(timer.workedMs);
  const minutes = Number(typed.trim().replace(",", "."));
  const isRead = typed.trim() !== "" && minutes > 0 && minutes * 60_000 <= workedBy(timer, now);
  return (
    <section class="keeping" aria-label="Bench timer">
      <div class="line grave" role="alert" data-testid="bench-timer">
        <p>
          <b>Was the bench timer forgotten?</b> It has run since {momentText(timer.since ?? "", locale)} without a
          pause, {stopwatchText(workedBy(timer, now))} in all, for {of}.
          {before > 0 ? ` ${before} min were worked before that.` : ""}
        </p>
        <label>
          <span>Minutes really worked, in all</span>{" "}
          <input inputMode="decimal" size={6} value={typed} onInput={(event) => setTyped(event.currentTarget.value)} />
        </label>
        <button type="button" disabled={!isRead} onClick={() => void pauseTimer(studio, minutes * 60_000)}>
          Take these minutes
        </button>
        <button type="button" onClick={() => void pauseTimer(studio)}>
          All of it was work
        </button>
        <Discard studio={studio} />
        {typed.trim() !== "" && !isRead ? <small>Minutes above 0, at most what the timer shows.</small> : null}
      </div>
    </section>
  );
}
