// Pictures of what-if as bars: inputs ranked by what they move, cases side by side. Loaded when the first one is drawn.
import { barX, plot, ruleX, text } from "@observablehq/plot";
import { PLOT_STYLE } from "./plot-style";
import { stack } from "./stack";
import type { AxisText } from "./whatif-plots";

/** What pictures of named bars share: one line a bar, on the left room for the longest name, of so many letters at most. */
function named(bars: readonly { readonly name: string }[], width: number, letters: number, pxPerLetter: number) {
  const names = bars.map(({ name }) => name);
  const longest = Math.max(6, ...names.map((name) => Math.min(name.length, letters)));
  const marginLeft = Math.min(width * 0.4, longest * pxPerLetter + 12);
  return { width, marginLeft, style: PLOT_STYLE, y: { label: null, domain: names, padding: 0.34, tickSize: 0 } };
}

export interface RankedBar {
  readonly name: string;
  readonly lowText: string;
  readonly highText: string;
  readonly atLow: number;
  readonly atHigh: number;
}

/** Bars from the low to the high end of each input, the longest first, round the result as it is. */
export function drawRanking(
  bars: readonly RankedBar[],
  now: number,
  axis: AxisText,
  width: number,
): SVGSVGElement | HTMLElement {
  const halves = bars.flatMap((bar) => halvesOf(bar, now));
  const isRight = ({ labelRight }: (typeof halves)[number]) => labelRight;
  const labelMark = { x: "labelAt", y: "name", text: "label", fill: "var(--ink-2)", fontSize: 11 } as const;
  return plot({
    ...named(bars, width, 34, 6.3),
    height: bars.length * 22 + 56,
    marginRight: 62,
    marginTop: 8,
    marginBottom: 40,
    x: {
      label: axis.title,
      tickFormat: axis.text,
      labelAnchor: "center",
      labelArrow: "none",
      grid: true,
      nice: true,
      inset: 40,
    },
    marks: [
      barX(halves, { x1: () => now, x2: "end", y: "name", fill: "fill", fillOpacity: 0.8 }),
      text(
        halves.filter((half) => isRight(half)),
        { ...labelMark, textAnchor: "start", dx: 5 },
      ),
      text(
        halves.filter((half) => !isRight(half)),
        { ...labelMark, textAnchor: "end", dx: -5 },
      ),
      ruleX([now], { stroke: "var(--ink)", strokeWidth: 1.4 }),
    ],
  });
}

/** Both ends of a bar, the farther one first, each with where its text stands. */
function halvesOf({ name, lowText, highText, atLow, atHigh }: RankedBar, now: number) {
  const ends = [
    { name, end: atLow, label: lowText, fill: "var(--cobalt)" },
    { name, end: atHigh, label: highText, fill: "var(--iron)" },
  ].filter(({ end }) => !Number.isNaN(end));
  ends.sort((a, b) => Math.abs(b.end - now) - Math.abs(a.end - now));
  return ends.map((half, at) => {
    const isRight = half.end > now || (half.end === now && (ends[0]?.end ?? now) <= now);
    // Where both ends lie on one side, the text of the nearer stands on the other, clear of the bar.
    const isCovered = at === 1 && half.end > now === (ends[0]?.end ?? now) > now && half.end !== now;
    return { ...half, labelAt: isCovered ? now : half.end, labelRight: isCovered ? !isRight : isRight };
  });
}

export interface CaseBars {
  readonly title: string;
  readonly bars: readonly { readonly name: string; readonly value: number; readonly label: string }[];
}

/** Cases side by side: one group of bars a result, one bar a case. */
export function drawCases(charts: readonly CaseBars[], width: number): SVGSVGElement {
  return stack(
    charts.map((chart) => drawCaseBars(chart, width)),
    width,
    10,
  );
}

function drawCaseBars({ title, bars }: CaseBars, width: number) {
  const known = bars.filter(({ value }) => !Number.isNaN(value));
  return plot({
    ...named(bars, width, 30, 6.4),
    height: bars.length * 22 + 30,
    marginRight: 110,
    marginTop: 26,
    marginBottom: 4,
    x: {
      axis: null,
      domain: [Math.min(0, ...known.map(({ value }) => value)), Math.max(1e-9, ...known.map(({ value }) => value))],
    },
    marks: [
      text([title], { frameAnchor: "top-left", dy: -22, dx: 0, fontWeight: 600, fontSize: 13, textAnchor: "start" }),
      barX(known, {
        ...{ x: "value", y: "name" },
        fill: (bar: (typeof known)[number]) => (bar === bars[0] ? "var(--line-input)" : "var(--cobalt)"),
      }),
      text(known, {
        x: (bar: (typeof known)[number]) => Math.max(0, bar.value),
        y: "name",
        text: "label",
        textAnchor: "start",
        dx: 6,
        fill: "var(--ink-2)",
      }),
      ruleX([0], { stroke: "var(--line-input)" }),
    ],
  });
}
