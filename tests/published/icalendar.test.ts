// iCalendar text held to RFC 5545 by an independent parser (ical.js) and by the rules of its sections.
import * as fc from "fast-check";
import ICAL from "ical.js";
import { describe, expect, it } from "vitest";
import { type CalendarEvent, icalendarText } from "../../src/app/calendar/icalendar";
import { dayNumber } from "../../src/ceramics/calendar/days";

const STAMP = "2026-11-29T10:15:00.000Z";
const minute = (day: string, hour: number) => (dayNumber(day) ?? 0) * 1440 + hour * 60;
const event = (more: Partial<CalendarEvent> = {}): CalendarEvent => ({
  ...{ uid: "e1.glaze_firing.001@saggar", sequence: 0, summary: "Marram: Glaze firing" },
  ...{ from: minute("2026-12-07", 9), to: minute("2026-12-08", 15.5) },
  ...more,
});
const parsed = (text: string) => new ICAL.Component(ICAL.parse(text));
const eventsIn = (text: string) =>
  parsed(text)
    .getAllSubcomponents("vevent")
    .map((one) => new ICAL.Event(one));

describe("an iCalendar object", () => {
  it("is written as RFC 5545 says, line by line", () => {
    const text = icalendarText("Ready when", [event({ location: "Large kiln", isFree: true })], STAMP);
    expect(text.split("\r\n")).toEqual([
      ...["BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//Saggar//Calendar of a studio//EN", "CALSCALE:GREGORIAN"],
      ...["METHOD:PUBLISH", "NAME:Ready when", "BEGIN:VEVENT", "UID:e1.glaze_firing.001@saggar"],
      // 3.3.5, form 1: local time, in no zone, for whoever reads it where they are.
      ...["DTSTAMP:20261129T101500Z", "SEQUENCE:0", "DTSTART:20261207T090000", "DTEND:20261208T153000"],
      ...[
        "SUMMARY:Marram: Glaze firing",
        "LOCATION:Large kiln",
        "TRANSP:TRANSPARENT",
        "END:VEVENT",
        "END:VCALENDAR",
        "",
      ],
    ]);
  });

  it("has what 3.6 and 3.6.1 require, and times in no zone", () => {
    const text = icalendarText("Ready when", [event({ sequence: 3, isCancelled: true })], STAMP);
    const calendar = parsed(text);
    expect(["version", "prodid", "method"].map((name) => calendar.getFirstPropertyValue(name))).toEqual([
      "2.0",
      "-//Saggar//Calendar of a studio//EN",
      "PUBLISH",
    ]);
    const [one] = eventsIn(text);
    expect(one?.startDate.zone).toBe(ICAL.Timezone.localTimezone);
    expect([one?.uid, one?.sequence, one?.startDate.toString(), one?.endDate.toString()]).toEqual([
      ...["e1.glaze_firing.001@saggar", 3, "2026-12-07T09:00:00", "2026-12-08T15:30:00"],
    ]);
    expect(one?.component.getFirstPropertyValue("status")).toBe("CANCELLED");
    expect(one?.component.getFirstPropertyValue("dtstamp")?.toString()).toBe("2026-11-29T10:15:00Z");
  });

  it("writes a whole day as a DATE whose end is the day after, and leaves out an end that is no later", () => {
    const day = event({ isDays: true, from: minute("2026-12-24", 0), to: minute("2026-12-25", 0) });
    const [one, other] = eventsIn(icalendarText("Due", [day, event({ to: minute("2026-12-07", 9) })], STAMP));
    expect(one?.startDate.isDate).toBe(true);
    expect([one?.startDate.toString(), one?.endDate.toString()]).toEqual(["2026-12-24", "2026-12-25"]);
    expect(other?.component.hasProperty("dtend")).toBe(false);
  });

  it("escapes the example of 3.3.11 as it stands there", () => {
    const text = icalendarText(
      "x",
      [event({ summary: "Project XYZ Final Review\nConference Room - 3B\nCome Prepared." })],
      STAMP,
    );
    expect(text.replaceAll("\r\n ", "")).toContain(
      "SUMMARY:Project XYZ Final Review\\nConference Room - 3B\\nCome Prepared.",
    );
  });

  it("gives back any text, in lines of 75 octets or fewer that break within no character", () => {
    const pieces = fc.constantFrom(
      ",",
      ";",
      "\\",
      "\n",
      "\r\n",
      ":",
      '"',
      "é",
      "釉",
      "🏺",
      "👩🏽‍🎨",
      " ",
      "a",
      "Glaze firing",
    );
    const texts = fc
      .array(fc.oneof(pieces, fc.string({ unit: "grapheme" })), { maxLength: 60 })
      .map((all) => all.join(""));
    // biome-ignore lint/suspicious/noControlCharactersInRegex: what a text value can't hold is left out
    const kept = (text: string) => text.replace(/\r\n|\r/g, "\n").replace(/[\u0000-\u0008\u000b-\u001f\u007f]/g, "");
    fc.assert(
      fc.property(texts, texts, fc.nat({ max: 80 }), (title, words, before) => {
        // Emoji stand at every place of a line.
        const summary = `${"x".repeat(before)}🏺${title}`;
        const text = icalendarText(title, [event({ summary, description: words })], STAMP);
        const bytes = text.split("\r\n").map((line) => new TextEncoder().encode(line));
        expect(Math.max(...bytes.map(({ length }) => length))).toBeLessThanOrEqual(75);
        for (const line of bytes) expect(() => new TextDecoder("utf-8", { fatal: true }).decode(line)).not.toThrow();
        expect(text.replaceAll("\r\n", "")).not.toMatch(/[\r\n]/);
        const [one] = eventsIn(text);
        expect([one?.summary, one?.description ?? ""]).toEqual([kept(summary), kept(words)]);
      }),
      { seed: 20_261_129, numRuns: 500 },
    );
  });
});
