// Ready when: the earliest end, what holds it up, what would help, and the calendar it comes from.

import { dayName } from "../../app/edition/day-name";
import { counted } from "../../core/counted";
import "../shell/pages.css";
import "../loads/loads.css";
import "./calendar.css";
import { signal } from "@preact/signals";
import { useEffect, useMemo } from "preact/hooks";
import { type CalendarRead, readCalendar } from "../../app/calendar/calendar";
import {
  headline,
  holdUpSentences,
  holdWords,
  pictureOf,
  remedyOutcome,
  remedyWords,
  stepRows,
  taskName,
  timeName,
} from "../../app/calendar/calendar-view";
import { othersRunning } from "../../app/calendar/studio-read";
import { perSession } from "../../app/edition/per-session";
import type { Session } from "../../app/edition/session";
import type { Studio } from "../../app/keeping/studio";
import { type Ready, readyWhen } from "../../ceramics/calendar/ready";
import { remedies, startBy } from "../../ceramics/calendar/remedies";
import { PageWords } from "../controls/page-words";
import { Picture } from "../controls/picture";
import { TableHead } from "../controls/table-head";
import { AllEditions } from "./all-editions";
import { CalendarForm } from "./calendar-form";
import { Impossible } from "./impossible";
import { SaveCalendar } from "./save-calendar";

interface PageProps {
  readonly session: Session;
  readonly studio: Studio;
}

/** Whether all editions are shown: kept as long as the edition is open. */
const isAllOf = perSession(() => signal(false));

/** When the open edition is ready by itself, or all editions of the studio together. */
export function CalendarPage({ session, studio }: PageProps) {
  useEffect(() => void studio.refreshList(), [studio]);
  const isAll = isAllOf(session);
  const others = othersRunning(studio);
  const isShared = others > 0 && isAll.value;
  return (
    <article class="paper calendar" id="sheet" tabIndex={-1} aria-label="Ready when" data-testid="calendar">
      <header>
        <h2>Ready when</h2>
        <PageWords page="calendar" />
      </header>
      {others > 0 ? (
        <fieldset class="whose">
          <legend>Calendar of</legend>
          {[false, true].map((one) => (
            <label key={String(one)}>
              <input
                type="radio"
                name="whose-calendar"
                checked={isAll.value === one}
                onChange={() => {
                  isAll.value = one;
                }}
              />{" "}
              {one ? `all editions kept here, in one studio` : `${session.book.value.meta.title} by itself`}
            </label>
          ))}
        </fieldset>
      ) : null}
      {isShared ? <AllEditions session={session} studio={studio} /> : <ByItself session={session} studio={studio} />}
    </article>
  );
}

/** The calendar of the open edition, in its own hours. */
function ByItself({ session, studio }: PageProps) {
  const book = session.book.value;
  const version = session.valuesVersion.value;
  const read = useMemo(() => readCalendar(session), [book, version]);
  const ready = useMemo(() => (read?.ok ? readyWhen(read.value.input) : undefined), [read]);
  const ownChoice = () => ({
    editions: [
      {
        ...{ id: studio.editionId.value ?? "", title: book.meta.title, due: book.meta.calendar?.due },
        steps: read?.ok ? read.value.input.steps : [],
      },
    ],
    slots: ready?.ok ? ready.value.slots : [],
  });
  return (
    <>
      {read === undefined ? <p class="quiet">The work ahead is being calculated…</p> : null}
      {read && !read.ok ? <Impossible problems={read.problems} /> : null}
      {ready && !ready.ok ? <Impossible problems={ready.problems} /> : null}
      {read?.ok && ready?.ok ? <Answer session={session} read={read.value} ready={ready.value} /> : null}
      <CalendarForm session={session} />
      {read?.ok && ready?.ok && ready.value.slots.length > 0 ? (
        <>
          <Calendar session={session} read={read.value} ready={ready.value} />
          <SaveCalendar session={session} studio={studio} name={book.meta.title} choice={ownChoice} />
        </>
      ) : null}
    </>
  );
}

interface ReadyProps {
  readonly session: Session;
  readonly read: CalendarRead;
  readonly ready: Ready;
}

function Answer({ session, read, ready }: ReadyProps) {
  const { locale } = session.formats;
  const isLate = ready.slackDays !== undefined && ready.slackDays < 0;
  const helpful = useMemo(() => remedies(read.input, ready), [read, ready]);
  const begin = useMemo(() => startBy(read.input, ready), [read, ready]);
  const { started, toStart } = read;
  return (
    <div class={isLate ? "answer late" : "answer"}>
      <p class="headline" data-testid="ready" role="status">
        {isLate ? "⚠ " : ""}
        {headline(ready, locale)}
      </p>
      {ready.slots.length === 0 ? null : (
        <p class="quiet">
          {counted(started, "piece is", "pieces are")} on the way
          {toStart > 0 ? ` and ${toStart} still to be started` : ""}; work goes on from{" "}
          {dayName(read.input.from, locale)}.
        </p>
      )}
      {holdUpSentences(ready, locale).map((sentence) => (
        <p key={sentence} class="words">
          {sentence}
        </p>
      ))}
      {begin !== undefined && ready.slots.length > 0 ? (
        <p class="words">
          {isLate
            ? `For that day it would have had to begin by ${dayName(begin, locale)}.`
            : `It can begin as late as ${dayName(begin, locale)}.`}
        </p>
      ) : null}
      {isLate ? <Remedies found={helpful} locale={locale} /> : null}
    </div>
  );
}

function Remedies({ found, locale }: { readonly found: ReturnType<typeof remedies>; readonly locale: string }) {
  if (found.length === 0)
    return (
      <p class="words">Nothing that was tried would make it earlier: look at the days of rest and the due date.</p>
    );
  return (
    <>
      <h3>What would help</h3>
      <ol class="remedies" data-testid="remedies">
        {found.map((remedy) => {
          const words = remedyWords(remedy.way, locale);
          return (
            <li key={words}>
              <b>{words}</b>: {remedyOutcome(remedy, locale)}
              {remedy.meetsDue ? <span class="meets"> in time</span> : null}
            </li>
          );
        })}
      </ol>
      <p class="quiet">Each was tried by making the calendar anew; nothing is changed by it.</p>
    </>
  );
}

function Calendar({ session, read, ready }: ReadyProps) {
  const { locale } = session.formats;
  const { steps } = read.input;
  const rows = stepRows(ready);
  const picture = pictureOf(ready, steps, session.today(), locale);
  return (
    <>
      <h3>The calendar</h3>
      <ul class="legend" aria-hidden="true">
        <li class="firing">firing, pieces in it</li>
        <li class="work">work</li>
        <li class="rest">rest</li>
        <li class="holds">the end hangs on it</li>
        <li class="closed">closed</li>
      </ul>
      <Picture
        label={`Calendar by kiln and step, from ${dayName(read.input.from, locale)} to ${dayName(ready.finish, locale)}; the table has the same days`}
        of={[ready, locale]}
        draw={async (width) => (await import("../../charts/calendar-plots")).drawCalendar(picture, width)}
      />
      <table class="plain-table wide">
        <TableHead titles={["Step", "loads", "pieces", "begins", "ends"]} />
        <tbody>
          {rows.map((row) => (
            <tr key={row.title}>
              <th scope="row">{row.title}</th>
              <td>{row.loads}</td>
              <td>{row.pieces}</td>
              <td>{timeName(row.from, locale)}</td>
              <td>{timeName(row.to, locale)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <details>
        <summary>Load by load, and why each begins when it does</summary>
        <Tasks session={session} read={read} ready={ready} />
      </details>
      <details>
        <summary>How this is calculated</summary>
        <Rules notes={read.notes} />
      </details>
    </>
  );
}

function Tasks({ session, read, ready }: ReadyProps) {
  const { locale } = session.formats;
  const { steps } = read.input;
  const chain = new Set(ready.chain);
  return (
    <div>
      <table class="plain-table wide tasks">
        <TableHead titles={["What", "pieces", "begins", "ends", "because"]} />
        <tbody>
          {ready.slots.map((slot) => (
            <tr key={slot.task.id} class={chain.has(slot.task.id) ? "on-chain" : ""}>
              <th scope="row">
                {taskName(slot.task, steps)}
                {chain.has(slot.task.id) ? <small> the end hangs on it</small> : null}
              </th>
              <td>{slot.task.pieces.length}</td>
              <td>{timeName(slot.start, locale)}</td>
              <td>{timeName(slot.end, locale)}</td>
              <td>{holdWords(slot, ready, steps)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

const RULES = [
  "Pieces go through the route a kiln load at a time, those furthest along first; where two are as far, the one with more still to do.",
  "Of the work that can begin, what has the most still to come after it goes first, as soon as someone is free and its kiln is empty; nothing is moved afterwards.",
  "Work stops when the studio closes and goes on when it opens, at nine or earlier where hours are long. Firing, cooling and drying go on day and night.",
  "A kiln is loaded in working hours; unloading is counted with loading. It is shut until it has cooled.",
  "Every piece not lost so far is assumed to come through: a loss can only bring the day forward. Steps that only some pieces need are left out.",
];

function Rules({ notes }: { readonly notes: readonly string[] }) {
  return (
    <ul>
      {[...RULES, ...notes].map((rule) => (
        <li key={rule}>{rule}</li>
      ))}
    </ul>
  );
}
