// From one margin to another, cause by cause: bars that hang on one another. Loaded when it is drawn.
import { barX, plot, ruleX, text, tickX } from "@observablehq/plot";
import { PLOT_STYLE, shortened } from "./plot-style";

/** A margin, or what a cause adds to it. */
export interface BridgeBar {
  readonly title: string;
  /** Where the bar begins and ends. */
  readonly from: number;
  readonly to: number;
  readonly kind: "margin" | "favourable" | "adverse" | "to come";
  /** The amount with its sign, beside the bar. */
  readonly label: string;
}

const FILLS = {
  margin: "var(--cobalt)",
  favourable: "var(--good)",
  adverse: "var(--iron)",
  "to come": "var(--line-input)",
} as const;

/** The bridge, from top to bottom, each bar where the one above it ended; amounts along its foot as they are written. */
export function drawBridge(
  bars: readonly BridgeBar[],
  width: number,
  written: (amount: number) => string,
): SVGSVGElement | HTMLElement {
  const ends = bars.flatMap(({ from, to }) => [from, to]);
  const longest = Math.max(6, ...bars.map(({ title }) => Math.min(title.length, width < 480 ? 19 : 30)));
  const shown = bars.map((bar, at) => ({ ...bar, name: `${at}`, left: Math.min(bar.from, bar.to) }));
  return plot({
    width,
    height: bars.length * 22 + 28,
    marginLeft: longest * 6.4 + 10,
    marginRight: 84,
    marginTop: 4,
    style: PLOT_STYLE,
    x: {
      ...{ label: null, domain: [Math.min(0, ...ends), Math.max(1, ...ends)], ticks: width < 480 ? 2 : 5 },
      tickFormat: written,
    },
    y: {
      ...{ label: null, domain: shown.map(({ name }) => name), padding: 0.3, tickSize: 0 },
      tickFormat: (name: string) => shortened(bars[Number(name)]?.title ?? "", longest),
    },
    marks: [
      barX(shown, { x1: "from", x2: "to", y: "name", fill: (bar: BridgeBar) => FILLS[bar.kind], fillOpacity: 0.85 }),
      // What is too small for a bar still has its place.
      tickX(shown, { x: "to", y: "name", stroke: "var(--ink)", strokeWidth: 1.5 }),
      text(shown, {
        ...{ x: (bar: BridgeBar) => Math.max(bar.from, bar.to), y: "name", text: "label" },
        ...{ textAnchor: "start", dx: 7, fill: "var(--ink-2)" },
      }),
      ruleX([0], { stroke: "var(--line-input)" }),
    ],
  });
}
