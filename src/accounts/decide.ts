// Whether a flawed piece is worth another coat and another firing. Only what is still to come counts: money already
// spent is the same either way, so it stands in no formula here.
//   rescue when  q × success + (1 − q) × failure − cost − room  >  as it is
import { fail, ok, type Problem, problem, type Result } from "../core/problem";
import { needFromZero, needNumber, needPart } from "./checks";

/** The firing of a rescue: at its marginal cost in a load that is fired anyway, in full where it is fired for this piece. */
interface RescueFiring {
  readonly ridesInPlannedLoad: boolean;
  /** What one piece more in a planned load costs. */
  readonly marginalCost: number;
  readonly fullCost: number;
}

export interface RescueInput {
  /** What the piece fetches as it is, less the cost to sell it; negative where it costs to be rid of it. */
  readonly asIs: number;
  readonly material: number;
  readonly labour: number;
  readonly firings: readonly RescueFiring[];
  /** What the kiln room and the hours it takes would have earned otherwise; 0 where there is room to spare. */
  readonly room: number;
  /** Chance that the rescue comes out well, 0 to 1. */
  readonly chance: number;
  /** What it fetches then, less the cost to sell it. */
  readonly success: number;
  /** What it fetches otherwise. */
  readonly failure: number;
}

/** From which chance on a rescue pays: a fraction, or whatever the chance, or never. */
type BreakEvenChance =
  | { readonly kind: "from"; readonly chance: number }
  | { readonly kind: "always" }
  | { readonly kind: "never" };

export interface RescueDecision {
  readonly choice: "rescue" | "leave";
  /** What the rescue is expected to bring from now on. */
  readonly rescueWorth: number;
  readonly leaveWorth: number;
  /** Rescue − leave: what the better choice is ahead by when positive, behind by when negative. */
  readonly rescueAhead: number;
  /** What the rescue costs from now on, room included. */
  readonly rescueCost: number;
  readonly breakEven: BreakEvenChance;
}

/** Weighs a rescue against leaving the piece as it is, from now on only. */
export function decideRescue(input: RescueInput): Result<RescueDecision> {
  const problems = rescueProblems(input);
  if (problems.length > 0) return fail(...problems);
  const { asIs, chance, success, failure } = input;
  const rescueCost = costFromNow(input);
  const rescueWorth = chance * success + (1 - chance) * failure - rescueCost;
  const rescueAhead = withoutNoise(rescueWorth - asIs, [success, failure, rescueCost, asIs]);
  return ok({
    choice: rescueAhead > 0 ? "rescue" : "leave",
    rescueWorth,
    leaveWorth: asIs,
    rescueAhead,
    rescueCost,
    breakEven: breakEvenChance(asIs + rescueCost - failure, success - failure),
  });
}

/** A way of leaving the piece as it is: sell it, finish it as a second, scrap it. */
export interface LeavingWay {
  readonly id: string;
  readonly title: string;
  /** What it brings from now on, less what it still costs; negative where it costs. */
  readonly brings: number;
}

/** A way of rescuing it. */
export interface RescuingWay {
  readonly id: string;
  readonly title: string;
  readonly input: Omit<RescueInput, "asIs">;
}

/** A way forward beside the others, from now on only. */
export interface WeighedWay {
  readonly id: string;
  readonly title: string;
  /** What it is expected to bring. */
  readonly expected: number;
  /** What it brings when it comes out well, and when it fails; the same where nothing is left to chance. */
  readonly best: number;
  readonly worst: number;
  /** Expected gain over the best way of leaving it; 0 for that way itself. */
  readonly gain: number;
  /** The decision behind a rescue. */
  readonly decision: RescueDecision | undefined;
}

export interface WeighedWays {
  readonly ways: readonly WeighedWay[];
  /** The way to go: the rescue that gains most, or the best way of leaving it where none gains anything. */
  readonly choice: WeighedWay;
  readonly bestLeaving: WeighedWay;
  /** The rescue that gains most, whether or not it gains anything. */
  readonly bestRescue: WeighedWay | undefined;
  /** What is wrong with rescues that could not be weighed. */
  readonly refused: readonly Problem[];
}

/** Weighs every way forward for a piece against the best way of leaving it. */
export function weighWays(leaving: readonly LeavingWay[], rescues: readonly RescuingWay[]): Result<WeighedWays> {
  const [first, ...others] = leaving;
  if (!first)
    return fail(
      problem({ code: "rescue.leaving", where: "Ways forward", found: "", allowed: "a way of leaving it as it is" }),
    );
  const most = others.reduce((best, way) => (way.brings > best.brings ? way : best), first);
  const left = leaving.map((way): WeighedWay => {
    const sums = { expected: way.brings, best: way.brings, worst: way.brings, gain: way.brings - most.brings };
    return { id: way.id, title: way.title, ...sums, decision: undefined };
  });
  const rescued: WeighedWay[] = [];
  const problems: Problem[] = [];
  for (const { id, title, input } of rescues) {
    const decided = decideRescue({ ...input, asIs: most.brings });
    if (!decided.ok) problems.push(...decided.problems.map((one) => named(one, title)));
    else rescued.push(weighed(id, title, input, decided.value));
  }
  const bestLeaving = left.find(({ id }) => id === most.id);
  if (!bestLeaving) throw new Error("the best way of leaving is none of them");
  const bestRescue = rescued.reduce<WeighedWay | undefined>(
    (best, way) => (best === undefined || way.gain > best.gain ? way : best),
    undefined,
  );
  const choice = bestRescue && bestRescue.gain > 0 ? bestRescue : bestLeaving;
  return ok({ ways: [...left, ...rescued], choice, bestLeaving, bestRescue, refused: problems });
}

function named(one: Problem, title: string): Problem {
  return { ...one, where: `${title}, ${one.where}`, message: `${title}: ${one.message}` };
}

function weighed(id: string, title: string, input: Omit<RescueInput, "asIs">, decision: RescueDecision): WeighedWay {
  const best = input.success - decision.rescueCost;
  const worst = input.failure - decision.rescueCost;
  return { id, title, expected: decision.rescueWorth, best, worst, gain: decision.rescueAhead, decision };
}

function costFromNow({ material, labour, firings, room }: RescueInput): number {
  const fired = firings.reduce((sum, one) => sum + (one.ridesInPlannedLoad ? one.marginalCost : one.fullCost), 0);
  return material + labour + fired + room;
}

function breakEvenChance(toRecover: number, gain: number): BreakEvenChance {
  if (toRecover < 0) return { kind: "always" };
  if (toRecover >= gain) return { kind: "never" };
  return { kind: "from", chance: toRecover / gain };
}

// Sums that differ only by binary noise are a tie, and a tie leaves the piece alone.
function withoutNoise(difference: number, terms: readonly number[]): number {
  const size = terms.reduce((largest, term) => Math.max(largest, Math.abs(term)), 0);
  return Math.abs(difference) <= size * 1e-12 ? 0 : difference;
}

function rescueProblems(input: RescueInput): readonly Problem[] {
  return [
    ...needNumber("What it fetches as it is", input.asIs),
    ...needFromZero("Material of the rescue", input.material),
    ...needFromZero("Labour of the rescue", input.labour),
    ...input.firings.flatMap((firing) => [
      ...needFromZero("Marginal cost of the firing", firing.marginalCost),
      ...needFromZero("Full cost of the firing", firing.fullCost),
    ]),
    ...needFromZero("What the room would have earned", input.room),
    ...needPart("Chance of success", input.chance),
    ...needNumber("What success fetches", input.success),
    ...needNumber("What failure fetches", input.failure),
    ...(input.success < input.failure ? [failurePaysMore(input)] : []),
  ];
}

function failurePaysMore({ success, failure }: RescueInput): Problem {
  return problem({
    code: "rescue.backwards",
    where: "What success fetches",
    found: success,
    allowed: `at least the ${failure} that failure fetches`,
    fix: "Put the better result under success.",
  });
}
