// The one calendar as a picture, with the tables behind it, and as a file.
import { Fragment } from "preact";
import type { Shown } from "../../app/calendar/calendar-desk";
import { timeName } from "../../app/calendar/calendar-view";
import type { ScheduledCalendar } from "../../app/calendar/schedule-client";
import { editionRows, firingRows, letterOf, type SlotRow, studioPicture } from "../../app/calendar/studio-view";
import type { Session } from "../../app/edition/session";
import type { Studio } from "../../app/keeping/studio";
import { Picture } from "../controls/picture";
import { Scrolled } from "../controls/scrolled";
import { TableHead } from "../controls/table-head";
import { SaveCalendar } from "./save-calendar";

interface Props {
  readonly session: Session;
  readonly studio: Studio;
  readonly shown: Shown;
  readonly scheduled: ScheduledCalendar;
}

/** Kilns and editions over the days. */
export function StudioDays({ session, studio, shown, scheduled: { calendar } }: Props) {
  const { locale } = session.formats;
  const { editions } = shown;
  if (calendar.slots.length === 0) return null;
  const picture = studioPicture(calendar, editions, session.today(), locale);
  const choice = () => ({
    editions: editions.map(({ edition: { id, title, due, work } }) => ({ id, title, due, steps: work.steps })),
    slots: calendar.slots,
  });
  return (
    <>
      <h3>The calendar</h3>
      <ul class="legend" aria-hidden="true">
        <li class="firing">firing: edition, pieces in it</li>
        <li class="work">at work on an edition</li>
        <li class="closed">closed</li>
      </ul>
      <Picture
        label="Calendar by kiln and edition; the tables below have the same days"
        of={[shown, locale]}
        draw={async (width) => (await import("../../charts/calendar-plots")).drawCalendar(picture, width)}
      />
      <h3>Firings</h3>
      <Scrolled label="Firings">
        <Rows rows={firingRows(calendar, editions)} shown={shown} locale={locale} what="Firing" />
      </Scrolled>
      <details>
        <summary>Edition by edition, step by step</summary>
        <Scrolled label="Edition by edition, step by step">
          <Rows rows={editionRows(calendar, editions)} shown={shown} locale={locale} what="Step" />
        </Scrolled>
      </details>
      <details>
        <summary>How this is calculated</summary>
        <ul>
          {RULES.map((rule) => (
            <li key={rule}>{rule}</li>
          ))}
          {editions.map(({ edition: { id, title }, notes }) => (
            <Fragment key={id}>
              {notes.map((note) => (
                <li key={note}>
                  {title}: {note}
                </li>
              ))}
            </Fragment>
          ))}
        </ul>
      </details>
      <SaveCalendar session={session} studio={studio} name="The studio" choice={choice} />
    </>
  );
}

interface RowsProps {
  readonly rows: readonly SlotRow[];
  readonly shown: Shown;
  readonly locale: string;
  readonly what: string;
}

function Rows({ rows, shown: { editions }, locale, what }: RowsProps) {
  const at = new Map(editions.map(({ edition: { id, title } }, index) => [id, `${letterOf(index)} ${title}`]));
  return (
    <table class="plain-table wide tasks in-turn">
      <TableHead titles={["Edition", what, "kiln", "pieces", "begins", "ends"]} />
      <tbody>
        {rows.map(({ key, edition, guests, what: name, kiln, pieces, from, to }) => (
          <tr key={key}>
            <th scope="row">{[edition, ...guests].map((id) => at.get(id)).join(", ")}</th>
            <td>{name}</td>
            <td>{kiln}</td>
            <td>{pieces}</td>
            <td>{timeName(from, locale)}</td>
            <td>{timeName(to, locale)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

const RULES = [
  "Kilns are the same where their names are, whatever their capitals. Hands, hours and days off are the studio’s.",
  "Editions are put in one after the other, in the order above: the first has the studio to itself, each next one takes the time that is left.",
  "A firing that is planned for a day on a Firings sheet keeps its day before all of them.",
  "Planned losses and steps that only some pieces need are counted in whole pieces, to the nearest; those furthest behind are taken. An edition by itself counts none of them, so it may be ready on another day there.",
  "Within an edition it goes as in its own calendar: a kiln load at a time, the longest way ahead first, work in hours worked, firing and drying day and night.",
];
