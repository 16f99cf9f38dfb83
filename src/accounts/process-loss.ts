// A process costed as a whole, whose normal loss is known beforehand, such as slip made up or glaze milled by the batch.
// The normal loss has no cost of its own; what goes beyond it, or falls short of it, is valued like good output.
import { fail, ok, type Result } from "../core/problem";
import { need, needAboveZero, needFromZero, needPartBelowOne } from "./checks";

/** A process whose loss is known beforehand: units may be pieces, grams or litres. */
export interface ProcessLossInput {
  readonly enteredUnits: number;
  /** Everything the process cost. */
  readonly cost: number;
  readonly normalRate: number;
  /** What a lost unit fetches; 0 where it fetches nothing. */
  readonly scrapEach: number;
  readonly outputUnits: number;
}

export interface ProcessLoss {
  /** Cost of a unit of expected output. */
  readonly unitCost: number;
  readonly outputCost: number;
  /** What the normal loss fetches: taken off the cost, not a loss. */
  readonly normalScrap: number;
  /** Units lost beyond the normal ones, at the cost of good output. */
  readonly abnormalUnits: number;
  readonly abnormalCost: number;
  /** Abnormal cost less what those units fetched. */
  readonly abnormalCharge: number;
  /** Units by which output beat expectation, at the cost of good output. */
  readonly gainUnits: number;
  readonly gainValue: number;
  /** Gain less the scrap that was forgone. */
  readonly gainNet: number;
  readonly scrapCash: number;
}

/** Values the output, the abnormal loss or the abnormal gain of a process at the cost of its expected output. */
export function processLoss(input: ProcessLossInput): Result<ProcessLoss> {
  const { enteredUnits, cost, normalRate, scrapEach, outputUnits } = input;
  const problems = [
    ...needAboveZero("Units entered", enteredUnits),
    ...needFromZero("Cost of the process", cost),
    ...needPartBelowOne("Normal loss", normalRate),
    ...needFromZero("Scrap value", scrapEach),
    ...need(
      outputUnits >= 0 && outputUnits <= enteredUnits,
      "Output",
      outputUnits,
      `0 to the ${enteredUnits} that entered`,
    ),
  ];
  if (problems.length > 0) return fail(...problems);
  const normalUnits = enteredUnits * normalRate;
  const expected = enteredUnits - normalUnits;
  const normalScrap = normalUnits * scrapEach;
  const unitCost = (cost - normalScrap) / expected;
  const abnormalUnits = Math.max(0, expected - outputUnits);
  const gainUnits = Math.max(0, outputUnits - expected);
  return ok({
    unitCost,
    outputCost: outputUnits * unitCost,
    normalScrap,
    abnormalUnits,
    abnormalCost: abnormalUnits * unitCost,
    abnormalCharge: abnormalUnits * (unitCost - scrapEach),
    gainUnits,
    gainValue: gainUnits * unitCost,
    gainNet: gainUnits * (unitCost - scrapEach),
    scrapCash: (enteredUnits - outputUnits) * scrapEach,
  });
}
