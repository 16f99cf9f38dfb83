// Speed of the papers by the period: 500 pieces through twelve months, twelve packs and the one of the year; then 10 000 pieces.
// `npm run bench:books`; in Node, on the code as it is.
import { createServer } from "vite";

const server = await createServer({
  configFile: false,
  logLevel: "error",
  server: { middlewareMode: true, hmr: false, ws: false, watch: null },
  optimizeDeps: { noDiscovery: true },
});
const { runEdition, MIXED } = await server.ssrLoadModule("/tests/bench/edition.ts");
const { evaluate } = await server.ssrLoadModule("/tests/tools/evaluate.ts");
const { accountantPack } = await server.ssrLoadModule("/src/app/settle/accountant-pack.ts");
const { giveDays, undatedOf } = await server.ssrLoadModule("/src/core/record/undated.ts");
const { applyChange } = await server.ssrLoadModule("/src/core/document/change.ts");

const FORM = { delimiter: ",", decimal: ".", hasMark: false };
const two = (/** @type {number} */ number) => String(number).padStart(2, "0");

/** @template T @param {string} what @param {() => T} run @returns {T} */
function timed(what, run) {
  const start = performance.now();
  const result = run();
  console.log(`${what}: ${((performance.now() - start) / 1000).toFixed(2)} s`);
  return result;
}

for (const count of process.argv[2] ? [Number(process.argv[2])] : [500, 10_000]) {
  console.log(`\n${count} pieces`);
  const made = runEdition(count, MIXED);
  const loads = made.sheets.firings.rows.map((/** @type {any} */ row, /** @type {number} */ at) => ({
    ...row,
    cells: {
      ...row.cells,
      date: `2026-${two(1 + Math.floor((12 * at) / made.sheets.firings.rows.length))}-${two(1 + (at % 27))}`,
    },
  }));
  const meta = { ...made.meta, started: "2026-01-01" };
  const fired = { ...made, meta, sheets: { ...made.sheets, firings: { ...made.sheets.firings, rows: loads } } };
  const dated = timed("days proposed and taken", () =>
    applyChange(
      fired,
      giveDays(
        fired,
        undatedOf(fired, (/** @type {string} */ at) => at.slice(0, 10)),
      ),
    ),
  );
  const read = evaluate(dated);
  const pack = (/** @type {string} */ from, /** @type {string} */ to, isDetailed = false) => {
    const result = accountantPack(dated, read, { from, to, reference: "R", isDetailed }, FORM);
    if (!result.ok) throw new Error(result.problems[0]?.message);
    return result.value;
  };
  pack("2026-01-01", "2026-01-31");
  timed("the pack of a month", () => pack("2026-06-01", "2026-06-30"));
  if (count === 500)
    timed("twelve packs", () => {
      for (let month = 1; month <= 12; month += 1)
        pack(`2026-${two(month)}-01`, new Date(Date.UTC(2026, month, 0)).toISOString().slice(0, 10));
    });
  const year = timed("the pack of the year, day by day", () => pack("2026-01-01", "2026-12-31", true));
  console.log(
    `${year.files["audit-trail.csv"].split("\n").length - 2} lines of trail, ${year.period.posted.length} references`,
  );
}
await server.close();
