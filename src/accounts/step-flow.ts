// The route as a chain: what each tier carries from step to step, in whole minor units that end in the ledger's own.
// A row takes what was carried in, adds the work done, takes off the pieces lost with all they had cost, puts on the
// normal loss that the pieces going on bear, leaves what waits, and carries the rest on.
import { type Problem, problem } from "../core/problem";
import { roundToTotal } from "./allocate";
import type { EditionCosts, PieceCost } from "./edition-costs";
import type { Ledger } from "./ledger";
import { lossTable } from "./loss-table";
import type { PlainEdition, PlainStep } from "./plain-edition";

/** One step of one tier; pieces, and money in minor units: `on` = `carriedIn` + `added` − `takenOff` + `borne` − `waits`. */
interface FlowRow {
  /** Undefined for the pieces that have had every step and wait to be passed. */
  readonly step: string | undefined;
  readonly inPieces: number;
  readonly carriedIn: number;
  readonly had: number;
  readonly added: number;
  readonly lost: number;
  readonly takenOff: number;
  readonly borne: number;
  readonly waiting: number;
  readonly waits: number;
  readonly onPieces: number;
  readonly on: number;
}

export interface TierFlow {
  readonly tier: string;
  readonly rows: readonly FlowRow[];
  /** What is carried on from the last row: the finished pieces, as the ledger has them. */
  readonly good: number;
  readonly seconds: number;
}

/** Exact sums of one step and tier. */
type Sums = Pick<FlowRow, "step" | "had" | "added" | "lost" | "takenOff" | "borne" | "waiting">;

const total = (list: readonly number[]) => list.reduce((sum, one) => sum + one, 0);
const tierOf = ({ tier }: PieceCost) => (tier === "special" ? "special" : "standard");

/**
 * The flow of every tier that has pieces; `waitsFor` is the step that a piece in progress waits for, undefined where it
 * waits to be passed. A problem where the ledger's totals can't be met, which is a mistake of ours.
 */
export function stepFlows(
  edition: PlainEdition,
  costs: EditionCosts,
  ledger: Ledger,
  waitsFor: ReadonlyMap<string, string | undefined>,
): { readonly flows: readonly TierFlow[]; readonly problems: readonly Problem[] } {
  const steps = [...edition.steps].sort((a, b) => a.order - b.order);
  const shares = sharesByStep(steps, costs);
  const tiers = ["standard", "special"].flatMap((tier) => {
    const pieces = costs.pieces.filter((piece) => tierOf(piece) === tier && piece.outcome !== "not started");
    if (pieces.length === 0) return [];
    const rows = [...steps.map(({ id }) => id), undefined].map((step) =>
      sumsOf(step, pieces, edition, shares, waitsFor),
    );
    return [{ tier, pieces, rows }];
  });
  const every = tiers.flatMap(({ rows }) => rows);
  const { digits } = ledger;
  const added = roundToTotal(
    every.map((row) => row.added),
    digits,
    ledger.putInTotal,
  );
  // What was lost at a step is the amount of the loss table, over the tiers that lost it.
  const lostAt = new Map(lossTable(costs, ledger).map(({ step, cost }) => [step.id, cost]));
  const takenOff = [...steps.map(({ id }) => id), undefined].map((step, row) =>
    roundToTotal(
      tiers.map(({ rows }) => rows[row]?.takenOff ?? 0),
      digits,
      lostAt.get(step ?? "") ?? 0,
    ),
  );
  const minorOf = new Map(
    [...ledger.good, ...ledger.seconds, ...ledger.inProgress].map((one) => [one.piece, one.minor]),
  );
  const sumMinor = (pieces: readonly PieceCost[]) => total(pieces.map(({ id }) => minorOf.get(id) ?? 0));
  let from = 0;
  const flows = tiers.map(({ tier, pieces, rows }, at): TierFlow => {
    const adds = added.slice(from, from + rows.length);
    const takes = takenOff.map((parts) => parts[at] ?? 0);
    from += rows.length;
    const of = (outcome: PieceCost["outcome"]) => pieces.filter((piece) => piece.outcome === outcome);
    const [good, seconds] = [sumMinor(of("good")), sumMinor(of("second"))];
    const waits = rows.map(({ step }) =>
      sumMinor(of("in progress").filter((piece) => waitsFor.get(piece.id) === step)),
    );
    const rest = good + seconds + total(waits) - total(adds) + total(takes);
    const borne = roundToTotal(
      rows.map((row) => row.borne),
      digits,
      rest,
    );
    return { tier, good, seconds, rows: runningRows(rows, pieces.length, { adds, takes, borne, waits }) };
  });
  const isMet = flows.every(({ rows, good, seconds }) => (rows.at(-1)?.on ?? 0) === good + seconds);
  return { flows, problems: isMet ? [] : [apart()] };
}

function apart(): Problem {
  return problem({
    code: "flow.apart",
    where: "Step by step",
    found: "a chain that does not end in the ledger's total",
    allowed: "one that does",
  });
}

/** What each piece bears of the normal loss of each step: as due, scaled to what it bears in all. */
function sharesByStep(steps: readonly PlainStep[], costs: EditionCosts): ReadonlyMap<string, readonly number[]> {
  const staying = costs.pieces.filter(({ outcome }) => outcome !== "lost" && outcome !== "not started");
  const bears = (piece: PieceCost, { order, isForSpecial }: PlainStep) =>
    (piece.outcome !== "in progress" || (piece.reached ?? 0) >= order) &&
    (tierOf(piece) === "special" || !isForSpecial);
  const each = steps.map((step) => {
    const bearers = staying.filter((piece) => bears(piece, step)).length;
    return bearers === 0 ? 0 : (costs.steps.find(({ id }) => id === step.id)?.normal ?? 0) / bearers;
  });
  return new Map(
    staying.map((piece) => {
      const dues = steps.map((step, at) => (bears(piece, step) ? (each[at] ?? 0) : 0));
      const due = total(dues);
      return [piece.id, dues.map((one) => (due === 0 ? 0 : (one * piece.lossShare) / due))];
    }),
  );
}

function sumsOf(
  step: string | undefined,
  pieces: readonly PieceCost[],
  edition: PlainEdition,
  shares: ReadonlyMap<string, readonly number[]>,
  waitsFor: ReadonlyMap<string, string | undefined>,
): Sums {
  const lostAt = new Map(edition.pieces.map(({ id, lostAt: at }) => [id, at]));
  const at = [...edition.steps].sort((a, b) => a.order - b.order).findIndex(({ id }) => id === step);
  const done = pieces.flatMap((piece) => (step === undefined ? [] : (piece.steps[step] ?? [])));
  const lost = pieces.filter(({ id }) => step !== undefined && lostAt.get(id) === step);
  const waiting = pieces.filter(({ id, outcome }) => outcome === "in progress" && waitsFor.get(id) === step);
  return {
    ...{ step, had: done.length, lost: lost.length, waiting: waiting.length },
    added: total(done.map(({ cost }) => cost)),
    takenOff: total(lost.map(({ own }) => own)),
    borne: total(pieces.map(({ id }) => shares.get(id)?.[at] ?? 0)),
  };
}

interface Minors {
  readonly adds: readonly number[];
  readonly takes: readonly number[];
  readonly borne: readonly number[];
  readonly waits: readonly number[];
}

/** The rows with what is carried from one to the next; steps at which nothing happened are left out. */
function runningRows(
  rows: readonly Sums[],
  started: number,
  { adds, takes, borne, waits }: Minors,
): readonly FlowRow[] {
  let [pieces, carried] = [started, 0];
  return rows.flatMap(({ step, had, lost, waiting }, at): FlowRow[] => {
    const [inPieces, carriedIn] = [pieces, carried];
    const parts = { added: adds[at] ?? 0, takenOff: takes[at] ?? 0, borne: borne[at] ?? 0, waits: waits[at] ?? 0 };
    pieces -= lost + waiting;
    carried += parts.added - parts.takenOff + parts.borne - parts.waits;
    const isQuiet = had + lost + waiting === 0 && Object.values(parts).every((minor) => minor === 0);
    return isQuiet ? [] : [{ step, inPieces, carriedIn, had, lost, waiting, ...parts, onPieces: pieces, on: carried }];
  });
}
