// The calendar as a file for the maker's other calendars.
import { useState } from "preact/hooks";
import { type EventChoice, saveCalendar } from "../../app/calendar/calendar-file";
import type { Session } from "../../app/edition/session";
import type { Studio } from "../../app/keeping/studio";

interface Props {
  readonly session: Session;
  readonly studio: Studio;
  /** What the file and the calendar in it are called. */
  readonly name: string;
  readonly choice: () => Omit<EventChoice, "isWorkToo">;
}

/** Saves what is shown as iCalendar. */
export function SaveCalendar({ session, studio, name, choice }: Props) {
  const [isWorkToo, setWorkToo] = useState(false);
  return (
    <section class="save-calendar" aria-label="For another calendar">
      <h3>For another calendar</h3>
      <div class="row">
        <label class="tick">
          <input type="checkbox" checked={isWorkToo} onChange={() => setWorkToo(!isWorkToo)} /> the work too, not only
          firings and due dates
        </label>
        <button
          type="button"
          onClick={() => void saveCalendar(studio, session, `${name}, ready when`, { ...choice(), isWorkToo })}
        >
          Save as a calendar file
        </button>
      </div>
      <p class="quiet">
        An iCalendar file (.ics). Hours are those of the clock on your wall, in no time zone. Saved again and opened in
        the same calendar, what moved is moved, and what is no longer to be is called off.
      </p>
    </section>
  );
}
