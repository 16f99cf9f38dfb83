// What a firing's energy costs where the price goes by hour and weekday, and when it is best to start.
import { fail, ok, type Problem, problem, type Result } from "../../core/problem";
import { problemsOf } from "./check";

/** Minutes in a week; minute 0 is Monday 00:00. */
const MINUTES_PER_WEEK = 7 * 24 * 60;
const MINUTES_PER_DAY = 24 * 60;
const DAY_NAMES = ["Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"];

/** A price that holds between two hours on some days. */
export interface TariffBand {
  readonly name: string;
  /** 1 is Monday, 7 is Sunday; the day on which the band begins. */
  readonly days: readonly number[];
  /** Hours of the day, 0–24; where it ends no later than it begins, it runs past midnight. */
  readonly fromHour: number;
  readonly toHour: number;
  readonly pricePerKwh: number;
}

/** The cost of a firing by bands. */
export interface BandedCost {
  readonly cost: number;
  readonly kwh: number;
  readonly bands: readonly { readonly name: string; readonly kwh: number; readonly cost: number }[];
}

/** When a firing may start; where the latest is before the earliest, the window runs past Sunday midnight. */
export interface StartWindow {
  readonly earliestMinuteOfWeek: number;
  readonly latestMinuteOfWeek: number;
  readonly everyMinutes: number;
}

/** The best start in a window. */
export interface CheapestStart {
  readonly startMinuteOfWeek: number;
  readonly cost: number;
  readonly earliestCost: number;
  readonly dearestCost: number;
  /** Against starting as soon as the window opens. */
  readonly saving: number;
}

/** Gives the cost of power drawn minute by minute (kW), from a minute of the week on. */
export function bandedCost(
  powerKwPerMinute: ArrayLike<number>,
  startMinuteOfWeek: number,
  bands: readonly TariffBand[],
): Result<BandedCost> {
  const week = bandOfEachMinute(bands);
  if (!week.ok) return week;
  const problems = problemsOf([minuteCheck(startMinuteOfWeek, "start")]);
  if (problems.length > 0) return fail(...problems);
  const kwhOfBand = new Float64Array(bands.length);
  for (let i = 0; i < powerKwPerMinute.length; i++) {
    const band = week.value[(startMinuteOfWeek + i) % MINUTES_PER_WEEK] as number;
    kwhOfBand[band] = (kwhOfBand[band] as number) + (powerKwPerMinute[i] as number) / 60;
  }
  const parts = bands.map(({ name, pricePerKwh }, i) => {
    const kwh = kwhOfBand[i] ?? 0;
    return { name, kwh, cost: kwh * pricePerKwh };
  });
  const cost = parts.reduce((sum, part) => sum + part.cost, 0);
  return ok({ cost, kwh: parts.reduce((sum, part) => sum + part.kwh, 0), bands: parts });
}

/** Finds the cheapest start in a window, the earliest of equals, and what it saves. */
export function cheapestStart(
  powerKwPerMinute: ArrayLike<number>,
  bands: readonly TariffBand[],
  window: StartWindow,
): Result<CheapestStart> {
  const { earliestMinuteOfWeek: earliest, latestMinuteOfWeek: latest, everyMinutes } = window;
  const week = bandOfEachMinute(bands);
  const every = Number.isInteger(everyMinutes) ? everyMinutes : Number.NaN;
  const problems = [
    ...(week.ok ? [] : week.problems),
    ...problemsOf([
      minuteCheck(earliest, "earliest start"),
      minuteCheck(latest, "latest start"),
      [every, { where: "minutes between starts", unit: "whole minutes", min: 1, max: MINUTES_PER_DAY }],
    ]),
  ];
  if (!week.ok || problems.length > 0) return fail(...problems);
  const prices = Float64Array.from(week.value, (band) => bands[band]?.pricePerKwh ?? 0);
  const span = (latest - earliest + MINUTES_PER_WEEK) % MINUTES_PER_WEEK;
  const earliestCost = costFrom(powerKwPerMinute, prices, earliest);
  let best = { startMinuteOfWeek: earliest, cost: earliestCost };
  let dearestCost = earliestCost;
  for (let wait = every; wait <= span; wait += every) {
    const start = (earliest + wait) % MINUTES_PER_WEEK;
    const cost = costFrom(powerKwPerMinute, prices, start);
    // The same cents added in another order differ in the last digit; that is not cheaper.
    if (cost < best.cost - 1e-9 * Math.abs(best.cost)) best = { startMinuteOfWeek: start, cost };
    dearestCost = Math.max(dearestCost, cost);
  }
  return ok({ ...best, earliestCost, dearestCost, saving: earliestCost - best.cost });
}

function costFrom(powerKwPerMinute: ArrayLike<number>, prices: Float64Array, start: number): number {
  let sum = 0;
  for (let i = 0; i < powerKwPerMinute.length; i++) {
    sum += (powerKwPerMinute[i] as number) * (prices[(start + i) % MINUTES_PER_WEEK] as number);
  }
  return sum / 60;
}

function minuteCheck(minute: number, where: string) {
  const whole = Number.isInteger(minute) ? minute : Number.NaN;
  return [whole, { where, unit: "whole minutes of the week", min: 0, max: MINUTES_PER_WEEK - 1 }] as const;
}

/** Gives the index of the band that holds in each minute of the week; each minute must have exactly one. */
function bandOfEachMinute(bands: readonly TariffBand[]): Result<Int32Array> {
  const problems = bands.flatMap(bandProblems);
  if (problems.length > 0) return fail(...problems);
  const week = new Int32Array(MINUTES_PER_WEEK).fill(-1);
  for (const [index, band] of bands.entries()) {
    const from = Math.round(band.fromHour * 60);
    const to = Math.round(band.toHour * 60);
    const length = to > from ? to - from : to - from + MINUTES_PER_DAY;
    for (const day of band.days) {
      const start = (day - 1) * MINUTES_PER_DAY + from;
      for (let i = 0; i < length; i++) {
        const minute = (start + i) % MINUTES_PER_WEEK;
        const taken = bands[week[minute] ?? -1];
        if (taken !== undefined) return fail(overlap(minute, taken, band));
        week[minute] = index;
      }
    }
  }
  const free = week.indexOf(-1);
  return free < 0 ? ok(week) : fail(gap(free));
}

function bandProblems(band: TariffBand): readonly Problem[] {
  const where = `tariff band ${band.name}`;
  const found = problemsOf([
    [band.fromHour, { where: `${where}, from`, unit: "hours", min: 0, max: 24 }],
    [band.toHour, { where: `${where}, to`, unit: "hours", min: 0, max: 24 }],
    [band.pricePerKwh, { where: `${where}, price`, unit: "per kWh", min: -1000, max: 1000 }],
  ]);
  const odd = band.days.find((day) => !Number.isInteger(day) || day < 1 || day > 7);
  if (odd !== undefined) {
    found.push(
      problem({ code: "tariff.day", where: `${where}, days`, found: odd, allowed: "1 (Monday) to 7 (Sunday)" }),
    );
  }
  return found;
}

function overlap(minute: number, one: TariffBand, other: TariffBand): Problem {
  const found = `${one.name} and ${other.name}`;
  return problem({ code: "tariff.overlap", where: `tariff, ${nameMinute(minute)}`, found, allowed: "one band" });
}

function gap(minute: number): Problem {
  const fix = "Let the bands cover the whole week.";
  return problem({ code: "tariff.gap", where: `tariff, ${nameMinute(minute)}`, found: "", allowed: "one band", fix });
}

/** Names a minute of the week, such as “Tuesday 07:30”. */
export function nameMinute(minuteOfWeek: number): string {
  const day = DAY_NAMES[Math.floor(minuteOfWeek / MINUTES_PER_DAY)] ?? "";
  const two = (value: number) => String(value).padStart(2, "0");
  return `${day} ${two(Math.floor(minuteOfWeek / 60) % 24)}:${two(minuteOfWeek % 60)}`;
}
