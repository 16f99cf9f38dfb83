// The calendar as a picture: a row a kiln and a row a step, bars over days.
import { barX, plot, rectX, ruleX, text } from "@observablehq/plot";
import { PLOT_STYLE } from "./plot-style";

/** A stretch of one row, in days (fractions for the hour). */
export interface CalendarBar {
  readonly lane: string;
  readonly from: number;
  readonly to: number;
  readonly kind: "firing" | "work" | "rest";
  /** Whether the end of everything hangs on it. */
  readonly holdsUp: boolean;
  /** Said within the bar where there is room. */
  readonly label: string;
}

/** What the picture shows; days are whole numbers, labels belong to some of them. */
export interface CalendarPicture {
  readonly lanes: readonly string[];
  readonly bars: readonly CalendarBar[];
  readonly first: number;
  readonly last: number;
  /** Days on which the studio is closed. */
  readonly closed: readonly number[];
  readonly ticks: readonly { readonly day: number; readonly label: string }[];
  readonly today: number;
  readonly due: number | undefined;
  /** Days marked within a lane, such as the one on which something is ready. */
  readonly marks?: readonly CalendarMark[];
}

/** A day of one lane. */
export interface CalendarMark {
  readonly lane: string;
  readonly day: number;
  /** Stands on the day; its words stand where there is room. */
  readonly sign: string;
  readonly label: string;
}

const FILLS = { firing: "var(--cobalt)", work: "var(--iron)", rest: "var(--card)" } as const;

/** Days that follow one another as one stretch, so that no seam shows between them. */
function runsOf(days: readonly number[]): readonly { readonly from: number; readonly to: number }[] {
  const runs: { from: number; to: number }[] = [];
  for (const day of days) {
    const open = runs.at(-1);
    if (open?.to === day) open.to = day + 1;
    else runs.push({ from: day, to: day + 1 });
  }
  return runs;
}

/** Work and firings filled, rest in outline between dashes, and what holds the rest up with a frame. */
function barMarks(bars: readonly CalendarBar[]) {
  const channels = { x1: "from", x2: "to", y: "lane" };
  return [
    barX(
      bars.filter(({ kind }) => kind === "rest"),
      {
        ...{ ...channels, fill: FILLS.rest, stroke: "var(--ink-3)", strokeDasharray: "2,2" },
        ...{ insetTop: 5, insetBottom: 5 },
      },
    ),
    barX(
      bars.filter(({ kind }) => kind !== "rest"),
      {
        ...{ ...channels, fillOpacity: 0.85, strokeWidth: 0.5 },
        fill: (bar: CalendarBar) => FILLS[bar.kind],
        stroke: (bar: CalendarBar) => FILLS[bar.kind],
      },
    ),
    barX(
      bars.filter(({ holdsUp }) => holdsUp),
      { ...channels, fill: "none", stroke: "var(--ink)", strokeWidth: 2 },
    ),
  ];
}

/** Bars over days; closed days are shaded, the due date and today are lines with their names. */
export function drawCalendar(picture: CalendarPicture, width: number): SVGSVGElement | HTMLElement {
  const { lanes, bars, first, last, due, today } = picture;
  const longest = Math.max(4, ...lanes.map((lane) => Math.min(lane.length, 22)));
  const marginLeft = longest * 6.2 + 12;
  const perDay = (width - marginLeft - 12) / Math.max(1, last - first);
  const labels = new Map(picture.ticks.map(({ day, label }) => [day, label]));
  const lines = [
    { day: today, label: "today", dash: "3,3" },
    // The due day counts to its end.
    ...(due === undefined ? [] : [{ day: due + 1, label: "due", dash: "none" }]),
  ].filter(({ day }) => day >= first && day <= last);
  return plot({
    width,
    height: lanes.length * 25 + 50,
    marginLeft,
    marginRight: 12,
    marginTop: 20,
    style: PLOT_STYLE,
    x: {
      label: null,
      domain: [first, last],
      ticks: picture.ticks.map(({ day }) => day),
      tickFormat: (day: number) => labels.get(day) ?? "",
      tickSize: 3,
    },
    y: { label: null, domain: lanes, padding: 0.25, tickSize: 0 },
    marks: [
      rectX(runsOf(picture.closed), { x1: "from", x2: "to", fill: "var(--line-soft)", inset: 0 }),
      ...barMarks(bars),
      text(
        bars.filter(({ from, to, label }) => (to - from) * perDay > label.length * 7 + 4),
        {
          x: (bar: CalendarBar) => (bar.from + bar.to) / 2,
          y: "lane",
          text: "label",
          fill: (bar: CalendarBar) => (bar.kind === "rest" ? "var(--ink)" : "var(--card)"),
          fontWeight: 600,
        },
      ),
      ...(["start", "end"] as const).map((textAnchor) =>
        text(
          (picture.marks ?? []).filter(({ day }) => (textAnchor === "start") === day <= (first + last) / 2),
          {
            ...{ x: "day", y: "lane", textAnchor, fontWeight: 600, dx: textAnchor === "start" ? 4 : -4 },
            ...{ fill: "var(--ink)", stroke: "var(--card)", strokeWidth: 4 },
            text: ({ sign, label }: CalendarMark) => (textAnchor === "start" ? `${sign} ${label}` : `${label} ${sign}`),
          },
        ),
      ),
      ...lines.map(({ day, dash }) => ruleX([day], { stroke: "var(--ink)", strokeWidth: 1.6, strokeDasharray: dash })),
      text(lines, { x: "day", text: "label", frameAnchor: "top", dy: -12, fontWeight: 600, fill: "var(--ink)" }),
    ],
  });
}
