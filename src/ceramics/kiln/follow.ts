// Follows a programme step by step. A ramp that needs more than the rated power stretches; one that would have to take
// heat out falls as the kiln falls by itself.
import { type Problem, problem } from "../../core/problem";
import { beginStep, endStep, type KilnState, powerFor, setStep, temperatureUnder } from "./kiln-state";
import type { FiringProgramme, FiringSegment } from "./programme";
import { type FiringRecord, LONGEST_HOURS, secondsToMark, writeStep } from "./record";

/** Runs a programme and gives the minutes each ramp took longer than asked, or the problem that ended it. */
export function followProgramme(
  state: KilnState,
  programme: FiringProgramme,
  ratedW: number,
  record: FiringRecord,
): readonly number[] | Problem {
  const usualVent = state.ventLitresPerSecond;
  const lateMinutes: number[] = [];
  for (const [index, segment] of programme.segments.entries()) {
    state.ventLitresPerSecond = segment.ventLitresPerSecond ?? usualVent;
    const began = record.seconds;
    const from = state.chamberC;
    const ended = ramp(state, segment, ratedW, record) && soak(state, segment, ratedW, record);
    if (!ended) return tooLong(state.chamberC, segment, `${programme.name}, ramp ${index + 1}`);
    lateMinutes.push(lateBy(segment, from, record.seconds - began));
  }
  state.ventLitresPerSecond = usualVent;
  return lateMinutes;
}

function lateBy(segment: FiringSegment, fromC: number, tookSeconds: number): number {
  if (segment.rateCPerHour === "fastest") return 0;
  const askedMinutes = (60 * Math.abs(segment.targetC - fromC)) / segment.rateCPerHour + segment.soakMinutes;
  const late = tookSeconds / 60 - askedMinutes;
  return late > 1e-6 ? late : 0;
}

/** Goes to the target of a segment; false when time runs out. */
function ramp(state: KilnState, segment: FiringSegment, ratedW: number, record: FiringRecord): boolean {
  const { targetC, rateCPerHour } = segment;
  const perSecond = rateCPerHour === "fastest" ? Number.POSITIVE_INFINITY : rateCPerHour / 3600;
  const rising = targetC > state.chamberC;
  while (rising ? state.chamberC < targetC : state.chamberC > targetC) {
    if (record.seconds > LONGEST_HOURS * 3600) return false;
    let seconds = secondsToMark(record);
    beginStep(state);
    setStep(state, seconds);
    const wantedC = rising
      ? Math.min(targetC, state.chamberC + perSecond * seconds)
      : Math.max(targetC, state.chamberC - perSecond * seconds);
    const neededW = powerFor(state, wantedC, seconds);
    let reachedC = wantedC;
    if (neededW > ratedW) reachedC = temperatureUnder(state, ratedW, seconds);
    else if (neededW < 0) reachedC = temperatureUnder(state, 0, seconds);
    else if (wantedC === targetC) seconds = arrivalSeconds(state, targetC, perSecond, ratedW, seconds);
    writeStep(record, endStep(state, reachedC, seconds), seconds, state.chamberC);
  }
  return true;
}

/** Stays at the target of a segment; the clock stops while full power can't hold it. False when time runs out. */
function soak(state: KilnState, segment: FiringSegment, ratedW: number, record: FiringRecord): boolean {
  let left = segment.soakMinutes * 60;
  while (left > 1e-6) {
    if (record.seconds > LONGEST_HOURS * 3600) return false;
    const seconds = Math.min(left, secondsToMark(record));
    beginStep(state);
    setStep(state, seconds);
    const neededW = powerFor(state, segment.targetC, seconds);
    let reachedC = segment.targetC;
    if (neededW > ratedW) reachedC = temperatureUnder(state, ratedW, seconds);
    else if (neededW < 0) reachedC = temperatureUnder(state, 0, seconds);
    if (neededW <= ratedW) left -= seconds;
    writeStep(record, endStep(state, reachedC, seconds), seconds, state.chamberC);
  }
  return true;
}

/** Finds how soon within a step the target can be met, by rate and by power, and leaves the step set to that. */
function arrivalSeconds(state: KilnState, targetC: number, perSecond: number, ratedW: number, longest: number): number {
  let low = Math.abs(targetC - state.chamberC) / perSecond;
  let high = longest;
  if (low > 0 && canArrive(state, targetC, low, ratedW)) return low;
  for (let round = 0; round < 24; round++) {
    const middle = (low + high) / 2;
    if (canArrive(state, targetC, middle, ratedW)) high = middle;
    else low = middle;
  }
  setStep(state, high);
  return high;
}

function canArrive(state: KilnState, targetC: number, seconds: number, ratedW: number): boolean {
  setStep(state, seconds);
  const neededW = powerFor(state, targetC, seconds);
  return neededW >= 0 && neededW <= ratedW;
}

function tooLong(reachedC: number, segment: FiringSegment, where: string): Problem {
  return problem({
    code: "kiln.too-long",
    where,
    found: `${Math.round(reachedC)} °C after ${LONGEST_HOURS} hours, on the way to ${Math.round(segment.targetC)} °C`,
    allowed: `a firing of no more than ${LONGEST_HOURS} hours`,
    fix: "Ask for a quicker rate or a shorter soak, or check the kiln's rated power and its walls.",
  });
}
