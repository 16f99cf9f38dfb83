// Pictures of what-if: curves over one input, a shaded table over two. Loaded when the first one is drawn.
import { axisX, axisY, dot, gridY, lineY, link, plot, rect, ruleX, ruleY, text } from "@observablehq/plot";
import { PLOT_STYLE } from "./plot-style";
import { stack } from "./stack";

/** What stands along an axis: its title with the unit, and its numbers in words. */
export interface AxisText {
  readonly title: string;
  readonly text: (value: number) => string;
}

interface DrawnPoint {
  readonly x: number;
  readonly y: number;
  /** Points of one run are joined. */
  readonly run: number;
}

/** One curve, with where the edition stands today and where the case that is tried does. */
interface DrawnCurve {
  readonly name: string;
  readonly points: readonly DrawnPoint[];
  readonly isStepped: boolean;
  readonly today: readonly [x: number, y: number];
  readonly tried: readonly [x: number, y: number];
}

/** One result with a scale of its own. */
interface CurveChart {
  readonly y: AxisText;
  readonly curves: readonly DrawnCurve[];
  /** A value the result is to reach. */
  readonly level?: number;
  /** Where it does. */
  readonly met?: readonly (readonly [x: number, y: number])[];
}

export interface CurvesPicture {
  readonly x: AxisText;
  readonly domain: readonly [number, number];
  readonly charts: readonly CurveChart[];
}

/** Colour and dash both tell curves apart. */
const PENS = [
  { stroke: "var(--iron)", strokeDasharray: "none" },
  { stroke: "var(--cobalt)", strokeDasharray: "7 3" },
  { stroke: "var(--good)", strokeDasharray: "2 3" },
  { stroke: "var(--warn)", strokeDasharray: "9 3 2 3" },
  { stroke: "var(--ink)", strokeDasharray: "4 2 1 2" },
  { stroke: "var(--lost)", strokeDasharray: "1 2" },
] as const;
const penOf = (at: number) => PENS[at % PENS.length] ?? PENS[0];

const isKnown = ([x, y]: readonly [number, number]) => !Number.isNaN(x) && !Number.isNaN(y);

/** Curves of several results over one input, one under the other. */
export function drawCurves({ x, domain, charts }: CurvesPicture, width: number): SVGSVGElement {
  const height = charts.length === 1 ? 280 : 172;
  return stack(
    charts.map((chart, at) => drawCurveChart(chart, { x, domain, width, height, isLast: at === charts.length - 1 })),
    width,
  );
}

interface Frame {
  readonly x: AxisText;
  readonly domain: readonly [number, number];
  readonly width: number;
  readonly height: number;
  readonly isLast: boolean;
}

function drawCurveChart(chart: CurveChart, { x, domain, width, height, isLast }: Frame) {
  const { curves, y } = chart;
  const isNamed = curves.length > 1;
  const longest = isNamed ? Math.max(...curves.map(({ name }) => name.length)) : 0;
  const marginRight = isNamed ? Math.min(170, longest * 6.4 + 18) : 18;
  const frame = yFrame(chart, height);
  const today = curves[0]?.today[0] ?? Number.NaN;
  const isAnyMoved = curves.some(isMoved);
  const isOneToday = curves.every((curve) => curve.today[0] === today);
  return plot({
    width,
    height: height + (isLast ? 18 : 0),
    marginLeft: 64,
    marginRight,
    marginTop: 26,
    marginBottom: isLast ? 38 : 20,
    style: PLOT_STYLE,
    x: { domain: [...domain], label: null },
    y: { domain: [frame.low, frame.high], label: null },
    marks: [
      axisX({ tickFormat: x.text, label: isLast ? x.title : null, labelAnchor: "center", labelArrow: "none" }),
      gridY({ ticks: 5 }),
      axisY({ tickFormat: y.text, label: null, ticks: 5 }),
      text([y.title], {
        frameAnchor: "top-left",
        dx: -60,
        dy: -22,
        fontWeight: 600,
        fontSize: 13,
        textAnchor: "start",
      }),
      ...(chart.level === undefined
        ? []
        : [ruleY([chart.level], { stroke: "var(--ink)", strokeDasharray: "3 3", strokeWidth: 1.4 })]),
      ...(isOneToday && !Number.isNaN(today) ? todayRule(today) : []),
      ...curves.flatMap((curve, at) => curveMarks(curve, at, isAnyMoved)),
      ...(isNamed ? endNames(curves, frame, domain[1]) : []),
      dot(chart.met ?? [], { x: "0", y: "1", r: 5.5, fill: "var(--iron)", stroke: "var(--card)", strokeWidth: 1.5 }),
    ],
  });
}

function todayRule(today: number) {
  return [
    ruleX([today], { stroke: "var(--line-input)", strokeDasharray: "2 3" }),
    text([today], {
      x: (d: number) => d,
      frameAnchor: "top",
      dy: -6,
      text: () => "today",
      fill: "var(--ink-2)",
      fontSize: 11,
    }),
  ];
}

const isMoved = ({ today, tried }: DrawnCurve) => today[0] !== tried[0];

function curveMarks(curve: DrawnCurve, at: number, isAnyMoved: boolean) {
  const { points, isStepped, today, tried } = curve;
  const { stroke, strokeDasharray } = penOf(at);
  const isTried = isKnown(tried) && (tried[0] !== today[0] || tried[1] !== today[1]);
  // Today lies on a curve only while nothing else has moved; of one that has, it says where it came from.
  const showsToday = isKnown(today) && (isMoved(curve) || !isAnyMoved);
  return [
    lineY(points, {
      ...{ x: "x", y: "y", z: "run", stroke, strokeDasharray, strokeWidth: 2 },
      curve: isStepped ? ("step" as const) : ("linear" as const),
    }),
    // The foot and the head of a jump, joined by a fine upright, so that it is seen as one step.
    link(jumpsOf(points), { x1: "x1", y1: "y1", x2: "x2", y2: "y2", stroke, strokeWidth: 0.8, strokeDasharray: "1 2" }),
    dot(showsToday ? [today] : [], { x: "0", y: "1", r: 4, stroke, fill: "var(--card)", strokeWidth: 1.6 }),
    dot(isTried ? [tried] : [], { x: "0", y: "1", r: 5, fill: stroke, stroke: "var(--card)", strokeWidth: 1.5 }),
  ];
}

function jumpsOf(points: readonly DrawnPoint[]) {
  return points.flatMap((point, at) => {
    const next = points[at + 1];
    // Runs that are one apart are parted by a jump; a gap counts further.
    if (!next || next.run !== point.run + 1) return [];
    return [{ x1: point.x, y1: point.y, x2: next.x, y2: next.y }];
  });
}

function yFrame({ curves, level, met }: CurveChart, height: number) {
  const values = [
    ...curves.flatMap(({ points, today, tried }) => [...points.map(({ y }) => y), today[1], tried[1]]),
    ...(level === undefined ? [] : [level]),
    ...(met ?? []).map(([, y]) => y),
  ].filter((value) => !Number.isNaN(value));
  const low = values.length > 0 ? Math.min(...values) : 0;
  const high = values.length > 0 ? Math.max(...values) : 1;
  const room = (high - low || Math.abs(high) || 1) * 0.06;
  return { low: low - room, high: high + room, perPixel: (high - low + 2 * room) / (height - 46) };
}

/** The name of each curve at its end, moved apart where they would cover each other. */
function endNames(
  curves: readonly DrawnCurve[],
  { perPixel, high }: { readonly perPixel: number; readonly high: number },
  right: number,
) {
  const ends = curves.flatMap(({ name, points }, at) => {
    const last = points.at(-1);
    return last ? [{ name, y: last.y, fill: penOf(at).stroke }] : [];
  });
  ends.sort((a, b) => a.y - b.y);
  let below = Number.NEGATIVE_INFINITY;
  const raised = ends.map((end) => {
    below = Math.max(end.y, below + 14 * perPixel);
    return { ...end, y: below };
  });
  let above = high;
  const labels = raised.reverse().map((end) => {
    const y = Math.min(end.y, above);
    above = y - 14 * perPixel;
    return { ...end, y };
  });
  return [
    text(labels, { x: () => right, y: "y", text: "name", fill: "fill", textAnchor: "start", dx: 8, fontWeight: 600 }),
  ];
}

export interface TablePicture {
  readonly x: AxisText;
  readonly y: AxisText;
  readonly value: AxisText;
  readonly xs: ArrayLike<number>;
  readonly ys: ArrayLike<number>;
  /** Row by row. */
  readonly cells: ArrayLike<number>;
  readonly level: number;
  /** What stands beside the line. */
  readonly lineText: string;
  readonly line: readonly { readonly from: readonly [number, number]; readonly to: readonly [number, number] }[];
  readonly today: readonly [number, number];
  readonly tried: readonly [number, number];
}

/** Where things stand today, with the word, and where they would with what is tried. */
function placeMarks({ today, tried }: TablePicture) {
  const channels = { x: "0", y: "1" };
  const known = isKnown(today) ? [today] : [];
  const isOther = tried[0] !== today[0] || tried[1] !== today[1];
  return [
    dot(known, { ...channels, r: 5, stroke: "var(--ink)", fill: "var(--card)", strokeWidth: 2 }),
    text(known, {
      ...{ ...channels, dx: 9, textAnchor: "start", stroke: "var(--card)", strokeWidth: 3, fill: "var(--ink)" },
      text: () => "today",
    }),
    dot(isOther ? [tried] : [], { ...channels, r: 6, fill: "var(--iron)", stroke: "var(--card)", strokeWidth: 2 }),
  ];
}

/** A shaded table: iron below the level, cobalt above it, darker the further; the level itself is a line. */
export function drawTable(picture: TablePicture, width: number): SVGSVGElement | HTMLElement {
  const { x, y, value, line } = picture;
  const cells = shadedCells(picture);
  const edges = (values: ArrayLike<number>) => {
    const half = ((values[1] ?? 1) - (values[0] ?? 0)) / 2;
    return [(values[0] ?? 0) - half, (values[values.length - 1] ?? 1) + half];
  };
  const label = line.length > 0 ? [line[Math.floor(line.length / 2)]?.from ?? [0, 0]] : [];
  return plot({
    width,
    height: 360,
    marginLeft: 70,
    marginRight: 18,
    marginTop: 26,
    marginBottom: 42,
    style: PLOT_STYLE,
    x: { domain: edges(picture.xs), label: null },
    y: { domain: edges(picture.ys), label: null },
    marks: [
      rect(cells, {
        ...{ x1: "x1", x2: "x2", y1: "y1", y2: "y2", fill: "fill", fillOpacity: "shade", inset: 0.4 },
        title: (cell: (typeof cells)[number]) => value.text(cell.value),
      }),
      axisX({ tickFormat: x.text, label: x.title, labelAnchor: "center", labelArrow: "none" }),
      axisY({ tickFormat: y.text, label: null }),
      text([y.title], {
        frameAnchor: "top-left",
        dx: -66,
        dy: -22,
        fontWeight: 600,
        fontSize: 13,
        textAnchor: "start",
      }),
      link(line, {
        x1: (part: (typeof line)[number]) => part.from[0],
        y1: (part: (typeof line)[number]) => part.from[1],
        x2: (part: (typeof line)[number]) => part.to[0],
        y2: (part: (typeof line)[number]) => part.to[1],
        ...{ stroke: "var(--ink)", strokeWidth: 2.4, strokeLinecap: "round" as const },
      }),
      text(label, {
        ...{ x: "0", y: "1", dy: -9, fontWeight: 600, stroke: "var(--card)", strokeWidth: 4, fill: "var(--ink)" },
        text: () => picture.lineText,
      }),
      ...placeMarks(picture),
    ],
  });
}

function shadedCells({ xs, ys, cells, level }: TablePicture) {
  const halfX = ((xs[1] ?? 1) - (xs[0] ?? 0)) / 2 || 0.5;
  const halfY = ((ys[1] ?? 1) - (ys[0] ?? 0)) / 2 || 0.5;
  const away = Array.from(cells, (value) => Math.abs(value - level)).filter((value) => !Number.isNaN(value));
  const most = Math.max(...away, 1e-12);
  return Array.from(cells, (value, at) => {
    const [x, y] = [xs[at % xs.length] ?? 0, ys[Math.floor(at / xs.length)] ?? 0];
    const share = Math.abs(value - level) / most;
    return {
      ...{ x1: x - halfX, x2: x + halfX, y1: y - halfY, y2: y + halfY, value },
      fill: value < level ? "var(--iron)" : "var(--cobalt)",
      shade: 0.1 + 0.75 * share,
    };
  }).filter(({ value }) => !Number.isNaN(value));
}
