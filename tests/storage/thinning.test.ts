import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { copiesToGiveUp, type DatedCopy, isCopyDue } from "../../src/storage/thinning";

const NOW = "2026-11-25T12:00:00.000Z";
const at = (minutesAgo: number) => new Date(Date.parse(NOW) - minutesAgo * 60_000).toISOString();
const copy = (minutesAgo: number, size = 1000): DatedCopy => ({ takenAt: at(minutesAgo), size });
const HOUR = 60;
const DAY = 24 * HOUR;
const keptOf = (copies: readonly DatedCopy[], now = NOW) => {
  const gone = new Set(copiesToGiveUp(copies, now));
  return copies.filter((one) => !gone.has(one));
};

const due = (newest: DatedCopy | undefined, updatedAt: string, now = NOW, revision = 9) =>
  isCopyDue(newest ? [newest] : [], { updatedAt, revision }, now);

describe("when a copy is put by", () => {
  it("is at the first write over what was stored", () => {
    expect(due(undefined, at(1))).toBe(true);
  });

  it("is every ten minutes while work goes on, and not before", () => {
    expect(due(copy(10), at(1))).toBe(false);
    expect(due(copy(11), at(1))).toBe(true);
  });

  it("is after a pause of half an hour, so that the end of a day is kept", () => {
    expect(due(copy(34), at(29))).toBe(false);
    expect(due(copy(35), at(30))).toBe(true);
  });

  it("is never twice of the same state, nor of a time that can't be read, nor in the place of another copy", () => {
    expect(due(copy(900), at(900))).toBe(false);
    expect(due(undefined, "")).toBe(false);
    expect(due(undefined, "yesterday")).toBe(false);
    const copies = [
      { ...copy(90), revision: 8, name: "Before the glaze" },
      { ...copy(900), revision: 7 },
    ];
    expect(isCopyDue(copies, { updatedAt: at(900), revision: 9 }, NOW)).toBe(false);
  });

  it("goes on by the saves while the clock stands before the newest copy", () => {
    const ahead = { takenAt: "2027-11-25T12:00:00.000Z", revision: 100, size: 1 };
    expect(due(ahead, at(1), NOW, 149)).toBe(false);
    expect(due(ahead, at(1), NOW, 150)).toBe(true);
  });
});

/** Copies of every so many minutes, the newest first. */
const every = (minutes: number, most: number) =>
  Array.from({ length: Math.floor(most / minutes) }, (_, index) => copy((index + 1) * minutes));

describe("which copies are given up", () => {
  it("none of the last hour", () => {
    const fresh = [1, 11, 21, 31, 41, 51].map((minutes) => copy(minutes));
    expect(keptOf(fresh)).toEqual(fresh);
  });

  it("of each older hour the last stays, then of each day, then of each month", () => {
    // 09:55, 09:45 and 09:05 of the same day; 10 and 23 o'clock six days ago; two days of a month ago half a year back.
    const hours = [copy(2 * HOUR + 5), copy(2 * HOUR + 15), copy(2 * HOUR + 55)];
    expect(keptOf(hours)).toEqual([hours[0]]);
    const daily = every(DAY, 5 * DAY);
    const days = [copy(6 * DAY - 11 * HOUR), copy(6 * DAY)];
    expect(days.map(({ takenAt }) => takenAt.slice(0, 13))).toEqual(["2026-11-19T23", "2026-11-19T12"]);
    expect(keptOf([...daily, ...days])).toEqual([...daily, days[0]]);
    const months = ["2026-03-30", "2026-03-02", "2026-02-27"].map((day) => ({
      takenAt: `${day}T08:00:00.000Z`,
      size: 1,
    }));
    const old = keptOf([...every(DAY, 65 * DAY), ...months]).slice(-2);
    expect(old.map(({ takenAt }) => takenAt.slice(0, 10))).toEqual(["2026-03-30", "2026-02-27"]);
  });

  it("a year without work makes none of them old", () => {
    const ten = every(DAY, 10 * DAY);
    expect(keptOf(ten, "2027-11-25T12:00:00.000Z")).toEqual(ten);
  });

  it("large ones make room for newer ones, but the two newest always stay", () => {
    const large = [0, 1, 2, 3].map((hours) => copy(hours * HOUR + 1, 40_000_000));
    expect(keptOf(large)).toEqual(large.slice(0, 2));
  });

  it("never one with a name, the newest, or a second time (property)", () => {
    const arbitrary = fc.array(
      fc.record({
        takenAt: fc.integer({ min: 0, max: 3 * 365 * DAY }).map(at),
        size: fc.integer({ min: 1, max: 20_000_000 }),
        named: fc.boolean(),
      }),
      { maxLength: 300 },
    );
    fc.assert(
      fc.property(arbitrary, (made) => {
        const unique = [...new Map(made.map((one) => [one.takenAt, one])).values()];
        const copies = unique.map(({ named, ...one }): DatedCopy => (named ? { ...one, name: "mine" } : one));
        const kept = keptOf(copies);
        for (const one of copies) if (one.name !== undefined) expect(kept).toContain(one);
        const unnamed = copies
          .filter(({ name }) => name === undefined)
          .sort((a, b) => (a.takenAt < b.takenAt ? 1 : -1));
        if (unnamed[0]) expect(kept).toContain(unnamed[0]);
        expect(keptOf(kept)).toEqual(kept);
        expect(kept.filter(({ name }) => name === undefined).length).toBeLessThanOrEqual(100);
      }),
      { seed: 20261125, numRuns: 200 },
    );
  });

  it("a year of work every ten minutes leaves no more than a hundred, and none further apart than a month", () => {
    let copies: DatedCopy[] = [];
    for (let minutes = 365 * DAY; minutes > 0; minutes -= 37) {
      copies.push(copy(minutes));
      const gone = new Set(copiesToGiveUp(copies, at(minutes - 1)));
      copies = copies.filter((one) => !gone.has(one));
    }
    expect(copies.length).toBeLessThanOrEqual(100);
    const times = copies.map(({ takenAt }) => Date.parse(takenAt)).sort((a, b) => a - b);
    const gaps = times.slice(1).map((time, index) => (time - (times[index] ?? 0)) / 60_000 / DAY);
    expect(Math.max(...gaps)).toBeLessThan(62);
  });
});

/** What the rules make of saves with the clock as it stood at each, beginning with `copies`. */
function saved(clock: readonly string[], copies: readonly DatedCopy[] = []) {
  let kept = [...copies];
  let made = 0;
  let stored: { updatedAt: string; revision: number } | undefined;
  for (const [index, now] of clock.entries()) {
    const revision = 1000 + index;
    if (stored && isCopyDue(kept, stored, now)) {
      made += 1;
      kept = [{ takenAt: stored.updatedAt, revision: stored.revision, size: 1000 }, ...kept];
      const gone = new Set(copiesToGiveUp(kept, now));
      kept = kept.filter((one) => !gone.has(one));
    }
    stored = { updatedAt: now, revision };
  }
  return { made, kept };
}

describe("a wrong clock", () => {
  /** Ten days of copies, as the rules leave them. */
  const tenDays = keptOf(every(10, 10 * DAY).map((one, index) => ({ ...one, revision: 999 - index * 0.5 })));
  /** A save every half minute for so long, with the clock off by `off` minutes. */
  const work = (from: number, minutes: number, off = 0) =>
    Array.from({ length: minutes * 2 }, (_, index) => at(-from - index / 2 - off));
  const dayOf = ({ takenAt }: DatedCopy) => takenAt.slice(0, 10);

  for (const [what, off] of [
    ["a day ahead", DAY],
    ["a year ahead", 365 * DAY],
    ["a day back", -DAY],
    ["three years back", -3 * 365 * DAY],
  ] as const)
    it(`${what} for an hour makes no copy at every save afterwards, and pushes no day's copy out`, () => {
      const right = saved(work(0, 180), tenDays);
      const wrong = saved([...work(0, 60), ...work(60, 60, off), ...work(120, 60)], tenDays);
      expect(wrong.made).toBeLessThanOrEqual(right.made + 2);
      const days = new Set(wrong.kept.map(dayOf));
      for (const day of new Set(tenDays.map(dayOf))) expect(days).toContain(day);
    });

  it("that went back to a day of other copies takes the place of none of them", () => {
    const older = tenDays.filter(({ takenAt }) => takenAt < at(4 * DAY));
    const good = older.find(({ takenAt }) => takenAt.startsWith(at(8 * DAY).slice(0, 10)));
    const wrong = { takenAt: at(8 * DAY + 13), revision: 1000, size: 1000 };
    const since = [0, 1, 2, 3].map((days) => ({ takenAt: at(days * DAY), revision: 1004 - days, size: 1000 }));
    expect(keptOf([...since, wrong, ...older])).toContain(good);
  });

  it("never makes more copies than one in ten minutes, one in fifty saves and one at each leap (property)", () => {
    const stretch = fc.record({
      off: fc.integer({ min: -900 * DAY, max: 900 * DAY }),
      minutes: fc.integer({ min: 1, max: 90 }),
    });
    fc.assert(
      fc.property(fc.array(stretch, { minLength: 1, maxLength: 8 }), (stretches) => {
        let from = 0;
        const clock = stretches.flatMap(({ off, minutes }) => {
          from += minutes;
          return work(from - minutes, minutes, off);
        });
        const { made, kept } = saved(clock);
        expect(made).toBeLessThanOrEqual(1 + from / 10 + clock.length / 50 + stretches.length);
        // Half an hour of work leaves something, whatever the clock says.
        if (from >= 30) expect(made).toBeGreaterThanOrEqual(1);
        expect(kept.length).toBeGreaterThanOrEqual(Math.min(made, 2));
      }),
      { seed: 20261128, numRuns: 200 },
    );
  });
});
