// All editions kept in this browser in one calendar: when each is ready, what moves when one is put first, whose firing has
// room for whom, and the calendar it comes from.
import { useEffect, useMemo } from "preact/hooks";
import { USUAL_CALENDAR } from "../../app/calendar/calendar";
import { CalendarDesk, type Shown } from "../../app/calendar/calendar-desk";
import { movedTo } from "../../app/calendar/studio-order";
import { hoursWords, letterOf, movesWords, offerWords, readyWords, workWords } from "../../app/calendar/studio-view";
import type { Session } from "../../app/edition/session";
import type { Studio } from "../../app/keeping/studio";
import type { OneCalendar } from "../../ceramics/calendar/one-calendar";
import { showPage } from "../edition/go-to";
import { Impossible } from "./impossible";
import { StudioDays } from "./studio-days";

interface Props {
  readonly session: Session;
  readonly studio: Studio;
}

/** How long nothing may move before the calendar is scheduled anew, in milliseconds. */
const QUIET = 300;

/** The calendar of the studio, read and scheduled while the page stays free. */
export function AllEditions({ session, studio }: Props) {
  const desk = useMemo(() => new CalendarDesk(studio, session), [studio, session]);
  useEffect(() => {
    void desk.read();
    return () => desk.stop();
  }, [desk]);
  const book = session.book.value;
  const version = session.valuesVersion.value;
  useEffect(() => {
    const timer = setTimeout(() => desk.schedule(), QUIET);
    return () => clearTimeout(timer);
  }, [desk, book, version]);
  const shown = desk.shown.value;
  return (
    <>
      <Progress desk={desk} />
      {shown && !shown.scheduled.ok ? <Impossible problems={shown.scheduled.problems} /> : null}
      {shown?.scheduled.ok ? (
        <>
          <Order desk={desk} shown={shown} calendar={shown.scheduled.value.calendar} {...{ session, studio }} />
          <Room shown={shown} session={session} />
          <StudioDays shown={shown} scheduled={shown.scheduled.value} {...{ session, studio }} />
        </>
      ) : null}
      {shown ? <LeftOutList shown={shown} studio={studio} /> : null}
    </>
  );
}

function Progress({ desk }: { readonly desk: CalendarDesk }) {
  const state = desk.state.value;
  const words = {
    idle: "",
    reading:
      state.kind === "reading" && state.of > 0 ? `Reading edition ${state.done + 1} of ${state.of}…` : "Reading…",
    scheduling: desk.moves.value.size > 0 ? "Trying what moves…" : "Making the calendar…",
    stopped: "Stopped: what is shown may be behind.",
    failed: state.kind === "failed" ? `The calendar could not be made: ${state.why}.` : "",
  }[state.kind];
  const isAtWork = state.kind === "reading" || state.kind === "scheduling";
  return (
    <div class="row progress">
      {isAtWork ? (
        <button type="button" onClick={() => desk.stop()}>
          Stop
        </button>
      ) : (
        <button type="button" onClick={() => void desk.read()}>
          Look again
        </button>
      )}
      <p class="quiet" role="status" data-testid="calendar-progress">
        {words}
      </p>
    </div>
  );
}

interface ShownProps extends Props {
  readonly shown: Shown;
}

interface OrderProps extends ShownProps {
  readonly desk: CalendarDesk;
  readonly calendar: OneCalendar;
}

/** The editions in the order in which they are done. */
function Order({ desk, shown, calendar, session, studio }: OrderProps) {
  const { editions, rules } = shown;
  const { locale } = session.formats;
  const ids = editions.map(({ edition }) => edition.id);
  const titleOf = (id: string) => titleIn(shown, id);
  const isOwn = rules.order.length > 0;
  const put = (id: string, index: number, words: string) =>
    void desk.order(movedTo(ids, id, index), `${titleOf(id)} ${words}`);
  return (
    <section aria-label="Editions in order">
      <div class="row">
        <h3>{isOwn ? "In your own order" : "By due date"}</h3>
        {isOwn ? (
          <button type="button" onClick={() => void desk.order([], "Editions by due date")}>
            Order by due date
          </button>
        ) : null}
      </div>
      <ol class="editions-order" data-testid="editions-order">
        {editions.map((one, at) => {
          const { id, title } = one.edition;
          const ready = calendar.editions[at];
          const isLate = (ready?.slackDays ?? 0) < 0;
          const moves = desk.moves.value.get(id);
          return (
            <li key={id}>
              <p>
                <b>
                  <span class="letter">{letterOf(at)}</span> {title}
                </b>
                : <span class={isLate ? "late" : undefined}>{ready ? readyWords(ready, locale) : ""}</span>
              </p>
              <p class="quiet">{workWords(one)}</p>
              {moves ? <p data-testid="moves">{movesWords(moves, id, titleOf)}</p> : null}
              <div class="acts">
                {at > 0 ? (
                  <button type="button" onClick={() => put(id, 0, "comes first")}>
                    Put first<span class="unseen">: {title}</span>
                  </button>
                ) : null}
                {at > 1 ? (
                  <button type="button" class="plain" onClick={() => put(id, at - 1, "comes one earlier")}>
                    One earlier<span class="unseen">: {title}</span>
                  </button>
                ) : null}
                {id === studio.editionId.value ? null : (
                  <button type="button" class="plain" onClick={() => void studio.openStored(id)}>
                    Open<span class="unseen">: {title}</span>
                  </button>
                )}
              </div>
            </li>
          );
        })}
      </ol>
      <p class="quiet">
        {hoursWords(rules, locale)}{" "}
        <button type="button" class="plain" onClick={() => showPage(session, "shelf")}>
          Go to The shelf
        </button>
      </p>
      {rules.of === "the shelf" && differs(session, rules) ? (
        <p class="quiet">This edition’s own hours and days off are others; by itself it goes by those.</p>
      ) : null}
    </section>
  );
}

function differs(session: Session, { hours: { hours, closed, people } }: Shown["rules"]): boolean {
  const own = session.book.value.meta.calendar ?? USUAL_CALENDAR;
  return JSON.stringify([own.hours, own.closed, own.people]) !== JSON.stringify([hours, closed, people]);
}

const titleIn = ({ editions }: Shown, id: string) =>
  editions.find(({ edition }) => edition.id === id)?.edition.title ?? id;

/** Offers that are read at once; the others are folded. */
const OFFERS_SHOWN = 4;

function Room({ shown, session }: Omit<ShownProps, "studio">) {
  const offers = shown.scheduled.ok ? shown.scheduled.value.offers : [];
  const words = offers.map((offer) => offerWords(offer, (id) => titleIn(shown, id), session.formats.locale));
  if (words.length === 0) return null;
  const list = (some: readonly string[]) => (
    <ul>
      {some.map((one, at) => (
        <li key={`${at}`}>{one}</li>
      ))}
    </ul>
  );
  return (
    <section aria-label="Room in firings" data-testid="free-room">
      <h3>Room in firings</h3>
      {list(words.slice(0, OFFERS_SHOWN))}
      {words.length > OFFERS_SHOWN ? (
        <details>
          <summary>{words.length - OFFERS_SHOWN} more</summary>
          {list(words.slice(OFFERS_SHOWN))}
        </details>
      ) : null}
      <p class="quiet">
        The same kiln, and as hot to 5 °C, or by the same programme where that is not described. The calendar itself
        puts no pieces of two editions together.
      </p>
    </section>
  );
}

function LeftOutList({ shown, studio }: Omit<ShownProps, "session">) {
  if (shown.leftOut.length === 0) return null;
  return (
    <section aria-label="Not in this calendar" data-testid="left-out">
      <h3>Not in this calendar</h3>
      <ul>
        {shown.leftOut.map(({ id, title, why, isWrong }) => (
          <li key={id}>
            <b>
              {isWrong ? "⚠ " : ""}
              {title}
            </b>
            : {why}{" "}
            {isWrong && id !== studio.editionId.value ? (
              <button type="button" class="plain" onClick={() => void studio.openStored(id)}>
                Open<span class="unseen">: {title}</span>
              </button>
            ) : null}
          </li>
        ))}
      </ul>
    </section>
  );
}
