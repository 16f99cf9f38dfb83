// When a copy of an edition is put by, and which copies are given up as they grow old. Pure: times come in as they were stored.

/** What the rules look at. */
export interface DatedCopy {
  /** The time of the state that was put by, ISO 8601. */
  readonly takenAt: string;
  /** Copies with a name were asked for and are never given up by themselves. */
  readonly name?: string;
  /** Characters of its text. */
  readonly size: number;
}

const MINUTE = 60_000;
const HOUR = 60 * MINUTE;
const DAY = 24 * HOUR;

/** While work goes on, a copy is put by this often. */
const COPY_EVERY_MS = 10 * MINUTE;
/** After a pause this long, how things stood before it is put by. */
const PAUSE_MS = 30 * MINUTE;
/** All copies without a name together; the oldest go first. */
const MOST_CHARACTERS = 60_000_000;
const MOST_COPIES = 100;
/** This many of the newest stay, however large they are. */
const ALWAYS_KEPT = 2;

/** Up to which age one copy is kept of each stretch of so many characters of an ISO time. */
const STRETCHES = [
  { younger: HOUR, of: "2026-11-25T09:41:07.123Z".length },
  { younger: 2 * DAY, of: "2026-11-25T09".length },
  { younger: 60 * DAY, of: "2026-11-25".length },
  { younger: Number.POSITIVE_INFINITY, of: "2026-11".length },
] as const;

/**
 * Whether the state that is about to be written over is worth a copy. `newest` is the time of the newest copy, `stored` that
 * of the state to be written over, `now` that of the write; all ISO 8601. A time that can't be read is no reason for a copy.
 */
export function isCopyDue(newest: string | undefined, stored: string, now: string): boolean {
  if (Number.isNaN(Date.parse(stored))) return false;
  if (newest === undefined) return true;
  if (newest === stored) return false;
  const apart = (a: string, b: string) => Math.abs(Date.parse(a) - Date.parse(b));
  return apart(stored, newest) >= COPY_EVERY_MS || apart(now, stored) >= PAUSE_MS;
}

/** The copies to give up at `now` (ISO 8601): all of the last hour stay, then the last of each hour, day and month. */
export function copiesToGiveUp<C extends DatedCopy>(copies: readonly C[], now: string): readonly C[] {
  const byTime = copies.filter((copy) => copy.name === undefined).sort((a, b) => (a.takenAt < b.takenAt ? 1 : -1));
  const seen = new Set<string>();
  let characters = 0;
  let kept = 0;
  return byTime.filter((copy) => {
    const age = Date.parse(now) - Date.parse(copy.takenAt);
    const rule = STRETCHES.find(({ younger }) => age < younger);
    const stretch = copy.takenAt.slice(0, rule?.of);
    const isFirst = !seen.has(stretch);
    seen.add(stretch);
    const fits = kept < ALWAYS_KEPT || (kept < MOST_COPIES && characters + copy.size <= MOST_CHARACTERS);
    if (!isFirst || !fits) return true;
    kept += 1;
    characters += copy.size;
    return false;
  });
}
