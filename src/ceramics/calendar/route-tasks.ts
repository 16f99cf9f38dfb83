// The tasks still to be done: each step of the route, a load's worth of pieces at a time. Loads are made up of
// the pieces furthest along, and of equals those with most ahead of them; what leads to a firing is done for the pieces of
// that load together.
import type { LoadKiln, WaitingPiece } from "../loads/kiln-room";
import { loadsInTurn } from "../loads/propose";
import { DAY_MINUTES, dayNumber } from "./days";
import type { LoadFacts, Task } from "./task";

/** A step as the calendar sees it. */
export interface CalendarStep {
  readonly id: string;
  readonly title: string;
  /** Minutes of work for a piece; nothing for a firing. */
  readonly minutesEach: number;
  /** Days a piece dries or rests after it. */
  readonly restDays: number;
  /** Where it is fired, if it is a firing. */
  readonly firing?: CalendarFiring;
}

/** What a load of a firing step takes. */
interface CalendarFiring {
  readonly kiln: string;
  /** Pieces to a load, where all are of one size. */
  readonly room: number;
  /** The room each piece takes, where they are of several sizes. */
  readonly sizes?: PieceSizes;
  /** What it is fired by. */
  readonly programme: string;
  /** The hottest it gets, °C, where its programme is described. */
  readonly peak?: number;
  /** From switching on until it can be unloaded, heating and cooling. */
  readonly hours: number;
  /** Work to load and unload it. */
  readonly loadingMinutes: number;
}

/** Pieces of several sizes, by id, and the kiln they go into. */
interface PieceSizes {
  readonly kiln: LoadKiln;
  readonly of: ReadonlyMap<string, WaitingPiece>;
}

/** A piece and what is still ahead of it, in the order of the route. */
export interface CalendarPiece {
  readonly id: string;
  readonly ahead: readonly string[];
  /** A planned firing that it goes through first. */
  readonly planned?: string;
  /** Until when it still rests from its last step, ISO 8601. */
  readonly restsUntil?: string;
  /** How many steps of the route are behind it, those it passed by included; 0 where nothing is said. */
  readonly behind?: number;
}

/** A firing that is planned for a day and not done yet. */
export interface PlannedFiring {
  readonly id: string;
  readonly kiln: string;
  readonly hours: number;
  readonly loadingMinutes: number;
  /** ISO 8601; without it, as soon as may be. */
  readonly day?: string;
  /** Days the pieces rest after it. */
  readonly restDays: number;
  /** What it is fired by and how many of the pieces in it a load takes, where that is known. */
  readonly load?: LoadFacts;
  /** What it goes by in every edition with pieces in it; undefined where it is this edition's alone. */
  readonly shared?: string;
}

/** Everything still to be done. */
export interface WorkAhead {
  readonly steps: readonly CalendarStep[];
  readonly pieces: readonly CalendarPiece[];
  readonly planned: readonly PlannedFiring[];
}

/** Pieces done together where no firing is left to say how many. */
const USUAL_BATCH = 24;

/** Makes the tasks of the work ahead, in the order of the route and of the loads. */
export function tasksAhead(work: WorkAhead): readonly Task[] {
  const pieces = work.pieces.filter((piece) => piece.ahead.length > 0 || piece.planned !== undefined);
  const indices = new Map(work.steps.map((step, at) => [step.id, at]));
  const progress = ({ ahead }: CalendarPiece) => indices.get(ahead[0] ?? "") ?? Number.MAX_SAFE_INTEGER;
  const ordered = [...pieces].sort((a, b) => progress(b) - progress(a) || b.ahead.length - a.ahead.length);
  const loads = loadOf(work, ordered);
  const tasks = new Map<string, Building>();
  for (const piece of ordered) {
    let before: { readonly task: string; readonly restMinutes: number } | undefined;
    if (piece.planned !== undefined) before = plannedTask(tasks, work, piece);
    for (const id of piece.ahead) {
      const step = work.steps[indices.get(id) ?? -1];
      if (!step) continue;
      const task = joined(tasks, step, loads(piece, step.id));
      task.pieces.push(piece.id);
      if (before) task.after.set(before.task, Math.max(before.restMinutes, task.after.get(before.task) ?? 0));
      else if (piece.restsUntil !== undefined) task.notBefore = Math.max(task.notBefore, minuteOf(piece.restsUntil));
      before = { task: task.id, restMinutes: wholeMinutes(step.restDays * DAY_MINUTES) };
    }
  }
  return finished(tasks, work.steps);
}

interface Building {
  readonly id: string;
  readonly step: CalendarStep | undefined;
  readonly planned: PlannedFiring | undefined;
  readonly number: string;
  readonly pieces: string[];
  readonly after: Map<string, number>;
  notBefore: number;
}

const wholeMinutes = (minutes: number) => Math.ceil(minutes - 1e-9);
const minuteOf = (day: string) => (dayNumber(day) ?? 0) * DAY_MINUTES;

function joined(tasks: Map<string, Building>, step: CalendarStep, load: string): Building {
  const id = `${step.id} ${load}`;
  let task = tasks.get(id);
  if (!task) {
    task = { id, step, planned: undefined, number: load, pieces: [], after: new Map(), notBefore: 0 };
    tasks.set(id, task);
  }
  return task;
}

function plannedTask(tasks: Map<string, Building>, work: WorkAhead, piece: CalendarPiece) {
  const planned = work.planned.find((one) => one.id === piece.planned);
  if (!planned) return undefined;
  const id = `planned ${planned.id}`;
  let task = tasks.get(id);
  if (!task) {
    const notBefore = planned.day === undefined ? 0 : minuteOf(planned.day);
    task = { id, step: undefined, planned, number: planned.id, pieces: [], after: new Map(), notBefore };
    tasks.set(id, task);
  }
  task.pieces.push(piece.id);
  return { task: id, restMinutes: wholeMinutes(planned.restDays * DAY_MINUTES) };
}

/** Says which load a piece is in at a step: that of the next firing ahead of it, else that of its last one. */
function loadOf(work: WorkAhead, pieces: readonly CalendarPiece[]): (piece: CalendarPiece, step: string) => string {
  const firings = new Map(work.steps.flatMap(({ id, firing }) => (firing ? [[id, firing]] : [])));
  const loads = new Map<string, number>();
  const share = (firing: string, parts: readonly (readonly string[])[]) => {
    for (const [at, part] of parts.entries()) for (const id of part) loads.set(`${firing} ${id}`, at + 1);
  };
  for (const [step, { room, sizes }] of firings) {
    const ids = pieces.filter(({ ahead }) => ahead.includes(step)).map(({ id }) => id);
    share(step, sizes ? inLoads(sizes, ids) : inEqualParts(room)(ids));
  }
  const all = pieces.map(({ id }) => id);
  share("", inEqualParts(USUAL_BATCH)(all));
  return (piece, step) => {
    const at = piece.ahead.indexOf(step);
    const isFiring = (id: string) => firings.has(id);
    const firing = piece.ahead.slice(at).find(isFiring) ?? piece.ahead.slice(0, at).findLast(isFiring);
    const load = loads.get(`${firing ?? ""} ${piece.id}`) ?? 1;
    return firing === undefined || firing === step ? String(load) : `${load} of ${firing}`;
  };
}

/** Loads that were asked for already: each remedy asks again for the same pieces. */
const KNOWN = new WeakMap<PieceSizes, Map<string, readonly (readonly string[])[]>>();

/** Parts pieces of several sizes into loads, the first of them into the first load. */
function inLoads(sizes: PieceSizes, ids: readonly string[]): readonly (readonly string[])[] {
  const known = KNOWN.get(sizes) ?? new Map<string, readonly (readonly string[])[]>();
  KNOWN.set(sizes, known);
  const key = ids.join("\n");
  const group = () => ids.flatMap((id) => sizes.of.get(id) ?? []);
  const parts = known.get(key) ?? loadsInTurn(group(), sizes.kiln).map((load) => load.map(({ id }) => id));
  known.set(key, parts);
  return parts;
}

/** Parts pieces into loads of so many, in their order. */
function inEqualParts(room: number): (pieces: readonly string[]) => readonly (readonly string[])[] {
  const size = Math.max(1, room);
  return (pieces) =>
    Array.from({ length: Math.ceil(pieces.length / size) }, (_, at) => pieces.slice(at * size, (at + 1) * size));
}

function finished(tasks: ReadonlyMap<string, Building>, steps: readonly CalendarStep[]): readonly Task[] {
  const order = new Map(steps.map((step, at) => [step.id, at]));
  return [...tasks.values()]
    .map((task, at) => ({ task, at, step: order.get(task.step?.id ?? "") ?? -1 }))
    .sort((a, b) => a.step - b.step || a.at - b.at)
    .map(({ task }) => toTask(task));
}

function toTask({ id, step, planned, pieces, after, notBefore, number }: Building): Task {
  const firing = planned ?? step?.firing;
  const load = planned ? planned.load : step?.firing && loadFacts(step.firing);
  return {
    id,
    step: step?.id ?? "",
    title: step ? step.title : number,
    pieces,
    workMinutes: wholeMinutes(firing ? firing.loadingMinutes : (step?.minutesEach ?? 0) * pieces.length),
    ...(firing ? { kiln: firing.kiln } : {}),
    kilnMinutes: firing ? wholeMinutes(firing.hours * 60) : 0,
    after: [...after].map(([task, restMinutes]) => ({ task, restMinutes })),
    ...(notBefore > 0 ? { notBefore } : {}),
    ...(load ? { load } : {}),
    ...(planned?.shared === undefined ? {} : { shared: planned.shared }),
  };
}

const loadFacts = ({ programme, peak, room }: CalendarFiring): LoadFacts => ({
  programme,
  room,
  ...(peak === undefined ? {} : { peak }),
});
