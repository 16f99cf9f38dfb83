// Answers as pictures are given them: points, titles and how numbers read along an axis.

import type { SpreadBar, SpreadChart, StartsChart } from "../../charts/chance-plots";
import type { CaseBars, RankedBar } from "../../charts/whatif-bars";
import type { AxisText, CurvesPicture, TablePicture } from "../../charts/whatif-plots";
import { listed } from "../../core/counted";
import { cellKeyOf } from "../../core/document/access";
import type { Spread } from "../../whatif/questions/good-count";
import { curveOf } from "../../whatif/questions/sweep";
import { currencySymbol, showNumber } from "../edition/format";
import type { Session } from "../edition/session";
import type { Answer, AnswerOf, SweptInput } from "./whatif-answers";
import { type AskCell, bareText, valueText } from "./whatif-cells";

function axisOf(session: Session, of: AskCell): AxisText {
  // “Pieces to start” needs no “pieces” after it.
  const unit = of.unit === "" || of.title.toLowerCase().includes(of.unit) ? "" : `, ${of.unit}`;
  const isMoney = of.spec.format === "money";
  const text = (value: number) =>
    isMoney && Number.isInteger(value) ? showNumber(value, 0, 0, session.formats.locale) : bareText(session, of, value);
  return { title: `${of.title}${unit}`, text };
}

/** Curves of every result over the swept inputs. */
export function curvesOf(session: Session, found: AnswerOf<"losses"> | AnswerOf<"sweep">): CurvesPicture {
  const lines = found.kind === "losses" ? found.lines : [found.line];
  const [first] = lines;
  const xs = first?.sweep.values ?? Float64Array.of(0, 1);
  const x = first ? axisOf(session, first.of) : { title: "", text: String };
  return {
    x: found.kind === "losses" ? { ...x, title: "planned loss at the step" } : x,
    domain: [xs[0] ?? 0, xs.at(-1) ?? 1],
    charts: found.results.map((result, at) => ({
      y: axisOf(session, result),
      curves: lines.map((line) => ({
        name: nameOf(line),
        ...curveOf(line.sweep.values, line.sweep.outputs[at] ?? new Float64Array(), result.isWhole),
        today: [line.today || 0, found.today[at] ?? Number.NaN] as const,
        tried: [line.tried || 0, found.tried[at] ?? Number.NaN] as const,
      })),
    })),
  };
}

/** The step's own name is enough where all lines are of losses. */
function nameOf({ of }: SweptInput): string {
  const name = of.cell.column === "loss" ? of.title.replace(/: [^:]*$/, "") : of.title;
  return name.length > 24 ? `${name.slice(0, 23)}…` : name;
}

export function tablePicture(session: Session, found: AnswerOf<"table">): TablePicture {
  const { table, level, line, todayAt, triedAt } = found;
  return {
    x: axisOf(session, found.across),
    y: axisOf(session, found.down),
    value: axisOf(session, found.aim),
    xs: table.across.values,
    ys: table.down.values,
    cells: table.cells,
    lineText: `${found.aim.title} ${valueText(session, found.aim, level)}`,
    ...{ level, line, today: todayAt, tried: triedAt },
  };
}

/** The bars of a ranking; inputs that move nothing are left out. */
export function rankingPicture(session: Session, found: AnswerOf<"ranking">) {
  const bars = found.ranking.ranked.flatMap(({ input, low, high, atLow, atHigh, effect }): RankedBar[] => {
    const of = found.inputs.get(cellKeyOf(input));
    if (!of || !(effect > 0)) return [];
    return [
      { name: of.title, lowText: bareText(session, of, low), highText: bareText(session, of, high), atLow, atHigh },
    ];
  });
  return { bars: bars.slice(0, 20), now: found.ranking.now, axis: axisOf(session, found.aim) };
}

export function breakEvenPicture(session: Session, found: AnswerOf<"breakEven">): CurvesPicture {
  const tried = found.found.tried;
  const xs = Float64Array.from(tried, ({ x }) => x);
  const ys = Float64Array.from(tried, ({ y }) => y);
  const today = [found.todayAt, found.today[0] ?? Number.NaN] as const;
  return {
    x: axisOf(session, found.of),
    domain: [xs[0] ?? 0, xs.at(-1) ?? 1],
    charts: [
      {
        y: axisOf(session, found.aim),
        level: found.target,
        met: found.found.crossings.flatMap((one) => {
          if (one.kind === "met") return [[one.at.x, one.at.y] as const];
          if (one.kind === "stretch") return [one.from, one.to].map(({ x, y }) => [x, y] as const);
          return [[one.after.x, one.after.y] as const];
        }),
        curves: [{ name: found.of.title, ...curveOf(xs, ys, found.aim.isWhole), today, tried: today }],
      },
    ],
  };
}

export function casesPicture(session: Session, { results, today, cases }: AnswerOf<"cases">): readonly CaseBars[] {
  return results.map((of, at) => ({
    title: of.title,
    bars: [
      { name: "Today", value: today[at] ?? Number.NaN },
      ...cases.map((one) => ({ name: one.title, value: one.values[at] ?? Number.NaN })),
    ].map((bar) => ({ ...bar, label: valueText(session, of, bar.value) })),
  }));
}

const MOST_BARS = 60;

/** The three pictures of chance. */
export function chancePicture(
  session: Session,
  { chance: found }: AnswerOf<"chance">,
): { readonly spreads: readonly SpreadChart[]; readonly starts: StartsChart } {
  const { locale } = session.formats;
  const money = currencySymbol(session.formats);
  const whole: AxisText["text"] = (value) => showNumber(value, 0, 0, locale);
  const { chance, wanted, starts, weighed, best } = found;
  return {
    spreads: [
      {
        axis: { title: "Good pieces of the run", text: whole },
        bars: countBars(chance.spread, wanted),
        mark: wanted - 0.5,
        markText: `wanted: ${whole(wanted)}`,
        band: chance.good,
      },
      {
        axis: { title: `What the run leaves, ${money}`, text: whole },
        bars: moneyBars(chance.profits),
        // Where nothing is left is marked only if it is anywhere near.
        ...(isNearNothing(chance.profits) ? { mark: 0, markText: "nothing left" } : {}),
        band: chance.profit,
      },
    ],
    starts: {
      axis: { title: "pieces to start", text: whole },
      value: { title: `Expected to be left, ${money}`, text: whole },
      points: weighed.filter(({ profit }) => !Number.isNaN(profit)),
      best,
      now: starts,
    },
  };
}

/** Exact chances of counts, several counts to a column where there are many. */
function countBars({ from, chances }: Spread, wanted: number): readonly SpreadBar[] {
  const last = chances.length - 1;
  let [low, high] = [0, last];
  while (low < high && (chances[low] ?? 0) < 1e-5) low += 1;
  while (high > low && (chances[high] ?? 0) < 1e-5) high -= 1;
  const size = Math.max(1, Math.ceil((high - low + 1) / MOST_BARS));
  // A column never holds counts from both sides of the wanted number.
  const offset = (((wanted - from - low) % size) + size) % size;
  const bars: SpreadBar[] = [];
  for (let at = low - ((size - offset) % size); at <= high; at += size) {
    let share = 0;
    for (let one = Math.max(0, at); one < at + size; one += 1) share += chances[one] ?? 0;
    bars.push({ from: from + at - 0.5, to: from + at + size - 0.5, share, isBad: from + at + size - 1 < wanted });
  }
  return bars;
}

function isNearNothing(rising: Float64Array): boolean {
  const [least = 0, most = 0] = [rising[0], rising.at(-1)];
  return least < 0 || least < (most - least) * 1.5;
}

/** Drawn amounts in columns of equal width, one of whose edges is nothing. */
function moneyBars(rising: Float64Array): readonly SpreadBar[] {
  const [least = 0, most = 0] = [rising[0], rising.at(-1)];
  const width = Math.max((most - least) / 40, Math.abs(most) * 1e-6, 1e-6);
  const counts = new Map<number, number>();
  for (const value of rising) {
    const column = Math.floor(value / width);
    counts.set(column, (counts.get(column) ?? 0) + 1);
  }
  return [...counts].map(([column, count]) => ({
    from: column * width,
    to: (column + 1) * width,
    share: count / rising.length,
    isBad: column < 0,
  }));
}

/** What a picture shows, for those who do not see it. */
export function pictureLabel(session: Session, found: Answer): string {
  const [first] = found.results;
  switch (found.kind) {
    case "losses":
      return `${listed(found.results.map(({ title }) => title))}, over the planned loss of ${listed(found.lines.map(nameOf))}`;
    case "sweep":
      return `${listed(found.results.map(({ title }) => title))}, over ${found.line.of.title}`;
    case "table":
      return `${found.aim.title}, over ${found.across.title} and ${found.down.title}; the line is where it is ${valueText(session, found.aim, found.level)}`;
    case "ranking":
      return `How far each input moves ${found.aim.title} within its range, the largest first`;
    case "breakEven":
      return `${found.aim.title} over ${found.of.title}, and where it is ${valueText(session, found.aim, found.target)}`;
    case "cases":
      return `${first?.title ?? "Results"} and others, today and in each case`;
    case "chance":
      return "Good pieces, what the run leaves, and what each number of starts is expected to leave";
  }
}
