// What one piece has gone through and what each step of it cost: rules 1 to 3 of the build-up.
import type { Grams } from "../core/sheets/kinds/kind";
import { amountOf, enteredColumn, STEP_KIND_RULES } from "../core/sheets/step-kinds";
import type { FiringCost, PieceCost, StepOfPiece } from "./edition-costs";
import type { PlainEdition, PlainEntry, PlainFiring, PlainPiece, PlainStep } from "./plain-edition";

/** A piece with its entry at each step, in the order of the steps; none where it has not had the step. */
export interface PieceRun {
  readonly piece: PlainPiece;
  readonly had: readonly (PlainEntry | undefined)[];
}

/** What a piece has gone through; what comes after its loss does not count. */
export function runOf(piece: PlainPiece, steps: readonly PlainStep[]): PieceRun {
  const lostStep = steps.find(({ id }) => id === piece.lostAt);
  const had = steps.map((step) => {
    if (lostStep && step.order > lostStep.order) return undefined;
    const entry = piece.entries[step.id];
    return entry?.[enteredColumn(STEP_KIND_RULES[step.kind])] === undefined ? undefined : entry;
  });
  return { piece, had };
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
  runs: readonly PieceRun[],
): { readonly hours: number; readonly casts: number } {
  let [minutes, casts] = [0, 0];
  for (const [at, step] of steps.entries())
    for (const { had } of runs) {
      const entry = had[at];
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
  runs: readonly PieceRun[],
): readonly BareFiring[] {
  const loads = new Map(edition.firings.map((firing) => [firing.id, { firing, inLoad: 0, sharedOver: 0 }]));
  for (const { piece, had } of runs)
    for (const [at, step] of steps.entries()) {
      const load = isFiring(step) ? loads.get(had[at]?.firing ?? "") : undefined;
      if (!load) continue;
      load.inLoad += 1;
      load.sharedOver += weightIn(load.firing, piece);
    }
  return [...loads.values()].map(({ firing, inLoad, sharedOver }) => {
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

/** A firing with what it cost. */
interface SharedFiring {
  readonly firing: PlainFiring;
  readonly cost: FiringCost;
}

/** Firings with their costs, by id. */
export const firingsById = (edition: PlainEdition, costs: readonly FiringCost[]): ReadonlyMap<string, SharedFiring> => {
  const known = new Map(edition.firings.map((firing) => [firing.id, firing]));
  return new Map(
    costs.flatMap((cost) => {
      const firing = known.get(cost.id);
      return firing ? [[cost.id, { firing, cost }] as const] : [];
    }),
  );
};

/** A piece before it takes its share of the losses. */
export type BarePiece = Omit<PieceCost, "lossShare" | "full">;

/** What a piece has gone through and what it cost, before it takes its share of the losses; `firings` by id. */
export function barePiece(
  edition: PlainEdition,
  rates: RunRates,
  steps: readonly PlainStep[],
  firings: ReadonlyMap<string, SharedFiring>,
  { piece, had: entries }: PieceRun,
): BarePiece {
  const had: Record<string, StepOfPiece> = {};
  let own = 0;
  let clay = 0;
  let reached: number | undefined;
  for (const [at, step] of steps.entries()) {
    const entry = entries[at];
    if (!entry) continue;
    reached = step.order;
    const done = stepOfPiece(rates, step, entry, firings, piece);
    had[step.id] = done;
    own += done.cost;
    if (STEP_KIND_RULES[step.kind].isMaking) clay += done.material;
  }
  const kept = reached === undefined ? "not started" : (piece.grade ?? "in progress");
  const outcome = piece.lostAt === undefined ? kept : "lost";
  const lost = lossOf(piece, steps);
  const reclaimed = lost === "unfired" ? edition.reclaimFraction * clay : 0;
  const scrap = lost === "fired" ? (edition.scrapEach ?? 0) : 0;
  return { id: piece.id, outcome, tier: piece.tier, reached, steps: had, own, reclaimed, scrap };
}

/** Whether a piece was lost before the first firing or from it on; nothing where it was not, and where nothing is fired. */
function lossOf(piece: PlainPiece, steps: readonly PlainStep[]): "unfired" | "fired" | undefined {
  const lostStep = steps.find(({ id }) => id === piece.lostAt);
  const firstFiring = steps.find(isFiring);
  if (!lostStep || !firstFiring) return undefined;
  return lostStep.order < firstFiring.order ? "unfired" : "fired";
}

function stepOfPiece(
  rates: RunRates,
  step: PlainStep,
  entry: PlainEntry,
  firings: ReadonlyMap<string, SharedFiring>,
  piece: PlainPiece,
): StepOfPiece {
  const { gramsOnPiece, gramsUsed, minutes, material, labour, overhead } = workAtStep(rates, step, entry);
  const rules = STEP_KIND_RULES[step.kind];
  const mouldWear = rules.usesMould ? rates.wearPerCast : 0;
  const firingShare = isFiring(step) ? shareOfFiring(firings.get(entry.firing ?? ""), piece) : 0;
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

function shareOfFiring(shared: SharedFiring | undefined, piece: PlainPiece): number {
  if (!shared) return 0;
  const { firing, cost } = shared;
  const own = weightIn(firing, piece);
  return own === 0 && (firing.others ?? 0) > 0 ? 0 : (cost.cost * own) / cost.sharedOver;
}

/** The part of a firing that one of its pieces has, of what this edition bears of it. */
export function partInFiring(firing: PlainFiring, cost: FiringCost, piece: PlainPiece): number {
  return cost.sharedOver === 0 ? 0 : weightIn(firing, piece) / cost.sharedOver;
}
