// From a cone to a temperature. Between the two printed rates, 60 and 150 °C/h, the temperature is taken as a
// straight line in log(rate). Softening is a rate process, so 1/T follows log(rate) more strictly; the two lines part by
// less than 0.25 °C. The same line is carried on to 30 and to 300 °C/h, half and twice the printed rates, where they part by
// less than 1.25 °C, and not further: nothing printed supports it there. The small series is printed at 300 °C/h only and is taken only there.
import { fail, ok, type Problem, problem, type Result } from "../core/problem";
import { between, present } from "./checks";
import { type ConeRow, coneTable } from "./cone-table";

/** The three kinds of cone, whose temperatures differ. */
export type ConeSeries = "self-supporting" | "large" | "small";

const slowestRateCPerHour = 30;
const fastestRateCPerHour = 300;
const slowRate = 60;
const fastRate = 150;
const smallRate = 300;

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

/** A temperature in °C, in °F. */
export function toFahrenheit(celsius: number): number {
  return celsius * 1.8 + 32;
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
