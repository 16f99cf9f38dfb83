// Variances of material, work and firings: planned for the pieces that really had a step, against what it took. Price and rate
// variances go by what was really used, usage and efficiency variances by planned prices, so that each pair adds up exactly.
import type { Variance } from "./plan-causes";
import type { PlannedRun, PlannedWork, RealLoad, RealWork } from "./plan-records";
import { costOfLoad } from "./plan-standards";

const NOTHING: RealLoad = { loads: 0, kwh: 0, energy: 0, wear: 0, hours: 0, labour: 0, overhead: 0 };

/** Why a step took another amount than planned for `had` pieces; together: had × standard cost − real cost. */
export function stepVariances(plan: PlannedRun, step: PlannedWork, real: RealWork, had: number): readonly Variance[] {
  return step.load
    ? firingVariances(plan, step, step.load, real.load ?? NOTHING, had)
    : pieceVariances(plan, step, real, had);
}

function pieceVariances(plan: PlannedRun, step: PlannedWork, real: RealWork, had: number): readonly Variance[] {
  const of = step.id;
  const { wagePerHour: wage, overheadPerHour: overhead } = plan;
  const hours = had * step.hours;
  return [
    {
      ...{ cause: "materialPrice", of, planned: step.pricePerGram },
      ...(real.grams === 0 ? {} : { real: real.material / real.grams }),
      amount: real.grams * step.pricePerGram - real.material,
    },
    {
      ...{ cause: "grams", of, planned: had * step.grams, real: real.grams, pieces: had },
      amount: (had * step.grams - real.grams) * step.pricePerGram,
    },
    {
      ...{ cause: "mouldWear", of, planned: had * step.mouldWear, real: real.mouldWear },
      amount: had * step.mouldWear - real.mouldWear,
    },
    {
      ...{ cause: "minutes", of, planned: hours * 60, real: real.hours * 60, pieces: had },
      amount: (hours - real.hours) * wage,
    },
    ...rates(plan, of, overhead, real),
    { cause: "overheadHours", of, planned: hours, real: real.hours, amount: (hours - real.hours) * overhead },
  ];
}

/** Wage and overhead of the hours really worked. */
function rates(
  { wagePerHour: wage }: PlannedRun,
  of: string,
  overhead: number,
  real: Pick<RealWork, "hours" | "labour" | "overhead">,
): readonly Variance[] {
  const perHour = (cost: number) => (real.hours === 0 ? {} : { real: cost / real.hours });
  return [
    { cause: "wage", of, planned: wage, ...perHour(real.labour), amount: real.hours * wage - real.labour },
    {
      ...{ cause: "overheadRate", of, planned: overhead, ...perHour(real.overhead) },
      amount: real.hours * overhead - real.overhead,
    },
  ];
}

function firingVariances(
  plan: PlannedRun,
  { id: of }: PlannedWork,
  load: NonNullable<PlannedWork["load"]>,
  real: RealLoad,
  had: number,
): readonly Variance[] {
  const { pricePerKwh: tariff, wagePerHour: wage, loadingOverhead: overhead } = plan;
  const each = (amount: number) => (real.loads === 0 ? {} : { real: amount / real.loads });
  const hours = real.loads * load.hours;
  return [
    {
      ...{ cause: "tariff", of, planned: tariff },
      ...(real.kwh === 0 ? {} : { real: real.energy / real.kwh }),
      amount: real.kwh * tariff - real.energy,
    },
    { cause: "kwh", of, planned: load.kwh, ...each(real.kwh), amount: (real.loads * load.kwh - real.kwh) * tariff },
    {
      ...{ cause: "filling", of, planned: load.pieces },
      ...(real.loads === 0 ? {} : { real: had / real.loads }),
      amount: (had / load.pieces - real.loads) * costOfLoad(plan, load),
    },
    { cause: "kilnWear", of, planned: load.wear, ...each(real.wear), amount: real.loads * load.wear - real.wear },
    {
      ...{ cause: "loading", of, planned: load.hours * 60, ...each(real.hours * 60) },
      amount: (hours - real.hours) * (wage + overhead),
    },
    ...rates(plan, of, overhead, real),
  ];
}
