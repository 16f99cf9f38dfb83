// Loads as the maker arranges them before they become firings: moved, renamed, given a kiln, a programme and a day.
// A draft is not part of the document; the firings made from it are.

import type { LoadKiln } from "../../ceramics/loads/kiln-room";
import { type LoadState, weighLoad } from "../../ceramics/loads/load";
import { type Company, companyFor, type Proposal } from "../../ceramics/loads/propose";
import { listed } from "../../core/counted";
import { fail, ok, problem, type Result } from "../../core/problem";
import { type LoadCosts, type LoadsRead, programmeOf, type UnreadFiring, type Waiting } from "./loads";

/** A load under way. `firing` is what its pieces have in common; `tops` the row of a firing that is there already. */
export interface DraftLoad {
  readonly key: number;
  readonly name: string;
  readonly kiln: string;
  readonly programme: string;
  readonly date: string;
  readonly firing: string;
  readonly tops?: string;
  /** Row ids. */
  readonly pieces: readonly string[];
}

export interface Draft {
  readonly loads: readonly DraftLoad[];
}

/** How new loads are named and dated: the names not taken yet, and the day for the so-manyeth load of a kiln. */
export interface Naming {
  readonly names: (programmes: readonly string[]) => readonly string[];
  readonly day: (kiln: string, firing: string, nth: number) => string;
}

/** Turns a proposal into loads with names and days. */
export function draftFrom(proposal: Proposal, unread: readonly UnreadFiring[], naming: Naming): Draft {
  const names = naming.names(
    proposal.loads.filter(({ tops }) => tops === undefined).map(({ firing }) => programmeOf(firing) ?? ""),
  );
  const loadsOf = new Map<string, number>();
  let named = 0;
  const loads = proposal.loads.map((load, key): DraftLoad => {
    const pieces = load.pieces.map((piece) => (piece as Waiting).row);
    const planned = unread.find(({ row }) => row === load.tops);
    const base = { key, kiln: load.kiln, firing: load.firing, programme: programmeOf(load.firing) ?? "", pieces };
    if (planned) return { ...base, name: planned.name, date: planned.date, tops: planned.row };
    const nth = loadsOf.get(load.kiln) ?? 0;
    loadsOf.set(load.kiln, nth + 1);
    const name = names[named] ?? "";
    named += 1;
    return { ...base, name, date: naming.day(load.kiln, load.firing, nth) };
  });
  return { loads };
}

/** The draft after pieces have left or come to wait: those gone are taken out; new ones stay waiting. */
export function keepWaiting(draft: Draft, waiting: readonly Waiting[]): Draft {
  const still = new Set(waiting.map(({ row }) => row));
  return { loads: draft.loads.map((load) => ({ ...load, pieces: load.pieces.filter((row) => still.has(row)) })) };
}

/** Pieces that are in no load of the draft. */
export function leftWaiting(draft: Draft, waiting: readonly Waiting[]): readonly Waiting[] {
  const placed = new Set(draft.loads.flatMap(({ pieces }) => pieces));
  return waiting.filter(({ row }) => !placed.has(row));
}

/** Where pieces are moved: into a load by its key, into a new one, or out of all of them. */
export type Target = number | "new" | "wait";

/** Moves pieces; refused where they are not fired by what the load is fired by, or by two things at once. */
export function movePieces(
  draft: Draft,
  pieces: readonly Waiting[],
  to: Target,
  fresh: { readonly name: string; readonly kiln: string; readonly date: string },
): Result<Draft> {
  const moved = new Set(pieces.map(({ row }) => row));
  const kinds = [...new Set(pieces.map(({ firing }) => firing))];
  const target = draft.loads.find(({ key }) => key === to);
  const firing = to === "wait" ? undefined : (target?.firing ?? kinds[0]);
  const apart = firing === undefined ? [] : pieces.filter((piece) => piece.firing !== firing);
  if (firing !== undefined && apart.length > 0)
    return fail(
      problem({
        code: "load.programme",
        where: target ? `Load ${target.name}` : "A new load",
        found: `${listed(apart.map(({ id }) => id))}, fired by ${apart[0]?.firing}`,
        allowed: `pieces fired by ${firing}`,
        fix: "Pieces share a load only where their programmes are the same.",
      }),
    );
  const loads = draft.loads.map((load) => ({
    ...load,
    pieces: [...load.pieces.filter((row) => !moved.has(row)), ...(load.key === to ? moved : [])],
  }));
  if (to !== "new" || firing === undefined) return ok({ loads });
  const key = Math.max(-1, ...loads.map((load) => load.key)) + 1;
  return ok({ loads: [...loads, { key, ...fresh, firing, programme: programmeOf(firing) ?? "", pieces: [...moved] }] });
}

/** Changes what is said of a load. */
export function editLoad(
  draft: Draft,
  key: number,
  is: Partial<Pick<DraftLoad, "name" | "kiln" | "programme" | "date">>,
): Draft {
  return { loads: draft.loads.map((load) => (load.key === key ? { ...load, ...is } : load)) };
}

/** Takes a load away; its pieces go on waiting. */
export function dropLoad(draft: Draft, key: number): Draft {
  return { loads: draft.loads.filter((load) => load.key !== key) };
}

/** A load as it stands: how full, what it costs, what keeps it back, and what company would save a piece alone. */
export interface LoadView {
  readonly load: DraftLoad;
  readonly kiln: LoadKiln | undefined;
  readonly pieces: readonly Waiting[];
  /** Pieces that are in the planned firing already. */
  readonly before: number;
  readonly state: LoadState | undefined;
  readonly problems: readonly string[];
  /** Of the whole firing, or of what the added pieces add to a planned one; unknown where the kiln can't fire it. */
  readonly cost: number | undefined;
  readonly costEach: number | undefined;
  /** What a piece bears here and in a full load, where this load is not full. */
  readonly company: Company | undefined;
}

/** Looks at a load against its kiln. */
export function viewLoad(load: DraftLoad, read: LoadsRead, costs: LoadCosts): LoadView {
  const byRow = new Map(read.waiting.map((piece) => [piece.row, piece]));
  const pieces = load.pieces.flatMap((row) => byRow.get(row) ?? []);
  const before = read.unread.find(({ row }) => row === load.tops)?.pieces ?? [];
  const kiln = read.kilns.find(({ id }) => id === load.kiln);
  const key = load.programme === "" ? load.firing : load.programme;
  const cost = costs.costOf(load.kiln, key);
  const state = kiln && weighLoad([...before, ...pieces], kiln, read.say);
  const whole = cost && (load.tops === undefined ? cost.empty : 0) + cost.each * pieces.length;
  return {
    load,
    kiln,
    pieces,
    before: before.length,
    state,
    problems: [...(state?.problems ?? []), ...costs.unable(load.kiln, key)].map(({ message }) => message),
    cost: whole,
    costEach: cost && pieces.length > 0 ? cost.empty / (pieces.length + before.length) + cost.each : undefined,
    company: pieces.length > 0 && kiln && cost ? companyFor([...before, ...pieces], kiln, cost) : undefined,
  };
}
