// A picture of one measure over the editions kept. Loaded when it is first drawn.
import { barX, plot, ruleX, text } from "@observablehq/plot";
import { PLOT_STYLE, shortened } from "./plot-style";

/** One edition's bar. */
export interface EditionBar {
  /** Unlike every other's: two editions may have one title. */
  readonly id: string;
  readonly title: string;
  readonly value: number;
  /** The value as it is written, at the end of the bar. */
  readonly label: string;
  readonly isOpen: boolean;
}

/** Bars in the order given; the open edition's is darker, and its title marked. */
export function drawEditions(
  bars: readonly EditionBar[],
  width: number,
  written: (amount: number) => string,
): SVGSVGElement | HTMLElement {
  const titles = new Map(bars.map(({ id, title, isOpen }) => [id, isOpen ? `▸ ${title}` : title]));
  const longest = Math.max(6, ...[...titles.values()].map((title) => Math.min(title.length, 26)));
  const values = bars.map(({ value }) => value);
  return plot({
    width,
    height: bars.length * 22 + 30,
    marginLeft: Math.min(width * 0.42, longest * 6.6 + 12),
    marginRight: 74,
    marginTop: 4,
    style: PLOT_STYLE,
    x: {
      ...{ label: null, domain: [Math.min(0, ...values), Math.max(1e-9, ...values)], ticks: 4 },
      tickFormat: written,
    },
    y: {
      ...{ label: null, domain: bars.map(({ id }) => id), padding: 0.3, tickSize: 0 },
      tickFormat: (id: string) => shortened(titles.get(id) ?? id, 26),
    },
    marks: [
      barX(bars, {
        ...{ x: "value", y: "id", fill: "var(--iron)" },
        fillOpacity: ({ isOpen }: EditionBar) => (isOpen ? 0.95 : 0.55),
      }),
      text(bars, {
        x: ({ value }: EditionBar) => Math.max(0, value),
        ...{ y: "id", text: "label", textAnchor: "start", dx: 7, fill: "var(--ink-2)" },
      }),
      ruleX([0], { stroke: "var(--line-input)" }),
    ],
  });
}
