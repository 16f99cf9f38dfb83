// Process costing of a period by equivalent units, by the weighted average and by first in, first out. The books of an edition
// do not use it: its pieces are costed one by one. It is shown beside them, for whoever is used to it.
//
// An equivalent unit is as much work as one whole unit takes of a cost element: four pieces a quarter done are one. Lost units
// count as far as they had come, and what they cost is shown apart: a normal loss before it is shared, an abnormal one as the
// expense that it is (IAS 2 §16(a)).
//   weighted average: units = completed + closing + lost;                rate = (opening cost + cost added) ÷ units
//   first in, first out: units = the same − work done before the period; rate = cost added ÷ units
// First in, first out takes it that what was open at the start was finished first, and that what was lost was started since.
import { fail, ok, type Problem, type Result } from "../core/problem";
import { need, needDifferent, needFromZero } from "./checks";

/** Units, and the equivalent units that their stage comes to, element by element. */
export interface StagedUnits {
  readonly units: number;
  readonly done: readonly number[];
}

/** A cost element, such as materials or conversion: what the opening units had cost of it, and what the period added. */
export interface ProcessElement {
  readonly name: string;
  readonly opening: number;
  readonly added: number;
}

/** One period of one process; `opening.units` + `started` = `completed` + closing, normal and abnormal units. */
export interface ProcessPeriod {
  readonly elements: readonly ProcessElement[];
  readonly opening: StagedUnits;
  readonly started: number;
  readonly completed: number;
  readonly closing: StagedUnits;
  readonly normal: StagedUnits;
  readonly abnormal: StagedUnits;
}

export type ProcessMethod = "weighted average" | "first in first out";

/** What an element comes to: `rate` is undefined where nothing was done of it. */
interface ElementRate {
  readonly name: string;
  /** Equivalent units of work that its cost is spread over. */
  readonly units: number;
  readonly cost: number;
  readonly rate: number | undefined;
}

/** A period costed; `completed` + `closing` + `normal` + `abnormal` + `unspread` = opening cost + cost added. */
export interface ProcessCosts {
  readonly method: ProcessMethod;
  readonly elements: readonly ElementRate[];
  readonly completed: number;
  readonly closing: number;
  readonly normal: number;
  readonly abnormal: number;
  /** Cost of elements of which no unit was done: nothing to spread it over. */
  readonly unspread: number;
}

const sum = (list: readonly number[]) => list.reduce((total, one) => total + one, 0);
const at = (units: StagedUnits, element: number) => units.done[element] ?? 0;

function allUnits({ completed, closing, normal, abnormal }: ProcessPeriod, element: number): number {
  return completed + at(closing, element) + at(normal, element) + at(abnormal, element);
}

/** Costs a period; refused where units do not add up, or less work is done at its end than at its start. */
export function processCosts(period: ProcessPeriod, method: ProcessMethod): Result<ProcessCosts> {
  const problems = periodProblems(period);
  if (problems.length > 0) return fail(...problems);
  const isFirst = method === "first in first out";
  const elements = period.elements.map(({ name, opening, added }, one): ElementRate => {
    const units = allUnits(period, one) - (isFirst ? at(period.opening, one) : 0);
    const cost = isFirst ? added : opening + added;
    return { name, units, cost, rate: units > NOISE ? cost / units : undefined };
  });
  const costOf = ({ done }: StagedUnits) => sum(elements.map(({ rate = 0 }, one) => rate * (done[one] ?? 0)));
  const carriedIn = isFirst ? sum(period.elements.map(({ opening }) => opening)) : 0;
  const toComplete = elements.map((_, one) => period.completed - (isFirst ? at(period.opening, one) : 0));
  return ok({
    ...{ method, elements },
    completed: carriedIn + costOf({ units: period.completed, done: toComplete }),
    ...{ closing: costOf(period.closing), normal: costOf(period.normal), abnormal: costOf(period.abnormal) },
    unspread: sum(elements.map(({ rate, cost }) => (rate === undefined ? cost : 0))),
  });
}

/** Sums of shares differ from whole units by binary noise. */
const NOISE = 1e-9;

function periodProblems(period: ProcessPeriod): readonly Problem[] {
  const { elements, opening, started, completed, closing, normal, abnormal } = period;
  const groups = { opening, closing, "normal loss": normal, "abnormal loss": abnormal };
  const gap = opening.units + started - completed - closing.units - normal.units - abnormal.units;
  return [
    ...needDifferent(
      "Cost elements",
      elements.map(({ name }) => name),
    ),
    ...elements.flatMap(({ name, opening: before, added }) => [
      ...needFromZero(`${name}, opening`, before),
      ...needFromZero(`${name}, added`, added),
    ]),
    ...needFromZero("Units started", started),
    ...needFromZero("Units completed", completed),
    ...Object.entries(groups).flatMap(([name, { units, done }]) => [
      ...needFromZero(`Units, ${name}`, units),
      ...need(
        done.length === elements.length && done.every((one) => one >= 0 && one <= units + NOISE),
        `Equivalent units, ${name}`,
        done.join(", "),
        `one number for each cost element, from 0 to the ${units} units`,
      ),
    ]),
    ...need(Math.abs(gap) <= NOISE * (1 + opening.units + started), "Units", gap, "as many going in as coming out", {
      code: "process.units",
    }),
    ...elements.flatMap(({ name }, one) =>
      need(
        allUnits(period, one) >= at(opening, one) - NOISE,
        `${name}, work done`,
        allUnits(period, one) - at(opening, one),
        "no less work at the end of the period than at its start",
      ),
    ),
  ];
}
