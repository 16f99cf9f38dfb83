// Values what a process completed, what it still holds and what it spoiled, from equivalent units.
// Nothing is rounded here: rates rounded to the cent lose whole amounts, so money is rounded where it leaves.
import { fail, ok, type Problem, type Result } from "../core/problem";
import { need, needDifferent, needFromZero, needPart } from "./checks";
import { type CostFlow, type Doneness, equivalentUnits, flowProblems, type UnitFlow } from "./equivalent-units";

/** One cost of a process: what came with the opening units, what the period added, and how far units are with it. */
export interface ProcessElement extends Doneness {
  readonly name: string;
  readonly openingCost: number;
  readonly addedCost: number;
}

/** How spoiled units are judged. */
interface Inspection {
  /** Normal spoilage as a fraction of the good units that passed the inspection in the period. */
  readonly normalRateOfGood: number;
  /** Good units that passed the inspection in the period; closing units count once they are beyond it. */
  readonly goodInspected: number;
  /** Closing units beyond the inspection, which then bear their part of the normal spoilage too; 0 leaves it all on the completed. */
  readonly closingBearing: number;
}

export interface ProcessInput {
  readonly method: CostFlow;
  readonly units: UnitFlow;
  readonly elements: readonly ProcessElement[];
  /** Needed where units were spoiled. */
  readonly inspection?: Inspection;
}

interface ElementRate {
  readonly name: string;
  readonly equivalentUnits: number;
  readonly ratePerUnit: number;
}

export interface ProcessValuation {
  readonly rates: readonly ElementRate[];
  /** Completed units with the normal spoilage they bear. */
  readonly completedCost: number;
  /** Closing units with the normal spoilage they bear. */
  readonly closingCost: number;
  /** Closing units by element, without spoilage. */
  readonly closingByElement: Readonly<Record<string, number>>;
  readonly normalUnits: number;
  /** Cost of the normal spoilage: already within the completed and closing costs. */
  readonly normalCost: number;
  readonly abnormalUnits: number;
  readonly abnormalCost: number;
  /** Everything to account for: equals completed + closing + abnormal. */
  readonly totalCost: number;
}

/** Values a process by weighted average or first in, first out, with spoilage judged at an inspection. */
export function valueProcess(input: ProcessInput): Result<ProcessValuation> {
  const problems = processProblems(input);
  if (problems.length > 0) return fail(...problems);
  const { method, units, elements } = input;
  const rates = elements.map((element) => {
    const equivalent = equivalentUnits(units, element, method);
    const cost = element.addedCost + (method === "weighted average" ? element.openingCost : 0);
    return { name: element.name, equivalentUnits: equivalent, ratePerUnit: cost === 0 ? 0 : cost / equivalent };
  });
  const unworked = elements.flatMap((element, index) => elementWithoutUnits(element, rates[index]?.ratePerUnit ?? 0));
  if (unworked.length > 0) return fail(...unworked);
  return ok(valuation(input, rates));
}

function valuation(input: ProcessInput, rates: readonly ElementRate[]): ProcessValuation {
  const { units, elements, inspection } = input;
  const rateOf = (index: number) => rates[index]?.ratePerUnit ?? 0;
  const perElement = (value: (element: ProcessElement, rate: number) => number) =>
    elements.reduce((sum, element, index) => sum + value(element, rateOf(index)), 0);
  const ownCompleted = perElement((element, rate) => completedCostOf(element, rate, input));
  const ownClosing = perElement((element, rate) => units.closing * element.closingDone * rate);
  const spoiledEach = perElement((element, rate) => element.spoiledDone * rate);
  const normalUnits = inspection ? Math.min(units.spoiled, inspection.normalRateOfGood * inspection.goodInspected) : 0;
  const abnormalUnits = units.spoiled - normalUnits;
  const normalCost = normalUnits * spoiledEach;
  const bearing = inspection?.closingBearing ?? 0;
  const toClosing = bearing === 0 ? 0 : (normalCost * bearing) / (units.completed + bearing);
  return {
    rates,
    completedCost: ownCompleted + normalCost - toClosing,
    closingCost: ownClosing + toClosing,
    closingByElement: Object.fromEntries(
      elements.map((element, index) => [element.name, units.closing * element.closingDone * rateOf(index)]),
    ),
    normalUnits,
    normalCost,
    abnormalUnits,
    abnormalCost: abnormalUnits * spoiledEach,
    totalCost: perElement((element) => element.openingCost + element.addedCost),
  };
}

function completedCostOf(element: ProcessElement, rate: number, { method, units }: ProcessInput): number {
  if (method === "weighted average") return units.completed * rate;
  const toFinish = units.opening * (1 - element.openingDone);
  return element.openingCost + (toFinish + units.completed - units.opening) * rate;
}

function processProblems({ method, units, elements, inspection }: ProcessInput): readonly Problem[] {
  return [
    ...flowProblems(units, method),
    ...needDifferent(
      "Costs of the process",
      elements.map(({ name }) => name),
    ),
    ...elements.flatMap((element) => [
      ...needFromZero(`${element.name}, opening cost`, element.openingCost),
      ...needFromZero(`${element.name}, added cost`, element.addedCost),
      ...needPart(`${element.name}, opening units`, element.openingDone),
      ...needPart(`${element.name}, closing units`, element.closingDone),
      ...needPart(`${element.name}, spoiled units`, element.spoiledDone),
    ]),
    ...need(
      inspection !== undefined || units.spoiled === 0,
      "Inspection",
      "nothing",
      "an inspection, as units were spoiled",
      {
        code: "units.inspection",
      },
    ),
    ...(inspection ? inspectionProblems(inspection, units) : []),
  ];
}

function inspectionProblems(inspection: Inspection, units: UnitFlow): readonly Problem[] {
  const { normalRateOfGood, goodInspected, closingBearing } = inspection;
  return [
    ...needPart("Normal spoilage", normalRateOfGood),
    ...needFromZero("Good units inspected", goodInspected),
    ...need(
      closingBearing >= 0 && closingBearing <= units.closing,
      "Closing units beyond the inspection",
      closingBearing,
      `0 to the ${units.closing} closing units`,
    ),
    ...need(
      units.completed + closingBearing > 0 || normalRateOfGood === 0 || units.spoiled === 0,
      "Units that bear the normal spoilage",
      0,
      "at least one completed or closing unit beyond the inspection",
      { code: "loss.all", fix: "With nothing left, spoilage belongs to the period: set the normal spoilage to 0." },
    ),
  ];
}

function elementWithoutUnits(element: ProcessElement, rate: number): readonly Problem[] {
  return need(
    Number.isFinite(rate),
    element.name,
    `a cost of ${element.openingCost + element.addedCost} and no equivalent units`,
    "a cost with units that have received it",
    { code: "units.none" },
  );
}
