// Prints what each patch of the formula library buys: `node tests/bench/patches.mjs [pieces] [name …]`. Every patch is
// turned off in turn, in a process of its own; at 2,000 pieces and for all patches the table in the folder's README is
// written anew. Ends with 1 where the values with a patch and without it differ. Nothing here asserts a time.
import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import process from "node:process";
import { build } from "vite";

const README = "src/engine/hyperformula/README.md";
const START = "<!-- patches: written by tests/bench/patches.mjs -->";
const END = "<!-- end of patches -->";
const USUAL = 2000;

/** @typedef {import("./patches/one").Measured} Measured */

const given = process.argv.slice(2);
const pieces = given.map(Number).find((number) => !Number.isNaN(number)) ?? USUAL;
const wanted = given.filter((word) => Number.isNaN(Number(word)));

const folder = mkdtempSync(join(tmpdir(), "patches-"));
await build({
  configFile: false,
  logLevel: "error",
  ssr: { noExternal: true },
  build: {
    ssr: "tests/bench/patches/one.ts",
    outDir: folder,
    emptyOutDir: false,
    minify: false,
    rolldownOptions: { output: { entryFileNames: "one.mjs", codeSplitting: false } },
  },
});

/** @param {readonly string[]} off @returns {Measured} */
function measure(off) {
  const { stdout, stderr, status } = spawnSync(
    process.execPath,
    ["--single-threaded-gc", "--max-old-space-size=6000", join(folder, "one.mjs"), String(pieces), ...off],
    { encoding: "utf8" },
  );
  if (status !== 0) throw new Error(`without ${off}: ${stderr}`);
  return JSON.parse(stdout);
}

const ms = (/** @type {number} */ n) => (n < 10 ? n.toFixed(1) : String(Math.round(n)));
const beside = (/** @type {number} */ took, /** @type {number} */ least) =>
  `${ms(took)} (${(took / least).toFixed(2)} ×)`;

/** The least of two: what else the machine does only adds. @param {Measured} one @param {Measured} other @returns {Measured} */
const least = (one, other) => ({
  ...one,
  build: Math.min(one.build, other.build),
  edit: Math.min(one.edit, other.edit),
  wage: Math.min(one.wage, other.wage),
});

let all = measure([]);
const without = all.patches
  .filter(({ name }) => wanted.length === 0 || wanted.includes(name))
  .map((patch) => ({ ...patch, measured: measure([patch.name]) }));
all = least(all, measure([]));
const lines = [
  `| without | replaces | what it buys | build, ms | one edit, ms | wage, ms |`,
  "| --- | --- | --- | --- | --- | --- |",
  `| nothing: all ${all.patches.length} | | | ${ms(all.build)} | ${ms(all.edit)} | ${ms(all.wage)} |`,
];
for (const { name, replaces, buys, measured } of without) {
  if (measured.sum !== all.sum) {
    console.error(`Without ${name} the values are others.`);
    process.exitCode = 1;
  }
  lines.push(
    `| \`${name}\` | ${replaces.map((one) => `\`${one}\``).join(" ")} | ${buys} | ${beside(measured.build, all.build)} | ${beside(measured.edit, all.edit)} | ${beside(measured.wage, all.wage)} |`,
  );
}
console.log(lines.join("\n"));
rmSync(folder, { recursive: true });
if (pieces === USUAL && wanted.length === 0) {
  const text = readFileSync(README, "utf8");
  const [from, to] = [text.indexOf(START) + START.length, text.indexOf(END)];
  writeFileSync(README, `${text.slice(0, from)}\n\n${lines.join("\n")}\n\n${text.slice(to)}`);
}
