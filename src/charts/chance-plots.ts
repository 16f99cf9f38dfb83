// Pictures of chance: how many pieces come good, what the run may leave, and what each number of starts is expected to.
import { axisX, axisY, dot, gridY, lineY, plot, rectY, ruleX, ruleY, text } from "@observablehq/plot";
import { PLOT_STYLE } from "./plot-style";
import { stack } from "./stack";
import type { AxisText } from "./whatif-plots";

/** One column of a spread. */
export interface SpreadBar {
  readonly from: number;
  readonly to: number;
  /** Share of all outcomes, 0 to 1. */
  readonly share: number;
  /** Whether it is on the bad side of the mark. */
  readonly isBad: boolean;
}

export interface SpreadChart {
  readonly axis: AxisText;
  readonly bars: readonly SpreadBar[];
  readonly mark?: number;
  readonly markText?: string;
  readonly band: { readonly low: number; readonly median: number; readonly high: number };
}

export interface StartsChart {
  readonly axis: AxisText;
  readonly value: AxisText;
  readonly points: readonly { readonly starts: number; readonly profit: number }[];
  readonly best: { readonly starts: number; readonly profit: number } | undefined;
  readonly now: number;
}

/** Spreads under one another, then what each number of starts is expected to leave. */
export function drawChance(spreads: readonly SpreadChart[], starts: StartsChart, width: number): SVGSVGElement {
  return stack([...spreads.map((one) => drawSpread(one, width)), drawStarts(starts, width)], width, 12);
}

function drawSpread({ axis, bars, mark, markText, band }: SpreadChart, width: number) {
  const most = Math.max(1e-9, ...bars.map(({ share }) => share));
  return plot({
    width,
    height: 190,
    marginLeft: 50,
    marginRight: 24,
    marginTop: 40,
    marginBottom: 24,
    style: PLOT_STYLE,
    x: { label: null },
    y: { axis: null, domain: [0, most * 1.12] },
    marks: [
      text([axis.title], {
        frameAnchor: "top-left",
        dx: -46,
        dy: -36,
        fontWeight: 600,
        fontSize: 13,
        textAnchor: "start",
      }),
      rectY(bars, {
        ...{ x1: "from", x2: "to", y: "share", insetLeft: 0.5, insetRight: 0.5 },
        fill: (bar: SpreadBar) => (bar.isBad ? "var(--iron)" : "var(--cobalt)"),
        fillOpacity: (bar: SpreadBar) => (bar.isBad ? 0.95 : 0.6),
      }),
      axisX({ tickFormat: axis.text, label: null }),
      ruleY([0], { stroke: "var(--line-input)" }),
      ...(mark === undefined
        ? []
        : [
            ruleX([mark], { stroke: "var(--ink)", strokeWidth: 1.4 }),
            text([mark], { x: (at: number) => at, frameAnchor: "top", dy: -14, text: () => markText, fontWeight: 600 }),
          ]),
      ruleY([most * 1.06], { x1: () => band.low, x2: () => band.high, stroke: "var(--ink-2)", strokeWidth: 3 }),
      dot([band.median], { x: (at: number) => at, y: () => most * 1.06, r: 4.5, fill: "var(--ink)" }),
    ],
  });
}

function drawStarts({ axis, value, points, best, now }: StartsChart, width: number) {
  return plot({
    width,
    height: 220,
    marginLeft: 64,
    marginRight: 24,
    marginTop: 40,
    marginBottom: 40,
    style: PLOT_STYLE,
    x: { label: null },
    y: { label: null },
    marks: [
      text([value.title], {
        frameAnchor: "top-left",
        dx: -60,
        dy: -36,
        fontWeight: 600,
        fontSize: 13,
        textAnchor: "start",
      }),
      axisX({ tickFormat: axis.text, label: axis.title, labelAnchor: "center", labelArrow: "none" }),
      gridY({ ticks: 5 }),
      axisY({ tickFormat: value.text, label: null, ticks: 5 }),
      lineY(points, { x: "starts", y: "profit", stroke: "var(--cobalt)", strokeWidth: 2 }),
      ruleX([now], { stroke: "var(--line-input)", strokeDasharray: "2 3" }),
      text([now], { x: (at: number) => at, frameAnchor: "top", dy: -14, text: () => "planned", fill: "var(--ink-2)" }),
      dot(best ? [best] : [], {
        x: "starts",
        y: "profit",
        r: 6,
        fill: "var(--iron)",
        stroke: "var(--card)",
        strokeWidth: 1.5,
      }),
      text(best ? [best] : [], {
        ...{
          x: "starts",
          y: "profit",
          dy: 16,
          fontWeight: 600,
          stroke: "var(--card)",
          strokeWidth: 3,
          fill: "var(--ink)",
        },
        text: (d: { readonly starts: number }) => `best: ${axis.text(d.starts)}`,
      }),
    ],
  });
}
