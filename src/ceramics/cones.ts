// From a cone to a temperature and back. Between the two printed rates, 60 and 150 °C/h, the temperature is taken as a
// straight line in log(rate). Softening is a rate process, so 1/T follows log(rate) more strictly; the two lines part by
// less than 0.25 °C. The same line is carried on to 30 and to 300 °C/h, half and twice the printed rates, where they part by
// less than 1.25 °C, and not further: nothing printed supports it there. The small series is printed at 300 °C/h only and is taken only there.
import { fail, ok, type Problem, problem, type Result } from "../core/problem";
import { between, finite, present } from "./checks";
import { type ConeRow, coneTable } from "./cone-table";

/** The three kinds of cone, whose temperatures differ. */
export type ConeSeries = "self-supporting" | "large" | "small";

/** A cone with its temperature, and how far the temperature asked for lies above it. */
export interface NearestCone {
  readonly cone: string;
  readonly coneCelsius: number;
  readonly aboveConeCelsius: number;
}

const slowestRateCPerHour = 30;
const fastestRateCPerHour = 300;
const slowRate = 60;
const fastRate = 150;
const smallRate = 300;
const beyondTableCelsius = 25;

/** Temperature in °C at which a cone falls when the last 100 °C are climbed at `rateCPerHour`; refuses unknown cones and rates outside 30–300 °C/h (Orton). */
export function coneTemperature(
  cone: string | number,
  rateCPerHour: number,
  series: ConeSeries = "self-supporting",
): Result<number> {
  const row = findCone(cone, series);
  const problems = [...(row.ok ? [] : row.problems), ...rateProblems(rateCPerHour, series)];
  if (!row.ok || problems.length > 0) return fail(...problems);
  return ok(rowTemperature(row.value, rateCPerHour, series) ?? Number.NaN);
}

/** The cone whose temperature at this rate lies nearest to `celsius`, the cooler of two equally near; refuses temperatures more than 25 °C beyond the table. */
export function nearestCone(
  celsius: number,
  rateCPerHour: number,
  series: ConeSeries = "self-supporting",
): Result<NearestCone> {
  const problems = present([finite("temperature", celsius, "°C"), ...rateProblems(rateCPerHour, series)]);
  if (problems.length > 0) return fail(...problems);
  const cones = coneTable.flatMap((row): NearestCone[] => {
    const coneCelsius = rowTemperature(row, rateCPerHour, series);
    return coneCelsius === undefined ? [] : [{ cone: row.cone, coneCelsius, aboveConeCelsius: celsius - coneCelsius }];
  });
  const nearest = cones.reduce((best, next) =>
    Math.abs(next.aboveConeCelsius) < Math.abs(best.aboveConeCelsius) ? next : best,
  );
  const tooFar = between(
    "temperature",
    celsius,
    Math.ceil((cones[0]?.coneCelsius ?? 0) - beyondTableCelsius),
    Math.floor((cones.at(-1)?.coneCelsius ?? 0) + beyondTableCelsius),
    "°C",
    "No cone falls near that temperature.",
  );
  return tooFar ? fail(tooFar) : ok(nearest);
}

/** Whether cone `first` needs more heat than cone `second`; refuses unknown cones. */
export function isHotter(first: string | number, second: string | number): Result<boolean> {
  const a = findCone(first, "self-supporting");
  const b = findCone(second, "self-supporting");
  if (a.ok && b.ok) return ok(a.value.selfSupporting60 > b.value.selfSupporting60);
  return fail(...(a.ok ? [] : a.problems), ...(b.ok ? [] : b.problems));
}

/** A temperature in °C, in °F. */
export function toFahrenheit(celsius: number): number {
  return celsius * 1.8 + 32;
}

/** A temperature in °F, in °C. */
export function toCelsius(fahrenheit: number): number {
  return (fahrenheit - 32) / 1.8;
}

/** A rate or a difference in °C, in °F: no 32 is added. */
export function toFahrenheitDegrees(celsiusDegrees: number): number {
  return celsiusDegrees * 1.8;
}

/** A rate or a difference in °F, in °C: no 32 is taken off. */
export function toCelsiusDegrees(fahrenheitDegrees: number): number {
  return fahrenheitDegrees / 1.8;
}

function findCone(cone: string | number, series: ConeSeries): Result<ConeRow> {
  const label = `${cone}`.trim().replace(/^cone\s*/i, "");
  const inSeries = coneTable.filter((row) => rowTemperature(row, smallRate, series) !== undefined);
  const row = inSeries.find((one) => one.cone === label) ?? halfCone(inSeries, label);
  if (row) return ok(row);
  const all = inSeries.map((one) => one.cone).join(", ");
  return fail(
    problem({
      code: "cone.unknown",
      where: "cone",
      found: cone,
      allowed: `a ${series} cone from ${inSeries[0]?.cone} (coolest) to ${inSeries.at(-1)?.cone} (hottest): ${all}`,
      fix: "Write the leading 0 of the cooler cones: 06 and 6 are different cones. Half cones, such as 5½, lie midway between two of them.",
    }),
  );
}

/**
 * A half cone such as 5½ or 05½, also written 5 1/2 or 5.5: midway between the cones of its number and the next one, 5 and
 * 6, or 05 and 06. Common practice, no source: the printed tables have none.
 */
function halfCone(cones: readonly ConeRow[], label: string): ConeRow | undefined {
  const [, zero, number] = /^(0?)(\d{1,2})(?:\s?½|[\s-]1\/2|[.,]5)$/.exec(label) ?? [];
  if (zero === undefined || number === undefined) return undefined;
  const one = cones.find((row) => row.cone === zero + number);
  const other = cones.find((row) => row.cone === zero + String(Number(number) + 1));
  if (!one || !other) return undefined;
  const mean = (a: number | undefined, b: number | undefined) =>
    a === undefined || b === undefined ? undefined : (a + b) / 2;
  return {
    cone: label,
    selfSupporting60: (one.selfSupporting60 + other.selfSupporting60) / 2,
    selfSupporting150: (one.selfSupporting150 + other.selfSupporting150) / 2,
    large60: mean(one.large60, other.large60),
    large150: mean(one.large150, other.large150),
    small300: mean(one.small300, other.small300),
    evidence: "between",
  };
}

function rateProblems(rateCPerHour: number, series: ConeSeries): readonly Problem[] {
  const least = series === "small" ? smallRate : slowestRateCPerHour;
  const fix =
    series === "small" ? "The table has small cones at that rate only." : "It is the rate of the last 100 °C.";
  return present([between("rate", rateCPerHour, least, fastestRateCPerHour, "°C per hour", fix)]);
}

function rowTemperature(row: ConeRow, rateCPerHour: number, series: ConeSeries): number | undefined {
  if (series === "small") return row.small300;
  const slow = series === "large" ? row.large60 : row.selfSupporting60;
  const fast = series === "large" ? row.large150 : row.selfSupporting150;
  if (slow === undefined || fast === undefined) return undefined;
  return slow + (fast - slow) * (Math.log(rateCPerHour / slowRate) / Math.log(fastRate / slowRate));
}
