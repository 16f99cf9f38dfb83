// Pictures of what an edition came to: money lost by step, what a piece is made of, what each tier leaves.
// Together with heat-plots.ts the only importer of Observable Plot; loaded when the first picture is drawn.
import { barX, plot, ruleX, text, tickX } from "@observablehq/plot";
import { PLOT_STYLE } from "./plot-style";

/** What one step lost, in pieces and money, and what the plan allowed. */
export interface StepBar {
  readonly title: string;
  readonly money: number;
  readonly plannedMoney: number;
  /** Said at the bar's end, such as “4 of 139”. */
  readonly label: string;
}

/** Money lost by step: a bar for what was lost, a tick for what the plan allowed. */
export function drawLosses(steps: readonly StepBar[], width: number): SVGSVGElement | HTMLElement {
  const most = Math.max(1, ...steps.flatMap(({ money, plannedMoney }) => [money, plannedMoney]));
  const longest = Math.max(4, ...steps.map(({ title }) => Math.min(title.length, 22)));
  return plot({
    width,
    height: steps.length * 18 + 28,
    marginLeft: longest * 6.2 + 10,
    marginRight: 64,
    marginTop: 4,
    style: PLOT_STYLE,
    x: { label: null, domain: [0, most], ticks: 4 },
    y: { label: null, domain: steps.map(({ title }) => title), padding: 0.32, tickSize: 0 },
    marks: [
      barX(steps, { x: "money", y: "title", fill: "var(--iron)", fillOpacity: 0.85 }),
      tickX(
        steps.filter(({ plannedMoney }) => plannedMoney > 0),
        { x: "plannedMoney", y: "title", stroke: "var(--ink)", strokeWidth: 2.2 },
      ),
      text(steps, {
        x: (step: StepBar) => Math.max(step.money, step.plannedMoney),
        y: "title",
        text: "label",
        textAnchor: "start",
        dx: 7,
        fill: "var(--ink-2)",
      }),
      ruleX([0], { stroke: "var(--line-input)" }),
    ],
  });
}

/** One kind of cost of one tier. */
export interface BuildPart {
  readonly tier: string;
  readonly kind: string;
  readonly value: number;
  readonly fill: string;
}

/** What a piece of each tier cost: one bar a tier, its parts one after the other, named where they are wide enough. */
export function drawBuild(parts: readonly BuildPart[], width: number): SVGSVGElement | HTMLElement {
  const tiers = [...new Set(parts.map(({ tier }) => tier))];
  const bars = tiers.flatMap((tier) => {
    let from = 0;
    return parts
      .filter((part) => part.tier === tier)
      .map((part) => {
        const bar = { ...part, from, to: from + Math.max(0, part.value) };
        from = bar.to;
        return bar;
      });
  });
  const most = Math.max(1, ...bars.map(({ to }) => to));
  return plot({
    width,
    height: tiers.length * 34 + 26,
    marginLeft: 64,
    marginRight: 10,
    marginTop: 2,
    style: PLOT_STYLE,
    x: { label: null, domain: [0, most], ticks: 5 },
    y: { label: null, domain: tiers, padding: 0.3, tickSize: 0 },
    marks: [
      barX(bars, { x1: "from", x2: "to", y: "tier", fill: "fill", stroke: "var(--card)", strokeWidth: 1.5 }),
      text(
        bars.filter((bar) => (bar.to - bar.from) / most > (bar.kind.length * 7.5) / Math.max(120, width - 74)),
        {
          x: (bar: (typeof bars)[number]) => (bar.from + bar.to) / 2,
          y: "tier",
          text: "kind",
          fill: "var(--card)",
          fontWeight: 600,
        },
      ),
      ruleX([0], { stroke: "var(--line-input)" }),
    ],
  });
}

/** What one tier leaves in all. */
export interface TierBar {
  readonly tier: string;
  readonly leaves: number;
  readonly label: string;
}

/** What each tier leaves after everything; a loss goes to the left. */
export function drawTiers(tiers: readonly TierBar[], width: number): SVGSVGElement | HTMLElement {
  const most = Math.max(1, ...tiers.map(({ leaves }) => leaves));
  const least = Math.min(0, ...tiers.map(({ leaves }) => leaves));
  return plot({
    width,
    height: tiers.length * 26 + 12,
    marginLeft: 64,
    marginRight: 92,
    marginTop: 2,
    style: PLOT_STYLE,
    x: { axis: null, domain: [least, most] },
    y: { label: null, domain: tiers.map(({ tier }) => tier), padding: 0.35, tickSize: 0 },
    marks: [
      barX(tiers, {
        x: "leaves",
        y: "tier",
        fill: (tier: TierBar) => (tier.leaves < 0 ? "var(--iron)" : "var(--cobalt)"),
      }),
      text(tiers, {
        x: (tier: TierBar) => Math.max(0, tier.leaves),
        y: "tier",
        text: "label",
        textAnchor: "start",
        dx: 7,
        fill: "var(--ink-2)",
      }),
      ruleX([0], { stroke: "var(--line-input)" }),
    ],
  });
}
