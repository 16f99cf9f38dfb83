// The pieces in progress at their stage: what each still takes, what it will fetch then, and how far it has come of each cost
// element, which is what its equivalent units are.
import type { Problem } from "../core/problem";
import type { EditionCosts, PieceCost, StepOfPiece } from "./edition-costs";
import {
  type ProcessCosts,
  type ProcessElement,
  type ProcessPeriod,
  processCosts,
  type StagedUnits,
} from "./equivalent-units";
import { type CostedStep, fetchedWhenFinished, type ToFinish, toFinish } from "./to-finish";

/** A piece in progress at its stage. */
export interface PieceStage {
  readonly piece: string;
  readonly isSpecial: boolean;
  /** The last step that it has had. */
  readonly step: string;
  readonly toFinish: ToFinish;
  /** What it will fetch less that and the costs to sell it; undefined where it has no price. */
  readonly fetches: number | undefined;
}

const isSpecial = ({ tier }: PieceCost) => tier === "special";

/**
 * Every piece in progress, in the order given; `netOf` says what a piece brings once it is finished, after tax and the costs to
 * sell it, and undefined where nobody has said.
 */
export function stagesOf(
  planned: readonly CostedStep[],
  pieces: readonly PieceCost[],
  netOf: (piece: PieceCost) => number | undefined,
): readonly PieceStage[] {
  const known = new Map<string, ToFinish>();
  return pieces.flatMap((piece): PieceStage[] => {
    const { id, outcome, reached } = piece;
    if (outcome !== "in progress" || reached === undefined) return [];
    const key = `${reached} ${isSpecial(piece)}`;
    const still = known.get(key) ?? toFinish(planned, reached, isSpecial(piece));
    known.set(key, still);
    const net = netOf(piece);
    return [
      {
        ...{ piece: id, isSpecial: isSpecial(piece), toFinish: still },
        step: planned.find(({ order }) => order === reached)?.id ?? "",
        fetches: net === undefined ? undefined : fetchedWhenFinished(net, still),
      },
    ];
  });
}

/** The cost elements that equivalent units are shown by. */
const PROCESS_ELEMENTS = ["Materials and moulds", "Labour and overhead", "Firings"] as const;

const plannedOf = ({ share, material, labour, overhead, firing = 0 }: CostedStep) =>
  [material, labour + overhead, firing].map((cost) => cost * share);
const spentOn = (step: StepOfPiece) => [step.material + step.mouldWear, step.labour + step.overhead, step.firingShare];

/**
 * How far a piece of a tier has come once it has had the step of order `reached`, by element: planned cost of the steps until
 * then ÷ that of all its steps; 1 of an element that the plan has nothing of.
 */
function degreesDone(planned: readonly CostedStep[], reached: number, special: boolean): readonly number[] {
  const mine = planned.filter((step) => special || !step.isForSpecial);
  const sums = (steps: readonly CostedStep[]) =>
    steps.map(plannedOf).reduce((all, one) => all.map((sum, at) => sum + (one[at] ?? 0)), [0, 0, 0]);
  const whole = sums(mine);
  return sums(mine.filter(({ order }) => order <= reached)).map((done, at) =>
    (whole[at] ?? 0) === 0 ? 1 : Math.min(1, done / (whole[at] ?? 1)),
  );
}

/** A tier as a process of one period, with what its pieces cost by the books, one by one. */
export interface TierProcess {
  readonly tier: "standard" | "special";
  readonly period: ProcessPeriod;
  /** Own cost of the pieces completed in the period and of those open at its end, as they are costed one by one. */
  readonly books: { readonly completed: number; readonly closing: number; readonly lost: number };
}

/**
 * The tiers that have pieces, each as one process; `before` is the edition as it stood when the period began, left out where
 * it begins with the edition. Special pieces are a process of their own: more goes into one of them.
 */
export function processesOf(
  planned: readonly CostedStep[],
  now: EditionCosts,
  before?: EditionCosts,
): readonly TierProcess[] {
  return (["standard", "special"] as const).flatMap((tier): TierProcess[] => {
    const of = (costs: EditionCosts | undefined) =>
      (costs?.pieces ?? []).filter(
        (piece) => piece.outcome !== "not started" && isSpecial(piece) === (tier === "special"),
      );
    const [old, all] = [of(before), of(now)];
    if (all.length === 0) return [];
    const wasOver = new Set(old.filter(({ outcome }) => outcome !== "in progress").map(({ id }) => id));
    const live = all.filter(({ id }) => !wasOver.has(id));
    const open = old.filter(({ outcome }) => outcome === "in progress");
    const staged = (pieces: readonly PieceCost[]) => unitsOf(planned, pieces, tier === "special");
    const lost = live.filter(({ outcome }) => outcome === "lost");
    const part = abnormalPart(now);
    const completed = live.filter(({ outcome }) => outcome === "good" || outcome === "second");
    const closing = live.filter(({ outcome }) => outcome === "in progress");
    const own = (pieces: readonly PieceCost[]) => pieces.reduce((sum, piece) => sum + piece.own, 0);
    const period = {
      ...{ elements: elementsOf(open, live), opening: staged(open), started: live.length - open.length },
      ...{ completed: completed.length, closing: staged(closing) },
      ...{ normal: partOf(staged(lost), 1 - part), abnormal: partOf(staged(lost), part) },
    };
    return [{ tier, period, books: { completed: own(completed), closing: own(closing), lost: own(lost) } }];
  });
}

/** The share of the lost pieces that is abnormal, over the edition. */
function abnormalPart({ steps }: EditionCosts): number {
  const lost = steps.reduce((sum, step) => sum + step.lost, 0);
  return lost === 0 ? 0 : steps.reduce((sum, step) => sum + step.abnormalPieces, 0) / lost;
}

const partOf = ({ units, done }: StagedUnits, part: number): StagedUnits => ({
  units: units * part,
  done: done.map((one) => one * part),
});

function unitsOf(planned: readonly CostedStep[], pieces: readonly PieceCost[], special: boolean): StagedUnits {
  const done = PROCESS_ELEMENTS.map(() => 0);
  for (const { reached } of pieces) {
    const degrees = degreesDone(planned, reached ?? Number.NEGATIVE_INFINITY, special);
    for (const [at, degree] of degrees.entries()) done[at] = (done[at] ?? 0) + degree;
  }
  return { units: pieces.length, done };
}

/** What the pieces open at the start had cost until then, and what the period added to them and to those started in it. */
function elementsOf(open: readonly PieceCost[], live: readonly PieceCost[]): readonly ProcessElement[] {
  const spent = (pieces: readonly PieceCost[], at: number) =>
    pieces.reduce(
      (sum, { steps }) => sum + Object.values(steps).reduce((all, step) => all + (spentOn(step)[at] ?? 0), 0),
      0,
    );
  return PROCESS_ELEMENTS.map((name, at): ProcessElement => {
    const opening = spent(open, at);
    return { name, opening, added: Math.max(0, spent(live, at) - opening) };
  });
}

/** A tier by process costing: as it was counted, and what each method makes of it. */
export interface ProcessReport {
  readonly process: TierProcess;
  readonly average: ProcessCosts;
  readonly firstIn: ProcessCosts;
}

/** The tiers by both methods, and why one can't be costed; arguments as of `processesOf`. */
export function processReports(...of: Parameters<typeof processesOf>): {
  readonly processes: readonly ProcessReport[];
  readonly refused: readonly Problem[];
} {
  const reports = processesOf(...of).map((process) => ({
    process,
    average: processCosts(process.period, "weighted average"),
    firstIn: processCosts(process.period, "first in first out"),
  }));
  return {
    processes: reports.flatMap(({ process, average, firstIn }) =>
      average.ok && firstIn.ok ? [{ process, average: average.value, firstIn: firstIn.value }] : [],
    ),
    refused: reports.flatMap(({ average, firstIn }) => [
      ...(average.ok ? [] : average.problems),
      ...(average.ok && !firstIn.ok ? firstIn.problems : []),
    ]),
  };
}
