import { describe, expect, test } from "vitest";
import { bandedCost, cheapestStart, nameMinute, type TariffBand } from "../../../src/ceramics/kiln/tariff";
import { problemsIn, valueIn } from "./example";

const everyDay = [1, 2, 3, 4, 5, 6, 7];
const weekdays = [1, 2, 3, 4, 5];
const weekend = [6, 7];
const night: TariffBand = { name: "night", days: everyDay, fromHour: 22, toHour: 6, pricePerKwh: 0.1 };
const day: TariffBand = { name: "day", days: weekdays, fromHour: 6, toHour: 22, pricePerKwh: 0.4 };
const idle: TariffBand = { name: "weekend", days: weekend, fromHour: 6, toHour: 22, pricePerKwh: 0.2 };
const bands = [night, day, idle];
const HOUR = 60;
const DAY = 24 * HOUR;
const threeKwFor = (hours: number) => new Float64Array(hours * HOUR).fill(3);

describe("cost by bands", () => {
  test("splits a firing at the hour where the price changes", () => {
    // Monday 20:00 for four hours at 3 kW: two hours at 0.40, two at 0.10.
    const { cost, kwh, bands: parts } = valueIn(bandedCost(threeKwFor(4), 20 * HOUR, bands));
    expect(kwh).toBeCloseTo(12, 9);
    expect(cost).toBeCloseTo(6 * 0.4 + 6 * 0.1, 9);
    expect(parts.map(({ name }) => name)).toEqual(["night", "day", "weekend"]);
    expect(parts[0]?.kwh).toBeCloseTo(6, 9);
    expect(parts[1]?.cost).toBeCloseTo(2.4, 9);
    expect(parts[2]?.kwh).toBe(0);
  });

  test("runs past midnight on Sunday into Monday", () => {
    // Sunday 21:00 for ten hours: 1 h weekend, 8 h night, 1 h Monday's day.
    const { cost } = valueIn(bandedCost(threeKwFor(10), 6 * DAY + 21 * HOUR, bands));
    expect(cost).toBeCloseTo(3 * (1 * 0.2 + 8 * 0.1 + 1 * 0.4), 9);
  });

  test("a band belongs to the day on which it begins", () => {
    const fridayNight = [
      { ...night, name: "Friday night", days: [5], pricePerKwh: 9 },
      { ...night, days: [1, 2, 3, 4, 6, 7] },
      day,
      idle,
    ];
    expect(valueIn(bandedCost(threeKwFor(1), 5 * DAY + 3 * HOUR, fridayNight)).cost).toBeCloseTo(27, 9);
    expect(valueIn(bandedCost(threeKwFor(1), 4 * DAY + 3 * HOUR, fridayNight)).cost).toBeCloseTo(0.3, 9);
  });

  test("a band that ends at the hour it begins lasts a day", () => {
    const round = [{ name: "round", days: everyDay, fromHour: 6, toHour: 6, pricePerKwh: 0.3 }];
    expect(valueIn(bandedCost(threeKwFor(24), 0, round)).cost).toBeCloseTo(24 * 3 * 0.3, 9);
  });

  test("one band from 0 to 24 is a flat price; half hours count", () => {
    const flat = [{ name: "flat", days: everyDay, fromHour: 0, toHour: 24, pricePerKwh: 0.3 }];
    expect(valueIn(bandedCost(threeKwFor(48), 1234, flat)).cost).toBeCloseTo(48 * 3 * 0.3, 9);
    const halves = [
      { ...flat[0]!, toHour: 7.5 },
      { ...flat[0]!, fromHour: 7.5, toHour: 0, pricePerKwh: 0.6 },
    ];
    expect(valueIn(bandedCost(threeKwFor(1), 7 * HOUR, halves)).cost).toBeCloseTo(1.5 * 0.3 + 1.5 * 0.6, 9);
  });
});

describe("faults of a tariff", () => {
  const codeAndPlace = (trial: readonly TariffBand[]) => {
    const [first] = problemsIn(bandedCost(threeKwFor(1), 0, trial));
    return [first?.code, first?.where];
  };

  test("name the first minute that no band covers, and the first that two cover", () => {
    expect(codeAndPlace([night, day])).toEqual(["tariff.gap", "tariff, Saturday 06:00"]);
    expect(codeAndPlace([])).toEqual(["tariff.gap", "tariff, Monday 00:00"]);
    expect(codeAndPlace([...bands, { ...day, name: "noon", days: [3], fromHour: 12, toHour: 13 }])).toEqual([
      "tariff.overlap",
      "tariff, Wednesday 12:00",
    ]);
  });

  test("name the field of the band", () => {
    expect(codeAndPlace([{ ...night, days: [0] }])[1]).toBe("tariff band night, days");
    expect(codeAndPlace([{ ...night, toHour: 25 }])[1]).toBe("tariff band night, to");
    expect(codeAndPlace([{ ...night, fromHour: -1 }])[1]).toBe("tariff band night, from");
    expect(codeAndPlace([{ ...night, pricePerKwh: Number.NaN }])[1]).toBe("tariff band night, price");
  });

  test("name the start", () => {
    expect(problemsIn(bandedCost(threeKwFor(1), 10080, bands))[0]?.where).toBe("start");
    expect(problemsIn(bandedCost(threeKwFor(1), 0.5, bands))[0]?.where).toBe("start");
  });
});

describe("the cheapest start", () => {
  test("waits for the night, and says what it saves against starting at once", () => {
    const window = { earliestMinuteOfWeek: 17 * HOUR, latestMinuteOfWeek: DAY + 8 * HOUR, everyMinutes: 30 };
    const best = valueIn(cheapestStart(threeKwFor(6), bands, window));
    expect(nameMinute(best.startMinuteOfWeek)).toBe("Monday 22:00");
    expect(best.cost).toBeCloseTo(1.8, 9);
    expect(best.earliestCost).toBeCloseTo(3 * (5 * 0.4 + 0.1), 9);
    expect(best.saving).toBeCloseTo(best.earliestCost - best.cost, 12);
    expect(best.dearestCost).toBeCloseTo(3 * 6 * 0.4, 9);
    const toMidnight = { ...window, latestMinuteOfWeek: DAY };
    expect(valueIn(cheapestStart(threeKwFor(2), bands, toMidnight)).dearestCost).toBeCloseTo(3 * 2 * 0.4, 9);
  });

  test("takes the earliest of equals, and stays within the window", () => {
    const window = { earliestMinuteOfWeek: 8 * HOUR, latestMinuteOfWeek: 12 * HOUR, everyMinutes: 15 };
    const best = valueIn(cheapestStart(threeKwFor(6), bands, window));
    expect(best).toMatchObject({ startMinuteOfWeek: 8 * HOUR, saving: 0 });
  });

  test("counts in the last start of the window, and a window past Sunday midnight", () => {
    const toNight = { earliestMinuteOfWeek: 20 * HOUR, latestMinuteOfWeek: 22 * HOUR, everyMinutes: 60 };
    expect(valueIn(cheapestStart(threeKwFor(6), bands, toNight)).startMinuteOfWeek).toBe(22 * HOUR);
    const pastSunday = { earliestMinuteOfWeek: 6 * DAY + 12 * HOUR, latestMinuteOfWeek: 1 * HOUR, everyMinutes: 60 };
    const best = valueIn(cheapestStart(threeKwFor(6), bands, pastSunday));
    expect(nameMinute(best.startMinuteOfWeek)).toBe("Sunday 22:00");
    const overMidnight = { ...pastSunday, earliestMinuteOfWeek: 6 * DAY + 23.5 * HOUR, everyMinutes: 45 };
    expect(valueIn(cheapestStart(threeKwFor(8), bands, overMidnight)).startMinuteOfWeek).toBe(6 * DAY + 23.5 * HOUR);
  });

  test("refuses a window or a pace that makes no sense", () => {
    const window = { earliestMinuteOfWeek: -1, latestMinuteOfWeek: 99999, everyMinutes: 0 };
    const places = problemsIn(cheapestStart(threeKwFor(1), bands, window)).map(({ where }) => where);
    expect(places).toEqual(["earliest start", "latest start", "minutes between starts"]);
    const open = { earliestMinuteOfWeek: 0, latestMinuteOfWeek: 60, everyMinutes: 10 };
    expect(problemsIn(cheapestStart(threeKwFor(1), [night], open))[0]?.code).toBe("tariff.gap");
  });
});

test("names minutes of the week", () => {
  expect(nameMinute(0)).toBe("Monday 00:00");
  expect(nameMinute(DAY + 7 * HOUR + 5)).toBe("Tuesday 07:05");
  expect(nameMinute(7 * DAY - 1)).toBe("Sunday 23:59");
});
