// The day everything can be ready, in a few words.
import { readyWhen } from "../../ceramics/calendar/ready";
import { readCalendar } from "../calendar/calendar";
import { dayName } from "../edition/day-name";
import type { Session } from "../edition/session";

/** When an edition is ready, in words, and whether that is after it is due. */
export interface ReadyOn {
  readonly text: string;
  readonly isLate: boolean;
}

/** Makes the calendar of the work ahead; undefined while the sheets are being calculated. */
export function readyOn(session: Session): ReadyOn | undefined {
  const read = readCalendar(session);
  if (read === undefined) return undefined;
  const ready = read.ok ? readyWhen(read.value.input) : read;
  if (!ready.ok) return { text: "never like this", isLate: true };
  const { slots, finish, slackDays = 0 } = ready.value;
  if (slots.length === 0) return { text: "nothing left to do", isLate: false };
  return { text: dayName(finish, session.formats.locale), isLate: slackDays < 0 };
}
