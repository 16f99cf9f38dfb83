// A calendar as iCalendar text (RFC 5545). Times are floating: a studio's clock on the wall, in no time zone, since an
// edition knows of none; a day without an hour is a DATE. Every line is at most 75 octets of UTF-8 and ends with CRLF.
import { DAY_MINUTES, isoDay } from "../../ceramics/calendar/days";

/** One event, in minutes of the clock since 1 January 1970. */
export interface CalendarEvent {
  /** The same for the same event whenever it is written. */
  readonly uid: string;
  /** Rises by one whenever the event was moved. */
  readonly sequence: number;
  readonly summary: string;
  readonly description?: string;
  readonly location?: string;
  readonly from: number;
  readonly to: number;
  /** It is a whole day or several, `to` the first that is no part of it. */
  readonly isDays?: boolean;
  /** It takes nobody’s time. */
  readonly isFree?: boolean;
  /** It was written earlier and is no longer to be. */
  readonly isCancelled?: boolean;
}

const MOST_OCTETS = 75;

/** Writes events as an iCalendar object; `stamp` is the time of writing, ISO 8601 in universal time. */
export function icalendarText(name: string, events: readonly CalendarEvent[], stamp: string): string {
  const written = stamp.replace(/[-:]/g, "").replace(/\.\d+/, "");
  const lines = [
    "BEGIN:VCALENDAR",
    "VERSION:2.0",
    "PRODID:-//Saggar//Calendar of a studio//EN",
    "CALSCALE:GREGORIAN",
    "METHOD:PUBLISH",
    `NAME:${escaped(name)}`,
    ...events.flatMap((event) => eventLines(event, written)),
    "END:VCALENDAR",
  ];
  return lines.map((line) => `${folded(line)}\r\n`).join("");
}

function eventLines(event: CalendarEvent, written: string): readonly string[] {
  const { uid, sequence, summary, description, location, from, to, isDays = false } = event;
  const time = (minute: number) => (isDays ? `;VALUE=DATE:${dateOf(minute)}` : `:${dateOf(minute)}T${clockOf(minute)}`);
  return [
    "BEGIN:VEVENT",
    `UID:${escaped(uid)}`,
    `DTSTAMP:${written}`,
    `SEQUENCE:${sequence}`,
    `DTSTART${time(from)}`,
    // An end must be later than its beginning.
    ...(to > from ? [`DTEND${time(to)}`] : []),
    `SUMMARY:${escaped(summary)}`,
    ...(description === undefined ? [] : [`DESCRIPTION:${escaped(description)}`]),
    ...(location === undefined ? [] : [`LOCATION:${escaped(location)}`]),
    ...(event.isCancelled ? ["STATUS:CANCELLED"] : []),
    ...(event.isFree || isDays ? ["TRANSP:TRANSPARENT"] : []),
    "END:VEVENT",
  ];
}

const dateOf = (minute: number) => isoDay(Math.floor(minute / DAY_MINUTES)).replaceAll("-", "");

function clockOf(minute: number): string {
  const into = Math.floor(minute) - Math.floor(minute / DAY_MINUTES) * DAY_MINUTES;
  return `${String(Math.floor(into / 60)).padStart(2, "0")}${String(into % 60).padStart(2, "0")}00`;
}

/** A TEXT value (3.3.11): backslash, semicolon, comma and line breaks escaped, other control characters left out. */
function escaped(text: string): string {
  return (
    text
      .replace(/[\\;,]/g, "\\$&")
      .replace(/\r\n|\r|\n/g, "\\n")
      // biome-ignore lint/suspicious/noControlCharactersInRegex: these are what a text value can't hold
      .replace(/[\u0000-\u0008\u000b-\u001f\u007f]/g, "")
      .replace(/\p{Surrogate}/gu, "\ufffd")
  );
}

/** A content line (3.1) in lines of 75 octets or fewer, never broken within a character; each after the first begins with a space. */
function folded(line: string): string {
  let [text, octets] = ["", 0];
  for (const character of line) {
    const size = octetsOf(character.codePointAt(0) ?? 0);
    if (octets + size > MOST_OCTETS) {
      text += "\r\n ";
      octets = 1;
    }
    text += character;
    octets += size;
  }
  return text;
}

/** Octets of a character in UTF-8. */
const octetsOf = (code: number): number => (code < 0x80 ? 1 : code < 0x800 ? 2 : code < 0x10000 ? 3 : 4);
