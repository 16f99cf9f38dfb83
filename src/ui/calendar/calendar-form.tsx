// When it is due and when the studio works; each entry is one step that can be undone.
import { useState } from "preact/hooks";
import { USUAL_CALENDAR } from "../../app/calendar/calendar";
import { addDaysOff, removeDaysOff, setDue, setHours, setPeople, setStart } from "../../app/calendar/calendar-commands";
import { dayName } from "../../app/edition/day-name";
import type { Session } from "../../app/edition/session";
import { dayNumber } from "../../ceramics/calendar/days";
import { DateInput } from "../controls/date-input";

const DAYS = ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"];

/** The due date, hours and days off. */
export function CalendarForm({ session }: { readonly session: Session }) {
  const calendar = session.book.value.meta.calendar;
  const { hours, people, due = "", from = "" } = calendar ?? USUAL_CALENDAR;
  return (
    <div class="calendar-form">
      <div class="paper-tools">
        <label>
          <span>Due</span>
          <DateInput value={due} onChange={(event) => setDue(session, event.currentTarget.value)} />
        </label>
        <label>
          <span>Begin, if not today</span>
          <DateInput value={from} onChange={(event) => setStart(session, event.currentTarget.value)} />
        </label>
        <fieldset>
          <legend>Hours worked</legend>
          <div class="week">
            {DAYS.map((day, at) => (
              <Hours key={day} day={day} value={hours[at] ?? 0} onSet={(value) => setHours(session, at, value)} />
            ))}
          </div>
        </fieldset>
        <label>
          <span>People</span>
          <input
            class="tiny"
            type="number"
            min={1}
            max={100}
            value={people}
            onChange={(event) => {
              if (!setPeople(session, event.currentTarget.valueAsNumber)) event.currentTarget.value = String(people);
            }}
          />
        </label>
      </div>
      {calendar === undefined ? (
        <p class="quiet">These are usual hours, until you say when your studio works.</p>
      ) : null}
      <DaysOff session={session} closed={calendar?.closed ?? []} />
    </div>
  );
}

interface HoursProps {
  readonly day: string;
  readonly value: number;
  readonly onSet: (hours: number) => boolean;
}

function Hours({ day, value, onSet }: HoursProps) {
  return (
    <label>
      <span>{day}</span>
      <input
        class="tiny"
        type="number"
        min={0}
        max={24}
        step={0.5}
        value={value}
        onChange={(event) => {
          if (!onSet(event.currentTarget.valueAsNumber)) event.currentTarget.value = String(value);
        }}
      />
    </label>
  );
}

/** Runs of days that follow one another, so that a holiday is one thing. */
function runsOf(days: readonly string[]): readonly (readonly string[])[] {
  const runs: string[][] = [];
  for (const day of [...days].sort()) {
    const open = runs.at(-1);
    const before = open?.at(-1);
    if (open && before !== undefined && dayNumber(day) === (dayNumber(before) ?? 0) + 1) open.push(day);
    else runs.push([day]);
  }
  return runs;
}

function DaysOff({ session, closed }: { readonly session: Session; readonly closed: readonly string[] }) {
  const { locale } = session.formats;
  const [first, setFirst] = useState("");
  const [last, setLast] = useState("");
  const add = () => {
    if (!addDaysOff(session, first, last)) return;
    setFirst("");
    setLast("");
  };
  return (
    <fieldset class="days-off">
      <legend>Days off</legend>
      <ul>
        {runsOf(closed).map((run) => {
          const [from = "", to = from] = [run[0], run.at(-1)];
          const name =
            from === to ? dayName(from, locale) : `${dayName(from, locale, "short")} to ${dayName(to, locale)}`;
          return (
            <li key={from}>
              {name}{" "}
              <button
                type="button"
                class="plain"
                onClick={() => removeDaysOff(session, run)}
                aria-label={`Open on ${name}`}
              >
                open after all
              </button>
            </li>
          );
        })}
      </ul>
      <div class="row">
        <label>
          <span>From</span>
          <DateInput value={first} onInput={(event) => setFirst(event.currentTarget.value)} />
        </label>
        <label>
          <span>to, if more than one</span>
          <DateInput value={last} onInput={(event) => setLast(event.currentTarget.value)} />
        </label>
        <button type="button" disabled={first === ""} onClick={add}>
          Add days off
        </button>
      </div>
    </fieldset>
  );
}
