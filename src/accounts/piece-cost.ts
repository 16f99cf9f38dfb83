// What one piece has gone through and what each step of it cost: rules 1 to 3 of the build-up.
import type { Grams } from "../core/sheets/kinds/kind";
import { amountOf, enteredColumn, STEP_KIND_RULES } from "../core/sheets/step-kinds";
import type { FiringCost, PieceCost, StepOfPiece } from "./edition-costs";
import type { PlainEdition, PlainEntry, PlainFiring, PlainPiece, PlainStep } from "./plain-edition";

/** The entry of a piece at a step, if it has had the step; what comes after its loss does not count. */
function entryAt(piece: PlainPiece, step: PlainStep, steps: readonly PlainStep[]): PlainEntry | undefined {
  const lostStep = steps.find(({ id }) => id === piece.lostAt);
  if (lostStep && step.order > lostStep.order) return undefined;
  const entry = piece.entries[step.id];
  if (!entry) return undefined;
  return entry[enteredColumn(STEP_KIND_RULES[step.kind])] === undefined ? undefined : entry;
}

const isFiring = ({ kind }: PlainStep) => STEP_KIND_RULES[kind].entered === "firing";

function weightIn(firing: PlainFiring, piece: PlainPiece): number {
  if (firing.basis === "weight") return piece.kg;
  if (firing.basis === "shelf area") return piece.footprintCm2;
  return 1;
}

/** What an hour and a cast carry in one run. */
export interface RunRates {
  readonly wagePerHour: number;
  readonly overheadPerHour: number;
  readonly wearPerCast: number;
}

/** Hours of work that the pieces have had, and their casts. */
export function workDone(
  steps: readonly PlainStep[],
  pieces: readonly PlainPiece[],
): { readonly hours: number; readonly casts: number } {
  let [minutes, casts] = [0, 0];
  for (const step of steps)
    for (const piece of pieces) {
      const entry = entryAt(piece, step, steps);
      if (!entry) continue;
      minutes += minutesOf(step, entry);
      if (STEP_KIND_RULES[step.kind].usesMould) casts += 1;
    }
  return { hours: minutes / 60, casts };
}

type BareFiring = Omit<FiringCost, "overhead" | "cost">;

/** What each firing took and which pieces share it, before overhead. */
export function firingsTaken(
  edition: PlainEdition,
  steps: readonly PlainStep[],
  pieces: readonly PlainPiece[],
): readonly BareFiring[] {
  const fired = steps.filter(isFiring);
  return edition.firings.map((firing) => {
    let inLoad = 0;
    let sharedOver = 0;
    for (const piece of pieces)
      for (const step of fired)
        if (piece.entries[step.id]?.firing === firing.id && entryAt(piece, step, steps)) {
          inLoad += 1;
          sharedOver += weightIn(firing, piece);
        }
    const isFired = inLoad > 0 || firing.isMetered === true;
    const others = firing.others ?? 0;
    const part = !isFired ? 0 : others === 0 ? 1 : sharedOver / (sharedOver + others);
    const hours = (part * firing.loadingMinutes) / 60;
    const energy = part * firing.kwh * firing.pricePerKwh;
    const wear = part * firing.wear;
    const labour = hours * edition.wagePerHour;
    const kwh = part * firing.kwh;
    return { id: firing.id, energy, wear, labour, hours, kwh, part, isFired, pieces: inLoad, sharedOver };
  });
}

/** The same with the overhead of loading, where loading carries any. */
export function firingCosts(
  edition: PlainEdition,
  taken: readonly BareFiring[],
  rates: RunRates,
): readonly FiringCost[] {
  return taken.map((firing) => {
    const overhead = edition.overhead.isOnLoading ? firing.hours * rates.overheadPerHour : 0;
    return { ...firing, overhead, cost: firing.energy + firing.wear + firing.labour + overhead };
  });
}

/** A piece before it takes its share of the losses. */
export type BarePiece = Omit<PieceCost, "lossShare" | "full">;

/** What a piece has gone through and what it cost, before it takes its share of the losses. */
export function barePiece(
  edition: PlainEdition,
  rates: RunRates,
  steps: readonly PlainStep[],
  firings: readonly FiringCost[],
  piece: PlainPiece,
): BarePiece {
  const had: Record<string, StepOfPiece> = {};
  let own = 0;
  let clay = 0;
  let reached: number | undefined;
  for (const step of steps) {
    const entry = entryAt(piece, step, steps);
    if (!entry) continue;
    reached = step.order;
    const done = stepOfPiece(edition, rates, step, entry, firings, piece);
    had[step.id] = done;
    own += done.cost;
    if (STEP_KIND_RULES[step.kind].isMaking) clay += done.material;
  }
  const kept = reached === undefined ? "not started" : (piece.grade ?? "in progress");
  const outcome = piece.lostAt === undefined ? kept : "lost";
  const reclaimed = isLostUnfired(piece, steps) ? edition.reclaimFraction * clay : 0;
  const scrap = isLostFired(piece, steps) ? (edition.scrapEach ?? 0) : 0;
  return { id: piece.id, outcome, tier: piece.tier, reached, steps: had, own, reclaimed, scrap };
}

function isLostUnfired(piece: PlainPiece, steps: readonly PlainStep[]): boolean {
  const lostStep = steps.find(({ id }) => id === piece.lostAt);
  const firstFiring = steps.find(isFiring);
  return lostStep !== undefined && firstFiring !== undefined && lostStep.order < firstFiring.order;
}

function isLostFired(piece: PlainPiece, steps: readonly PlainStep[]): boolean {
  const lostStep = steps.find(({ id }) => id === piece.lostAt);
  const firstFiring = steps.find(isFiring);
  return lostStep !== undefined && firstFiring !== undefined && lostStep.order >= firstFiring.order;
}

function stepOfPiece(
  edition: PlainEdition,
  rates: RunRates,
  step: PlainStep,
  entry: PlainEntry,
  firings: readonly FiringCost[],
  piece: PlainPiece,
): StepOfPiece {
  const { gramsOnPiece, gramsUsed, minutes, material, labour, overhead } = workAtStep(rates, step, entry);
  const rules = STEP_KIND_RULES[step.kind];
  const mouldWear = rules.usesMould ? rates.wearPerCast : 0;
  const firingShare = isFiring(step) ? shareOfFiring(edition, firings, entry.firing, piece) : 0;
  return {
    gramsOnPiece,
    gramsUsed,
    fineGrams: rules.material?.isPrecious ? (gramsUsed * (step.fraction ?? 0) * (step.carat ?? 24)) / 24 : 0,
    minutes,
    material,
    mouldWear,
    labour,
    overhead,
    firingShare,
    cost: material + mouldWear + labour + overhead + firingShare,
  };
}

/** What the work itself takes at a step, a firing and moulds left out. */
export interface WorkAtStep extends Grams {
  readonly minutes: number;
  readonly material: number;
  readonly labour: number;
  readonly overhead: number;
}

/** Grams, minutes and money of the work that an entry stands for. */
export function workAtStep(
  rates: Pick<RunRates, "wagePerHour" | "overheadPerHour">,
  step: PlainStep,
  entry: PlainEntry,
): WorkAtStep {
  const grams = gramsOf(step, entry);
  const minutes = minutesOf(step, entry);
  return {
    ...grams,
    minutes,
    material: grams.gramsUsed * (entry.pricePerGram ?? step.pricePerGram ?? 0),
    labour: (minutes / 60) * rates.wagePerHour,
    overhead: (minutes / 60) * rates.overheadPerHour,
  };
}

/** What was entered of the amount of a step; 0 where nothing was, and at a firing. */
function amountIn(step: PlainStep, entry: PlainEntry): number {
  const amount = amountOf(STEP_KIND_RULES[step.kind]);
  return amount ? (entry[amount.column] ?? 0) : 0;
}

const NO_GRAMS: Grams = { gramsOnPiece: 0, gramsUsed: 0 };

function gramsOf(step: PlainStep, entry: PlainEntry): Grams {
  return STEP_KIND_RULES[step.kind].material?.grams(amountIn(step, entry), step, entry) ?? NO_GRAMS;
}

function minutesOf(step: PlainStep, entry: PlainEntry): number {
  const { time } = STEP_KIND_RULES[step.kind];
  if (time === undefined) return 0;
  if (time === "a piece") return step.minutesEach ?? 0;
  return amountIn(step, entry) * (time === "entered" ? 1 : (step.minutesEach ?? 0));
}

function shareOfFiring(
  edition: PlainEdition,
  firings: readonly FiringCost[],
  id: string | undefined,
  piece: PlainPiece,
): number {
  const firing = edition.firings.find((one) => one.id === id);
  const cost = firings.find((one) => one.id === id);
  if (!firing || !cost) return 0;
  const own = weightIn(firing, piece);
  return own === 0 && (firing.others ?? 0) > 0 ? 0 : (cost.cost * own) / cost.sharedOver;
}

/** The part of a firing that one of its pieces has, of what this edition bears of it. */
export function partInFiring(firing: PlainFiring, cost: FiringCost, piece: PlainPiece): number {
  return cost.sharedOver === 0 ? 0 : weightIn(firing, piece) / cost.sharedOver;
}
