// Prints how long the one calendar takes: `node tests/bench/calendar.mjs`, or with other numbers of editions and pieces:
// `node tests/bench/calendar.mjs 10 200`. Nothing here asserts a time.
import process from "node:process";
import { createServer } from "vite";

const [editions = 50, pieces = 1000] = process.argv.slice(2).map(Number);

/** @typedef {import("../../src/ceramics/calendar/route-tasks.ts").CalendarStep} CalendarStep */

/** @param {string} id @param {number} minutesEach @param {number} restDays @returns {CalendarStep} */
const hand = (id, minutesEach, restDays = 0) => ({ id, title: id, minutesEach, restDays });
/** @param {string} id @param {string} kiln @param {number} room @param {number} hours @returns {CalendarStep} */
const fire = (id, kiln, room, hours) => ({
  ...{ id, title: id, minutesEach: 0, restDays: 0 },
  firing: { kiln, room, hours, loadingMinutes: 60, programme: id },
});
const steps = [
  ...[hand("cast", 3), hand("fettle", 6), hand("dry", 0, 3), fire("bisque", "Large", 60, 20), hand("glaze", 4)],
  ...[fire("glaze firing", "Large", 60, 24), hand("lustre", 4), fire("low firing", "Small", 30, 12), hand("pack", 3)],
];
const all = Array.from({ length: pieces }, (_, at) => ({ id: String(at), ahead: steps.map(({ id }) => id) }));

const server = await createServer({
  ...{ configFile: false, logLevel: "error", optimizeDeps: { noDiscovery: true } },
  server: { middlewareMode: true, hmr: false, ws: false, watch: null },
});
try {
  /** @param {string} name */
  const load = (name) => server.ssrLoadModule(`/src/ceramics/calendar/${name}.ts`);
  const { expectedOf } = await load("expected");
  const { oneCalendar, movesWhenFirst } = await load("one-calendar");
  const { offersOf } = await load("offers");
  /** @template T @param {string} what @param {() => T} run */
  const timed = (what, run) => {
    const from = performance.now();
    const made = run();
    console.log(`${what}: ${Math.round(performance.now() - from)} ms`);
    return made;
  };
  const rates = steps.map(({ id }) => ({ id, loss: 0.03 }));
  console.log(`${editions} editions of ${pieces} pieces`);
  const works = timed("planned losses of all pieces", () =>
    Array.from({ length: editions }, () => ({ steps, planned: [], pieces: expectedOf(rates, all).pieces })),
  );
  const input = {
    editions: works.map((work, at) => ({ id: `e${at}`, title: `E${at}`, work, from: "2026-11-30", due: "2027-06-01" })),
    studio: { hours: [8, 8, 8, 8, 8, 0, 0], closed: [], people: 8 },
    from: "2026-11-30",
  };
  const made = timed("one calendar of all", () => oneCalendar(input));
  if (!made.ok) throw new Error(made.problems[0].message);
  console.log(`${made.value.slots.length} tasks, the last ready on ${made.value.editions.at(-1).finish}`);
  timed("room in firings", () => offersOf(made.value.slots));
  timed("what moves when the last is put first", () => movesWhenFirst(input, made.value, `e${editions - 1}`));
} finally {
  await server.close();
}
