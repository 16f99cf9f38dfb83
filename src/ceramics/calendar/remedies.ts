// What would bring the end to the due date: each way is tried by making the calendar anew, none is guessed.
import { dayNumber, isoDay } from "./days";
import { type CalendarInput, type Ready, readyWhen } from "./ready";

/** One way to be ready earlier, with when everything would be ready then. */
export interface Remedy {
  readonly way: RemedyWay;
  readonly finish: string;
  readonly daysGained: number;
  readonly meetsDue: boolean;
}

export type RemedyWay =
  | { readonly kind: "day"; readonly weekday: number; readonly hours: number }
  | { readonly kind: "hours"; readonly more: number }
  | { readonly kind: "days off"; readonly days: readonly string[] }
  | { readonly kind: "person" }
  | { readonly kind: "kiln"; readonly kiln: string }
  | { readonly kind: "fewer"; readonly pieces: number; readonly of: number }
  | { readonly kind: "both"; readonly ways: readonly RemedyWay[] };

const MOST_MORE_HOURS = 4;
const LONGEST_DAY_HOURS = 14;

/** Tries what would help, those that meet the due date first and then by the days they gain; nothing where no date is due. */
export function remedies(input: CalendarInput, now: Ready): readonly Remedy[] {
  if (now.due === undefined || now.slackDays === undefined || now.slackDays >= 0) return [];
  const attempt = (way: RemedyWay): Remedy[] => {
    const tried = readyWhen(withWay(input, way));
    if (!tried.ok) return [];
    const daysGained = (dayNumber(now.finish) ?? 0) - (dayNumber(tried.value.finish) ?? 0);
    return [{ way, finish: tried.value.finish, daysGained, meetsDue: (tried.value.slackDays ?? -1) >= 0 }];
  };
  const single = singleWays(input, now)
    .flatMap(attempt)
    .filter(({ daysGained }) => daysGained > 0);
  const tried = [...single, ...longerDays(input, attempt), ...fewerPieces(input, attempt)];
  const pair = tried.some(({ meetsDue, way }) => meetsDue && way.kind !== "fewer") ? [] : together(tried, attempt);
  return [...tried, ...pair].sort((a, b) => Number(b.meetsDue) - Number(a.meetsDue) || b.daysGained - a.daysGained);
}

function singleWays({ studio }: CalendarInput, now: Ready): readonly RemedyWay[] {
  const longest = Math.max(...studio.hours);
  const dueOrEnd = now.finish;
  const off = studio.closed.filter((day) => day <= dueOrEnd && (dayNumber(day) ?? 0) >= now.fromDay);
  const kiln = now.holdUps.find(({ kind }) => kind === "kiln");
  const shut = [5, 6].find((weekday) => studio.hours[weekday] === 0);
  return [
    ...(shut === undefined ? [] : [{ kind: "day", weekday: shut, hours: longest } as const]),
    ...(off.length > 0 ? [{ kind: "days off", days: off } as const] : []),
    { kind: "person" },
    ...(kiln ? [{ kind: "kiln", kiln: kiln.name } as const] : []),
  ];
}

/** The fewest more hours a day that meet the date, or the most where none do. */
function longerDays(input: CalendarInput, attempt: (way: RemedyWay) => Remedy[]): Remedy[] {
  let last: Remedy[] = [];
  for (let more = 1; more <= MOST_MORE_HOURS; more += 1) {
    if (Math.max(...input.studio.hours) + more > LONGEST_DAY_HOURS) break;
    const tried = attempt({ kind: "hours", more });
    if (tried[0] && tried[0].daysGained > 0) last = tried;
    if (tried[0]?.meetsDue) break;
  }
  return last;
}

/** As many of the pieces as can be ready in time, those furthest along; nothing where none can. */
function fewerPieces(input: CalendarInput, attempt: (way: RemedyWay) => Remedy[]): Remedy[] {
  const of = input.pieces.length;
  let [low, high] = [0, of];
  let best: Remedy[] = [];
  while (high - low > 1) {
    const pieces = (low + high) >> 1;
    const tried = attempt({ kind: "fewer", pieces, of });
    if (tried[0]?.meetsDue) [low, best] = [pieces, tried];
    else high = pieces;
  }
  return best;
}

/** The first two ways that do it together, where no single one does. */
function together(tried: readonly Remedy[], attempt: (way: RemedyWay) => Remedy[]): Remedy[] {
  const helpful = tried.filter(({ way }) => way.kind !== "fewer").map(({ way }) => way);
  for (const [at, one] of helpful.entries())
    for (const other of helpful.slice(at + 1)) {
      const found = attempt({ kind: "both", ways: [one, other] });
      if (found[0]?.meetsDue) return found;
    }
  return [];
}

function withWay(input: CalendarInput, way: RemedyWay): CalendarInput {
  const { studio } = input;
  switch (way.kind) {
    case "day":
      return { ...input, studio: { ...studio, hours: studio.hours.with(way.weekday, way.hours) } };
    case "hours":
      return {
        ...input,
        studio: { ...studio, hours: studio.hours.map((each) => (each > 0 ? Math.min(24, each + way.more) : 0)) },
      };
    case "days off":
      return { ...input, studio: { ...studio, closed: studio.closed.filter((day) => !way.days.includes(day)) } };
    case "person":
      return { ...input, studio: { ...studio, people: studio.people + 1 } };
    case "kiln":
      return { ...input, kilns: { ...input.kilns, [way.kiln]: (input.kilns[way.kiln] ?? 1) + 1 } };
    case "fewer":
      return { ...input, pieces: furthestFirst(input).slice(0, way.pieces) };
    case "both":
      return way.ways.reduce(withWay, input);
  }
}

function furthestFirst({ pieces, steps }: CalendarInput) {
  const indices = new Map(steps.map((step, at) => [step.id, at]));
  const progress = (ahead: readonly string[]) => indices.get(ahead[0] ?? "") ?? Number.MAX_SAFE_INTEGER;
  return [...pieces].sort((a, b) => progress(b.ahead) - progress(a.ahead) || a.ahead.length - b.ahead.length);
}

/** The last day on which the work could begin and still be ready by the due date; nothing where no date is due or it is never so. */
export function startBy(input: CalendarInput, now: Ready): string | undefined {
  if (now.due === undefined || now.slackDays === undefined) return undefined;
  const meets = (day: number) => {
    const tried = readyWhen({ ...input, from: isoDay(day) });
    return tried.ok && (tried.value.slackDays ?? -1) >= 0;
  };
  // From somewhat after the start that would just do, back day by day: days off make the way there uneven.
  const last = now.fromDay + now.slackDays + SEARCH_DAYS;
  for (let day = last; day >= last - 4 * SEARCH_DAYS - Math.max(0, -now.slackDays); day -= 1)
    if (meets(day)) return isoDay(day);
  return undefined;
}

const SEARCH_DAYS = 7;
