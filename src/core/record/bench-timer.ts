// The bench timer: time that is worked at a step, in stretches; plain numbers and moments, no clock.

/** Time measured at a step; one for the whole studio. */
export interface BenchTimer {
  /** The edition it runs for: its id, and its title when the timer was started. */
  readonly edition: string;
  readonly title: string;
  readonly step: string;
  /** Step and pieces in words. */
  readonly what: string;
  readonly pieces: readonly string[];
  /** Milliseconds worked before the stretch that runs. */
  readonly workedMs: number;
  /** When the stretch that runs began, ISO 8601; undefined while it is paused. */
  readonly since?: string;
}

/** Milliseconds at `now` (ISO 8601): the stretches before, and the one that runs; a clock that was set back takes nothing away. */
export function workedBy({ workedMs, since }: BenchTimer, now: string): number {
  return workedMs + stretch(since, now);
}

function stretch(since: string | undefined, now: string): number {
  return since === undefined ? 0 : Math.max(0, Date.parse(now) - Date.parse(since));
}

/** A stretch longer than this is asked about before it counts; common practice, no source. */
const LONG_STRETCH_MS = 4 * 60 * 60 * 1000;

/** Whether nobody has touched it for so long that it was most likely forgotten, as over night. */
export function isForgotten({ since }: BenchTimer, now: string): boolean {
  return stretch(since, now) > LONG_STRETCH_MS;
}

/** The timer at rest, with what was worked: by the clock, or so many milliseconds as the maker says. */
export function pausedTimer(timer: BenchTimer, now: string, workedMs = workedBy(timer, now)): BenchTimer {
  const { since: _, ...rest } = timer;
  return { ...rest, workedMs };
}

/** The timer going on from now; it is left alone where it runs. */
export function runningTimer(timer: BenchTimer, now: string): BenchTimer {
  return timer.since === undefined ? { ...timer, since: now } : timer;
}

/** Minutes to be recorded, to a tenth. */
export const minutesOf = (ms: number): number => Math.round(ms / 6000) / 10;

/** Time as hours, minutes and seconds: 1:07:05. */
export function stopwatchText(ms: number): string {
  const seconds = Math.floor(ms / 1000);
  const two = (part: number) => String(part % 60).padStart(2, "0");
  return `${Math.floor(seconds / 3600)}:${two(Math.floor(seconds / 60))}:${two(seconds)}`;
}
