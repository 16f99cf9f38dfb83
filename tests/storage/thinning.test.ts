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

describe("when a copy is put by", () => {
  it("is at the first write over what was stored", () => {
    expect(isCopyDue(undefined, at(1), NOW)).toBe(true);
  });

  it("is every ten minutes while work goes on, and not before", () => {
    expect(isCopyDue(at(10), at(1), NOW)).toBe(false);
    expect(isCopyDue(at(11), at(1), NOW)).toBe(true);
  });

  it("is after a pause of half an hour, so that the end of a day is kept", () => {
    expect(isCopyDue(at(34), at(29), NOW)).toBe(false);
    expect(isCopyDue(at(35), at(30), NOW)).toBe(true);
  });

  it("is never twice of the same state, nor of a time that can't be read", () => {
    expect(isCopyDue(at(900), at(900), NOW)).toBe(false);
    expect(isCopyDue(undefined, "", NOW)).toBe(false);
    expect(isCopyDue(undefined, "yesterday", NOW)).toBe(false);
  });

  it("goes on when the clock was set back", () => {
    expect(isCopyDue("2027-11-25T12:00:00.000Z", at(1), NOW)).toBe(true);
  });
});

describe("which copies are given up", () => {
  it("none of the last hour", () => {
    const fresh = [1, 11, 21, 31, 41, 51].map((minutes) => copy(minutes));
    expect(keptOf(fresh)).toEqual(fresh);
  });

  it("of each older hour the last stays, then of each day, then of each month", () => {
    // 09:55, 09:45 and 09:05 of the same day; 10 and 23 o'clock six days ago; two days of a month ago half a year back.
    const hours = [copy(2 * HOUR + 5), copy(2 * HOUR + 15), copy(2 * HOUR + 55)];
    expect(keptOf(hours)).toEqual([hours[0]]);
    const days = [copy(6 * DAY - 11 * HOUR), copy(6 * DAY)];
    expect(days.map(({ takenAt }) => takenAt.slice(0, 13))).toEqual(["2026-11-19T23", "2026-11-19T12"]);
    expect(keptOf(days)).toEqual([days[0]]);
    const months = ["2026-03-30", "2026-03-02", "2026-02-27"].map((day) => ({
      takenAt: `${day}T08:00:00.000Z`,
      size: 1,
    }));
    expect(keptOf(months).map(({ takenAt }) => takenAt.slice(0, 10))).toEqual(["2026-03-30", "2026-02-27"]);
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
