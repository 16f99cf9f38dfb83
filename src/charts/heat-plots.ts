// Pictures of a firing. The only importer of Observable Plot; loaded when the first picture is drawn.
import { areaY, axisY, barX, dot, lineY, plot, ruleX, ruleY, text } from "@observablehq/plot";
import { PLOT_STYLE } from "./plot-style";

/** What the picture of a firing shows: the programme's course, power, and the cooling after it. */
export interface FiringCourse {
  /** °C (or °F) at each minute from switching on. */
  readonly temperature: ArrayLike<number>;
  /** kW in each minute. */
  readonly power: ArrayLike<number>;
  readonly ratedKw: number;
  readonly coolingMinutes: ArrayLike<number>;
  readonly cooling: ArrayLike<number>;
  readonly unit: "°C" | "°F";
}

/** Temperature and power against hours. */
export function drawCourse(course: FiringCourse, width: number): SVGSVGElement | HTMLElement {
  const heating = Array.from(course.temperature, (degrees, minute) => ({ hours: minute / 60, degrees }));
  const end = heating.at(-1)?.hours ?? 0;
  const cooling = Array.from(course.cooling, (degrees, at) => ({
    hours: end + (course.coolingMinutes[at] ?? 0) / 60,
    degrees,
  })).filter(({ hours }) => hours < end * 2.5);
  const hottest = Math.max(...heating.map(({ degrees }) => degrees), 1);
  const scale = hottest / Math.max(course.ratedKw, 0.001) / 2.2;
  const power = Array.from(course.power, (kw, minute) => ({ hours: minute / 60, height: kw * scale }));
  return plot({
    width,
    height: 260,
    marginLeft: 46,
    marginRight: 46,
    style: PLOT_STYLE,
    x: { label: "hours from switching on", grid: false },
    y: { label: course.unit, grid: true },
    marks: [
      areaY(power, { x: "hours", y: "height", fill: "var(--cobalt-soft)", stroke: "var(--cobalt)", strokeWidth: 0.7 }),
      axisY({ anchor: "left", label: course.unit }),
      ...(power.length > 0
        ? [
            axisY({
              anchor: "right",
              label: "kW",
              ticks: [0, course.ratedKw * scale],
              tickFormat: (at: number) => (at / scale).toFixed(0),
            }),
          ]
        : []),
      lineY(heating, { x: "hours", y: "degrees", stroke: "var(--iron)", strokeWidth: 2 }),
      lineY(cooling, { x: "hours", y: "degrees", stroke: "var(--iron)", strokeWidth: 1.2, strokeDasharray: "4 3" }),
      ruleX([end], { stroke: "var(--line-input)", strokeDasharray: "2 3" }),
      ruleY([0], { stroke: "var(--line-input)" }),
    ],
  });
}

/** A part of a whole, such as heat that went into the ware. */
export interface SplitPart {
  readonly title: string;
  readonly value: number;
}

const FILLS = ["var(--iron)", "var(--cobalt)", "var(--warn)", "var(--good)", "var(--lost)", "var(--line-input)"];

/** Where the heat went: one bar, parts named on it where they are wide enough. */
export function drawSplit(parts: readonly SplitPart[], unit: string, width: number): SVGSVGElement | HTMLElement {
  const total = parts.reduce((sum, part) => sum + part.value, 0);
  let from = 0;
  const bars = parts.map((part, at) => {
    const bar = { ...part, from, to: from + part.value, fill: FILLS[at % FILLS.length] ?? "var(--ink)" };
    from = bar.to;
    return bar;
  });
  return plot({
    width,
    height: 74,
    marginLeft: 2,
    marginRight: 12,
    style: PLOT_STYLE,
    x: { label: unit, domain: [0, Math.max(total, 0.001)] },
    y: { axis: null },
    marks: [
      barX(bars, { x1: "from", x2: "to", fill: "fill", stroke: "var(--card)", strokeWidth: 1.5 }),
      text(
        bars.filter((bar) => bar.value > total * 0.09),
        {
          x: (bar: (typeof bars)[number]) => (bar.from + bar.to) / 2,
          text: "title",
          fill: "var(--card)",
          fontWeight: 600,
        },
      ),
    ],
  });
}

/** One reading beside what was calculated. */
export interface PlottedReading {
  readonly name: string;
  readonly metered: number;
  readonly calculated: number;
}

/** Calculated against metered: on the line they agree. */
export function drawReadings(readings: readonly PlottedReading[], width: number): SVGSVGElement | HTMLElement {
  const most = Math.max(1, ...readings.flatMap(({ metered, calculated }) => [metered, calculated])) * 1.08;
  return plot({
    width,
    height: 240,
    marginLeft: 46,
    style: PLOT_STYLE,
    x: { label: "metered, kWh", domain: [0, most], grid: true },
    y: { label: "calculated, kWh", domain: [0, most], grid: true },
    marks: [
      lineY(
        [
          { x: 0, y: 0 },
          { x: most, y: most },
        ],
        { x: "x", y: "y", stroke: "var(--line-input)", strokeDasharray: "4 3" },
      ),
      dot(readings, { x: "metered", y: "calculated", fill: "var(--iron)", r: 4, title: "name" }),
    ],
  });
}
