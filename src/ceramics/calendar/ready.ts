// When everything can be ready: the calendar of the work ahead, its end, the due date, and what holds it up.
import { counted } from "../../core/counted";
import { fail, ok, type Problem, problem, type Result } from "../../core/problem";
import { DAY_MINUTES, dayNumber, isoDay } from "./days";
import { criticalChain, type HoldUp, holdUps } from "./held-up";
import { tasksAhead, type WorkAhead } from "./route-tasks";
import { type Schedule, schedule } from "./schedule";
import type { Slot } from "./task";
import type { StudioHours } from "./work-time";

/** The work ahead, when the studio works, and the dates it is asked about; days are ISO 8601. */
export interface CalendarInput extends WorkAhead {
  readonly studio: StudioHours;
  /** How many there are of each kiln; one where nothing is said. */
  readonly kilns: Readonly<Record<string, number>>;
  readonly from: string;
  readonly due?: string;
}

/** A calendar with its end; `slots` is empty where nothing is left to do. */
export interface Ready {
  readonly slots: readonly Slot[];
  readonly calendar: Schedule;
  readonly fromDay: number;
  /** The day on which the last task ends. */
  readonly finish: string;
  readonly due: string | undefined;
  /** Days between the end and the due date; negative where it is too late. */
  readonly slackDays: number | undefined;
  readonly chain: readonly string[];
  readonly holdUps: readonly HoldUp[];
}

/** Calculates when everything can be ready, or says what makes it impossible. */
export function readyWhen(input: CalendarInput): Result<Ready> {
  const problems = inputProblems(input);
  if (problems.length > 0) return fail(...problems);
  const fromDay = dayNumber(input.from) ?? 0;
  const made = schedule({ tasks: tasksAhead(input), studio: input.studio, kilns: input.kilns, firstDay: fromDay });
  if (!made.ok) return made;
  const end = made.value.slots.reduce((last, slot) => Math.max(last, slot.end), fromDay * DAY_MINUTES + 1);
  // What ends at midnight is ready on the day before.
  const finishDay = Math.ceil(end / DAY_MINUTES) - 1;
  const due = input.due === undefined ? undefined : dayNumber(input.due);
  const chain = criticalChain(made.value);
  return ok({
    slots: made.value.slots,
    calendar: made.value,
    fromDay,
    finish: isoDay(finishDay),
    due: input.due,
    slackDays: due === undefined ? undefined : due - finishDay,
    chain: chain.map(({ slot }) => slot.task.id),
    holdUps: holdUps(chain, fromDay * DAY_MINUTES),
  });
}

/** What is wrong with days and steps; only steps that a piece still has ahead are looked at. */
export function inputProblems(input: WorkAhead & { readonly from: string; readonly due?: string }): readonly Problem[] {
  const found: Problem[] = [];
  const day = (where: string, iso: string | undefined) => {
    if (iso !== undefined && dayNumber(iso) === undefined)
      found.push(problem({ code: "calendar.day", where, found: iso, allowed: "a day such as 2026-12-24" }));
  };
  day("Due", input.due);
  day("Start", input.from);
  const needed = new Set(input.pieces.flatMap(({ ahead }) => ahead));
  for (const { id, title, firing, minutesEach, restDays } of input.steps.filter((step) => needed.has(step.id))) {
    const numbers = [minutesEach, restDays, firing?.hours ?? 0, firing?.loadingMinutes ?? 0];
    if (numbers.some((each) => !(each >= 0 && each < 1e6)))
      found.push(
        problem({ code: "calendar.step", where: title, found: numbers.join(", "), allowed: "times of 0 or more" }),
      );
    if (firing && !(firing.room >= 1))
      found.push(
        problem({
          code: "calendar.room",
          where: title,
          found: `room for ${counted(firing.room, "piece")} in ${firing.kiln}`,
          allowed: "a kiln that takes the piece",
          fix: "Choose another kiln for it on the Route sheet.",
        }),
      );
    if (input.steps.filter((step) => step.id === id).length > 1)
      found.push(
        problem({ code: "calendar.twice", where: "The route", found: `${title} twice`, allowed: "each step once" }),
      );
  }
  return found;
}
