// All editions of a studio in one calendar: read as they are kept, in the maker's order, told in words, saved as a file.
import ICAL from "ical.js";
import { beforeAll, describe, expect, test } from "vitest";
import { setDue } from "../../../src/app/calendar/calendar-commands";
import { CalendarDesk, type Shown } from "../../../src/app/calendar/calendar-desk";
import { eventsOf, withSequences } from "../../../src/app/calendar/calendar-file";
import { icalendarText } from "../../../src/app/calendar/icalendar";
import { type SchedulePort, type ScheduleReply, scheduleAll } from "../../../src/app/calendar/schedule-client";
import { movedTo } from "../../../src/app/calendar/studio-order";
import { othersRunning } from "../../../src/app/calendar/studio-read";
import {
  editionRows,
  firingRows,
  hoursWords,
  letterOf,
  movesWords,
  offerWords,
  readyWords,
  studioPicture,
  workWords,
} from "../../../src/app/calendar/studio-view";
import { demoEdition } from "../../../src/app/demo/demo";
import { putEdition } from "../../../src/app/keeping/studio-editions";
import { changeShelf, openShelf, readShelf } from "../../../src/app/shelf/shelf";
import type { OneCalendar } from "../../../src/ceramics/calendar/one-calendar";
import { editMeta } from "../../../src/core/document/edits";
import type { Workbook } from "../../../src/core/document/workbook";
import type { Patch } from "../../../src/engine/values";
import { openSession } from "../../tools/open-session";
import { Device } from "../../tools/open-studio";

const demo = demoEdition();
let values: Patch;
beforeAll(async () => {
  const { session, settled } = openSession(demo);
  await settled();
  values = session.snapshot();
  session.close();
}, 60_000);

const titled = (title: string, due?: string, more: Partial<Workbook["meta"]> = {}): Workbook => {
  const week = { hours: [8, 8, 8, 8, 8, 0, 0], closed: [], people: 1 };
  const calendar = { ...week, ...(due === undefined ? {} : { due }) };
  return { ...demo, meta: { ...demo.meta, title, calendar, ...more } };
};

/** A worker in the same thread, that answers when it is asked. */
function worker(): SchedulePort {
  const port: SchedulePort = {
    ...{ onmessage: null, onerror: null, terminate: () => undefined },
    postMessage: (input) =>
      scheduleAll(structuredClone(input), (data) => port.onmessage?.({ data } as MessageEvent<ScheduleReply>)),
  };
  return port;
}

/** A studio with Marram open and others kept beside it. */
async function studioOf(others: Readonly<Record<string, Workbook>>, own = titled("Marram")) {
  const device = new Device();
  const tab = device.openTab();
  const { editions } = tab.home;
  const updatedAt = "2026-11-25T08:00:00.000Z";
  for (const [id, book] of Object.entries({ ...others, marram: own }))
    expect((await editions.write(id, { book, updatedAt, values }, 0)).ok).toBe(true);
  await tab.studio.openStored("marram");
  const session = tab.studio.session.value;
  if (!session) throw new Error("nothing is open");
  const desk = new CalendarDesk(tab.studio, session, worker);
  return { device, tab, session, desk };
}

function laidIn(desk: CalendarDesk): { readonly shown: Shown; readonly calendar: OneCalendar } {
  const shown = desk.shown.value;
  if (!shown?.scheduled.ok) throw new Error("not scheduled");
  return { shown, calendar: shown.scheduled.value.calendar };
}
const titles = (desk: CalendarDesk) => laidIn(desk).shown.editions.map(({ edition }) => edition.title);

describe("all editions in one calendar", () => {
  test("goes by due date; what is put first moves the others", async () => {
    const { desk } = await studioOf({
      kestrel: titled("Kestrel", "2026-12-20"),
      thrift: titled("Thrift", "2026-12-08"),
    });
    await desk.read();
    expect(titles(desk)).toEqual(["Thrift", "Kestrel", "Marram"]);
    const { shown, calendar } = laidIn(desk);
    const titleOf = (id: string) => shown.editions.find(({ edition }) => edition.id === id)?.edition.title ?? id;
    const [thrift, kestrel, marram] = calendar.editions.map((one) => readyWords(one, "en-GB"));
    expect(thrift).toMatch(/^ready Mon, 7 Dec 2026, 1 day before it is due \(Tue, 8 Dec 2026\)$/);
    expect(kestrel).toMatch(/before it is due \(Sun, 20 Dec 2026\)$/);
    expect(marram).toMatch(/^ready .*, no due date$/);
    const moves = movesWords(desk.moves.value.get("kestrel") ?? [], "kestrel", titleOf);
    expect(moves).toMatch(
      /^Put first: Kestrel is ready \d+ days earlier; Thrift \d+ days later, past the day it is due\.$/,
    );
    expect([...desk.moves.value.keys()]).toEqual(["kestrel", "marram"]);
    expect(desk.state.value).toEqual({ kind: "idle" });
  });

  test("counts planned losses and refires in whole pieces, and says them", async () => {
    const { desk } = await studioOf({});
    await desk.read();
    const [one] = laidIn(desk).shown.editions;
    expect(one && workWords(one)).toBe(
      "49 on the way; planned losses: 1 at Glaze firing; expected to need it: 1 at Refire",
    );
  });

  test("offers a firing's room to the other edition, and has every slot in picture and tables", async () => {
    const { desk } = await studioOf({ kestrel: titled("Kestrel", "2026-12-20") });
    await desk.read();
    const { shown, calendar } = laidIn(desk);
    const offers = shown.scheduled.ok ? shown.scheduled.value.offers : [];
    const words = offers.map((offer) => offerWords(offer, (id) => id, "en-GB"));
    expect(words[0]).toBe(
      "The load of Mon 30 Nov in Large kiln (kestrel, low firing) has room for 44 pieces: marram has 4 waiting for it.",
    );
    const picture = studioPicture(calendar, shown.editions, "2026-11-25", "en-GB");
    expect(picture.lanes).toEqual(["Large kiln", "A Kestrel", "B Marram"]);
    const firings = firingRows(calendar, shown.editions);
    expect(picture.bars.filter(({ kind }) => kind === "firing").map(({ label }) => label)).toEqual(
      firings.map(({ edition, pieces }) => `${edition === "kestrel" ? "A" : "B"} ${pieces}`),
    );
    expect(picture.marks?.map(({ label }) => label)).toEqual(["ready", "due", "ready"]);
    const rows = editionRows(calendar, shown.editions);
    const counted = (all: readonly { readonly pieces: number }[]) => all.reduce((sum, { pieces }) => sum + pieces, 0);
    expect(counted(rows)).toBe(counted(calendar.slots.map(({ task }) => ({ pieces: task.pieces.length }))));
    expect([letterOf(0), letterOf(25), letterOf(26), letterOf(52)]).toEqual(["A", "Z", "AA", "BA"]);
  });

  test("names what it leaves out, with what is wrong; the archive takes no time", async () => {
    const all = Object.fromEntries(
      ["Broken", "Old", "Bare", "Wrong"].map((title) => [title.toLowerCase(), titled(title)]),
    );
    const { tab, desk, device } = await studioOf({ ...all, wrong: titled("Wrong", "2026-02-30") });
    await putEdition(tab.studio, "old", "archived");
    const record = (id: string) => device.records.documents.get(id) as object;
    device.records.documents.set("broken", { ...record("broken"), text: "{" });
    // Stored without values, and the engine of this test says nothing.
    device.records.documents.set("bare", { ...record("bare"), values: undefined });
    expect(othersRunning(tab.studio)).toBe(3);
    await desk.read();
    expect(titles(desk)).toEqual(["Marram"]);
    const left = new Map(laidIn(desk).shown.leftOut.map((one) => [one.title, one]));
    expect([...left.keys()].sort()).toEqual(["Bare", "Broken", "Wrong"]);
    expect(left.get("Wrong")?.why).toContain("Due: found “2026-02-30”");
    expect(left.get("Bare")?.why).toContain("could not be calculated");
    expect([...left.values()].every(({ isWrong }) => isWrong)).toBe(true);
  });

  test("an invented edition takes no time of a real studio", async () => {
    const { desk } = await studioOf({ demo: titled("Invented") }, titled("Tide", undefined, { invented: false }));
    await desk.read();
    expect(titles(desk)).toEqual(["Tide"]);
    expect(laidIn(desk).shown.leftOut).toMatchObject([{ title: "Invented", isWrong: false }]);
  });

  test("its hours are the shelf's where it says any, otherwise this edition's", async () => {
    const { tab, session, desk } = await studioOf({});
    await desk.read();
    expect(hoursWords(laidIn(desk).shown.rules, "en-GB")).toBe(
      "40 hours a week, 1 person, no days off: as in this edition, since the shelf says none.",
    );
    const finish = laidIn(desk).calendar.editions[0]?.finish ?? "";
    const calendar = { hours: [4, 4, 4, 0, 0, 0, 0], closed: ["2026-11-26"], people: 2 };
    await changeShelf(tab.studio, session, (shelf) => ({ change: editMeta(shelf, { calendar }, "Hours") }));
    await desk.read();
    expect(hoursWords(laidIn(desk).shown.rules, "en-GB")).toBe(
      "12 hours a week, 2 people, 1 day off: as on the studio’s shelf.",
    );
    expect((laidIn(desk).calendar.editions[0]?.finish ?? "") > finish).toBe(true);
  });

  test("is scheduled anew after an edit, and stopped", async () => {
    const { session, desk } = await studioOf({ kestrel: titled("Kestrel", "2026-12-20") });
    await desk.read();
    expect(titles(desk)).toEqual(["Kestrel", "Marram"]);
    setDue(session, "2026-12-19");
    desk.schedule();
    expect(titles(desk)).toEqual(["Marram", "Kestrel"]);
    const reading = desk.read();
    desk.stop();
    expect(desk.state.value).toEqual({ kind: "stopped" });
    await reading;
    expect(desk.state.value).toEqual({ kind: "stopped" });
    expect(titles(desk)).toEqual(["Marram", "Kestrel"]);
  });
});

describe("the maker's own order", () => {
  test("is kept on the studio's shelf, and undone there", async () => {
    const { tab, desk } = await studioOf({ kestrel: titled("Kestrel", "2026-12-20"), thrift: titled("Thrift") });
    await desk.read();
    expect(titles(desk)[0]).toBe("Kestrel");
    await desk.order(movedTo(["kestrel", "marram", "thrift"], "thrift", 0), "Thrift comes first");
    expect(titles(desk)).toEqual(["Thrift", "Kestrel", "Marram"]);
    expect((await readShelf(tab.studio))?.meta.order).toEqual(["thrift", "kestrel", "marram"]);
    expect(tab.messages.at(-1)).toBe("Thrift comes first. It is kept on the studio’s shelf, and undone there.");
    await desk.order(["marram", "thrift", "kestrel"], "Marram comes first");
    expect(titles(desk)[0]).toBe("Marram");
    const session = tab.studio.session.value;
    if (session) await openShelf(tab.studio, session);
    tab.studio.session.value?.undo();
    await tab.studio.openStored("marram");
    expect((await readShelf(tab.studio))?.meta.order).toEqual(["thrift", "kestrel", "marram"]);
  });

  test("is not written while another tab has the shelf open", async () => {
    const { tab, device, session, desk } = await studioOf({ kestrel: titled("Kestrel") });
    await desk.read();
    await desk.order(["marram", "kestrel"], "Marram comes first");
    const other = device.openTab();
    await other.studio.openStored("shelf");
    await desk.order(["kestrel", "marram"], "Kestrel comes first");
    expect(titles(desk)).toEqual(["Marram", "Kestrel"]);
    expect(session.notices.value.at(-1)?.text).toContain("open in another tab");
    expect((await readShelf(tab.studio))?.meta.order).toEqual(["marram", "kestrel"]);
  });

  test("is given up for due dates, and moves one place at a time", async () => {
    const { tab, desk } = await studioOf({ kestrel: titled("Kestrel", "2026-12-20") });
    await desk.read();
    await desk.order(["marram", "kestrel"], "Marram comes first");
    await desk.order([], "Editions by due date");
    expect(titles(desk)).toEqual(["Kestrel", "Marram"]);
    expect((await readShelf(tab.studio))?.meta).not.toHaveProperty("order");
    expect(movedTo(["a", "b", "c"], "c", 1)).toEqual(["a", "c", "b"]);
    expect(movedTo(["a", "b"], "a", 9)).toEqual(["b", "a"]);
  });
});

describe("the calendar as a file", () => {
  const scope = { editions: ["kestrel", "marram"], isWorkToo: false };
  const choiceOf = (desk: CalendarDesk, isWorkToo: boolean) => {
    const { shown, calendar } = laidIn(desk);
    const editions = shown.editions.map(({ edition: { id, title, due, work } }) => ({
      id,
      title,
      due,
      steps: work.steps,
    }));
    return { editions, slots: calendar.slots, isWorkToo };
  };

  test("has an event a firing and a due date, and the work where it is wanted", async () => {
    const { desk } = await studioOf({ kestrel: titled("Kestrel", "2026-12-20") });
    await desk.read();
    const firings = eventsOf(choiceOf(desk, false));
    expect(firings.filter(({ edition }) => edition === "kestrel").map(({ uid }) => uid)).toEqual(
      ["glaze_firing.120", "low_firing.025", "refire.140", "low_firing_2.023", "due"].map(
        (id) => `kestrel.${id}@saggar`,
      ),
    );
    expect(firings.at(-1)).toMatchObject({ summary: "Kestrel is due", isDays: true });
    expect(eventsOf(choiceOf(desk, true)).length).toBe(laidIn(desk).calendar.slots.length + 1);
    expect(new Set(eventsOf(choiceOf(desk, true)).map(({ uid }) => uid)).size).toBe(
      laidIn(desk).calendar.slots.length + 1,
    );
    const text = icalendarText("The studio", withSequences(firings, [], scope, 0).events, "2026-11-25T09:00:00Z");
    const events = new ICAL.Component(ICAL.parse(text)).getAllSubcomponents("vevent").map((one) => new ICAL.Event(one));
    expect(events[0]?.summary).toBe("Kestrel: Glaze firing, load 1 (21 pieces)");
    expect([events[0]?.location, events[0]?.startDate.toString()]).toEqual(["Large kiln", "2026-11-25T10:48:00"]);
  });

  test("keeps its identity when an edition comes later: a moved event says so, one that stays does not", async () => {
    const { desk } = await studioOf({ kestrel: titled("Kestrel", "2026-12-20") });
    await desk.read();
    const first = withSequences(eventsOf(choiceOf(desk, false)), [], scope, 0);
    await desk.order(["marram", "kestrel"], "Marram comes first");
    const second = withSequences(eventsOf(choiceOf(desk, false)), first.remembered, scope, 0);
    expect(second.events.map(({ uid }) => uid).sort()).toEqual(first.events.map(({ uid }) => uid).sort());
    expect(second.events.filter(({ sequence }) => sequence === 1)).toHaveLength(8);
    expect(second.events.find(({ isDays }) => isDays)?.sequence).toBe(0);
    const third = withSequences(eventsOf(choiceOf(desk, false)), second.remembered, scope, 0);
    expect(third.events).toEqual(second.events);
  });

  test("calls off what is no longer to be, once, and only of what is written", async () => {
    const { desk } = await studioOf({ kestrel: titled("Kestrel", "2026-12-20") });
    await desk.read();
    const drafts = eventsOf(choiceOf(desk, false));
    const { remembered } = withSequences(drafts, [], scope, 0);
    const fewer = withSequences(drafts.slice(1), remembered, scope, 0);
    expect(fewer.events.filter(({ isCancelled }) => isCancelled)).toMatchObject([{ uid: drafts[0]?.uid, sequence: 1 }]);
    const again = withSequences(drafts.slice(1), fewer.remembered, scope, 0);
    expect(again.events.filter(({ isCancelled }) => isCancelled)).toEqual([]);
    const back = withSequences(drafts, again.remembered, scope, 0);
    expect(back.events.find(({ uid }) => uid === drafts[0]?.uid)?.sequence).toBe(2);
    // One edition saved by itself calls off nothing of the other; what is past is left where it was.
    const own = { editions: ["marram"], isWorkToo: false };
    expect(withSequences([], remembered, own, 0).events.every(({ summary }) => summary.startsWith("Marram"))).toBe(
      true,
    );
    expect(withSequences([], remembered, scope, 1e9).events).toEqual([]);
  });
});
