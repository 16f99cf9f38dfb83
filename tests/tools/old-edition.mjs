// @ts-nocheck: it runs modules of whichever commit it is given.
// Saves a small edition by the code of an earlier commit, for tests/fixtures/old-editions (see the README there):
//   node tests/tools/old-edition.mjs <checkout of that commit> <where to write>
// The checkout needs node_modules beside it (a link will do). It writes what that commit's own code saves, and the
// values its own engine gives, so that a test can tell what moved.
import { existsSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { createServer } from "vite";

const [checkout, out] = process.argv.slice(2);
const server = await createServer({
  root: checkout,
  configFile: false,
  logLevel: "error",
  server: { middlewareMode: true, hmr: false, ws: false, watch: null },
  optimizeDeps: { noDiscovery: true },
});
const has = (path) => existsSync(join(checkout, path));
const load = (path) => server.ssrLoadModule(`/${path}`);
try {
  const { book, text } = await made();
  writeFileSync(`${out}.edition.json`, text);
  if (has("tests/tools/evaluate.ts"))
    writeFileSync(`${out}.values.json`, JSON.stringify(await valuesOf(book), undefined, 1));
} finally {
  await server.close();
}

/** The demo of that commit, left with a few pieces in every state; its first commit, which has no demo, starts a template. */
async function made() {
  const { writeDocument } = await load(
    has("src/core/document/write-document.ts")
      ? "src/core/document/write-document.ts"
      : "src/core/document/document-file.ts",
  );
  const book = has("src/app/demo/demo.ts") ? await fewOfDemo() : await started();
  return { book, text: writeDocument(book) };
}

/** The pieces that stay: ordinary ones, special ones, refired ones, seconds and lost ones. */
function chosen(rows) {
  const kinds = new Map();
  for (const row of rows) {
    const { tier = "", grade = "", lost_at: lostAt = "" } = row.cells;
    const done = Object.keys(row.cells).filter((key) => key.includes(".")).length;
    const kind = `${tier} ${grade} ${lostAt} ${done > 12}`;
    if (!kinds.has(kind)) kinds.set(kind, row.id);
  }
  return new Set([...kinds.values()].slice(0, 8));
}

async function fewOfDemo() {
  const { demoEdition } = await load("src/app/demo/demo.ts");
  const { removeRows } = await load("src/core/document/edits.ts");
  const { applyChange } = await load("src/core/document/change.ts");
  const book = demoEdition();
  const { rows } = book.sheets.pieces;
  const stay = chosen(rows);
  const gone = rows.filter(({ id }) => !stay.has(id)).map(({ id }) => id);
  const removed = removeRows(book, "pieces", gone, "Few");
  if (!removed.ok) throw new Error(removed.problems[0].message);
  const few = applyChange(book, removed.value);
  if (!few.lists) return few;
  const log = few.lists.log
    .map((entry) => ({
      ...entry,
      pieces: entry.pieces.filter((id) => stay.has(id)),
      writes: entry.writes.filter(({ sheet, row }) => sheet !== "pieces" || stay.has(row)),
    }))
    .filter(({ pieces }) => pieces.length > 0);
  return { ...few, lists: { ...few.lists, log } };
}

async function started() {
  const { readTemplate, startEdition } = await load("src/core/document/template.ts");
  const { default: lustre } = await load("templates/lustre/template.json");
  const template = readTemplate(lustre, "lustre");
  if (!template.ok) throw new Error(template.problems[0].message);
  const answers = { title: "Marram", wanted: 6, currency: "EUR", firstPiece: "001", started: "2026-09-07" };
  const book = startEdition(template.value, answers, 8);
  const { applyChange } = await load("src/core/document/change.ts");
  const { writeEntries } = await load("src/core/document/edits.ts");
  const entries = book.sheets.pieces.rows.flatMap((row, at) =>
    book.sheets.pieces.columns
      .filter(({ key }) => /\.(slip|minutes|coats)$/.test(key))
      .slice(0, at)
      .map(({ key }) => ({ cell: { sheet: "pieces", row: row.id, column: key }, typed: "2" })),
  );
  const { change } = writeEntries(book, entries, { label: "Type", marks: { decimal: "." }, override: false });
  return applyChange(book, change);
}

/** Computed numbers that are shown: lines of Edition and Results, and what each piece and firing comes to. */
async function valuesOf(book) {
  const { evaluate } = await load("tests/tools/evaluate.ts");
  const at = evaluate(book);
  const values = {};
  for (const [sheet, { rows, columns }] of Object.entries(book.sheets))
    for (const row of rows)
      for (const { key, kind, hidden } of columns) {
        const isComputed = key === "value" && row.line ? row.line.kind === "computed" : kind === "computed" && !hidden;
        if (!isComputed) continue;
        const value = at(sheet, row.id, key);
        if (typeof value === "number") values[`${sheet} ${row.id} ${key}`] = Number(value.toPrecision(10));
        else if (typeof value === "object" && value !== null) values[`${sheet} ${row.id} ${key}`] = value.message;
      }
  return values;
}
