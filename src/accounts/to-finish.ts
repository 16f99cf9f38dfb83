// What a piece in progress still takes from the step it has reached, and how likely it comes through: the costs to complete of
// net realisable value (IAS 2 §6, §28 to 30; ASC 330-10-20). Costs are those of the plan, each with the share of pieces that
// the planned losses before it leave; so a loss still to come is in both what is spent and what is fetched, and in neither twice.

/** A step as planned: money and minutes of one piece that has it. */
export interface CostedStep {
  readonly id: string;
  readonly order: number;
  readonly isForSpecial: boolean;
  /** Share of the pieces coming to it that have it: 1, but at a step as needed the share expected to need it. */
  readonly share: number;
  /** Planned loss of those that have it, 0 to below 1. */
  readonly loss: number;
  readonly material: number;
  readonly labour: number;
  readonly overhead: number;
  /** Its part of a planned load; undefined at a firing that the plan can't price, having no kiln or no pieces. */
  readonly firing: number | undefined;
  readonly minutes: number;
  /** What a piece lost at it gives back: clay before the first firing, scrap from then on. */
  readonly givesBack: number;
}

/** What is still to come for one piece, at full precision. */
export interface ToFinish {
  readonly material: number;
  readonly labour: number;
  readonly overhead: number;
  readonly firing: number;
  /** Clay and scrap of the pieces that are planned to be lost on the way. */
  readonly givenBack: number;
  /** The four costs less what is given back. */
  readonly cost: number;
  readonly minutes: number;
  /** Share of such pieces that the planned losses still to come leave, 0 to 1. */
  readonly comesThrough: number;
  /** Firings still to come that have no planned cost and so are in none of these. */
  readonly unpriced: readonly string[];
}

/** What comes after the step of order `reached`, for a piece of the standard or the special tier. */
export function toFinish(steps: readonly CostedStep[], reached: number, isSpecial: boolean): ToFinish {
  let [material, labour, overhead, firing, givenBack, minutes, there] = [0, 0, 0, 0, 0, 0, 1];
  const unpriced: string[] = [];
  for (const step of [...steps].sort((a, b) => a.order - b.order)) {
    if (step.order <= reached || (step.isForSpecial && !isSpecial)) continue;
    const having = there * step.share;
    material += having * step.material;
    labour += having * step.labour;
    overhead += having * step.overhead;
    firing += having * (step.firing ?? 0);
    minutes += having * step.minutes;
    givenBack += having * step.loss * step.givesBack;
    there *= 1 - step.share * step.loss;
    if (step.firing === undefined && step.share > 0) unpriced.push(step.id);
  }
  const cost = material + labour + overhead + firing - givenBack;
  return { material, labour, overhead, firing, givenBack, cost, minutes, comesThrough: there, unpriced };
}

/** Net realisable value of a piece in progress; `net` is what a finished one brings after tax and the costs to sell it. */
export function fetchedWhenFinished(net: number, { cost, comesThrough }: ToFinish): number {
  return comesThrough * net - cost;
}
