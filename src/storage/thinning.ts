// When a copy of an edition is put by, and which copies are given up as they grow old. Pure: times come in as they were stored.
// A clock may be wrong for a while, so that order is the revisions', and a clock that leapt or went back never makes a copy at
// every save nor makes good copies look old.

/** What the rules look at. */
export interface DatedCopy {
  /** The time of the state that was put by, ISO 8601, by the clock of that moment. */
  readonly takenAt: string;
  /** The revision that was stored then; copies of earlier versions have none, and are older than all that do. */
  readonly revision?: number;
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
/** Where the clock has gone back since the newest copy it can't say how long ago that was; then so many saves count. */
const COPY_EVERY_SAVES = 50;
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

/** What is stored and about to be written over. */
interface Stored {
  /** ISO 8601. */
  readonly updatedAt: string;
  readonly revision: number;
}

/** Copies with the newest first: by revision, and by the clock within one. */
export function newestFirst<C extends DatedCopy>(copies: readonly C[]): C[] {
  const revision = (copy: C) => copy.revision ?? 0;
  return [...copies].sort((a, b) => revision(b) - revision(a) || (a.takenAt < b.takenAt ? 1 : -1));
}

/**
 * Whether the state that is about to be written over at `now` (ISO 8601) is worth a copy. A time that can't be read is no
 * reason for a copy; one that a copy has already would take that copy's place.
 */
export function isCopyDue(copies: readonly DatedCopy[], stored: Stored, now: string): boolean {
  if (Number.isNaN(Date.parse(stored.updatedAt)) || copies.some(({ takenAt }) => takenAt === stored.updatedAt))
    return false;
  const [newest] = newestFirst(copies);
  if (!newest) return true;
  const sinceCopy = Date.parse(stored.updatedAt) - Date.parse(newest.takenAt);
  const isLong =
    sinceCopy < 0 ? stored.revision - (newest.revision ?? 0) >= COPY_EVERY_SAVES : sinceCopy >= COPY_EVERY_MS;
  return isLong || Date.parse(now) - Date.parse(stored.updatedAt) >= PAUSE_MS;
}

/**
 * The copies to give up at `now` (ISO 8601): all of the last hour stay, then the last of each hour, day and month. Age is
 * counted in days of work: what lies between two copies is a day at most, so that neither a long pause nor a clock a year
 * ahead makes them all old at once. Copies made after the clock went back stand in nobody's stead.
 */
export function copiesToGiveUp<C extends DatedCopy>(copies: readonly C[], now: string): readonly C[] {
  const seen = new Set<string>();
  let characters = 0;
  let kept = 0;
  let age = 0;
  let setBack = 0;
  let later = now;
  return newestFirst(copies.filter((copy) => copy.name === undefined)).filter((copy) => {
    const apart = Date.parse(later) - Date.parse(copy.takenAt);
    if (apart < 0) setBack += 1;
    age += Math.min(Math.max(apart, 0), DAY);
    later = copy.takenAt;
    const rule = STRETCHES.find(({ younger }) => age < younger);
    const stretch = `${setBack} ${copy.takenAt.slice(0, rule?.of)}`;
    const isFirst = !seen.has(stretch);
    seen.add(stretch);
    const fits = kept < ALWAYS_KEPT || (kept < MOST_COPIES && characters + copy.size <= MOST_CHARACTERS);
    if (!isFirst || !fits) return true;
    kept += 1;
    characters += copy.size;
    return false;
  });
}
