// `npm run check`, for the daily loop: types, lint, unused code, and the unit tests nearest to what was touched since main:
// those that were touched themselves and those that import a touched file, at first hand or by way of tests/tools.
// What lies further off is left to `npm test`.
import { execFileSync, spawn } from "node:child_process";
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import process from "node:process";

/** @param {string[]} args */
const git = (...args) => execFileSync("git", args, { encoding: "utf8" }).split("\n").filter(Boolean);

/** Where this work parted from main; the last commit where there is no main. */
function base() {
  try {
    return git("merge-base", "HEAD", "main")[0] ?? "HEAD";
  } catch {
    return "HEAD";
  }
}

const touched = new Set([...git("diff", "--name-only", base()), ...git("ls-files", "--others", "--exclude-standard")]);

/**
 * The files that a test or tool imports, without their extensions.
 * @param {string} path
 */
function importsOf(path) {
  const text = readFileSync(path, "utf8");
  return [...text.matchAll(/(?:from|import)\s*\(?\s*"(\.[^"]+)"/g)].map(([, name = ""]) =>
    join(path, "..", name).replace(/\.(tsx?|mjs)$/, ""),
  );
}

const isTouched = [...touched].map((path) => path.replace(/\.(tsx?|mjs)$/, ""));
const wanted = new Set(isTouched);
const tests = readdirSync("tests", { recursive: true, encoding: "utf8" }).map((name) => join("tests", name));
const tools = tests.filter((path) => path.startsWith("tests/tools/") && /\.(ts|mjs)$/.test(path));
for (const tool of tools)
  if (importsOf(tool).some((name) => isTouched.includes(name))) wanted.add(tool.replace(/\.(ts|mjs)$/, ""));
const near = tests.filter(
  (path) =>
    path.endsWith(".test.ts") &&
    !/^tests\/(browser|e2e|bench)\//.test(path) &&
    (touched.has(path) || importsOf(path).some((name) => wanted.has(name))),
);
// The rules of the house cost a second.
const always = ["tests/architecture.test.ts", "tests/rooms.test.ts"].filter((path) => existsSync(path));
const unit = [...new Set([...always, ...near])];

const steps = [
  { name: "types", command: "npm run --silent types" },
  { name: "lint", command: "npm run --silent lint" },
  { name: "unused code", command: "npx knip" },
  { name: `${unit.length} unit tests`, command: `npx vitest run --project "unit*" ${unit.join(" ")}` },
];

const start = Date.now();
let failed = 0;

/** @param {{ name: string, command: string }} step */
async function runStep({ name, command }) {
  const began = Date.now();
  const output = /** @type {string[]} */ ([]);
  const run = spawn(command, { shell: true, stdio: ["ignore", "pipe", "pipe"] });
  for (const stream of [run.stdout, run.stderr]) stream.on("data", (data) => output.push(String(data)));
  const code = await new Promise((done) => run.on("close", done));
  console.log(`${code === 0 ? "passed" : "FAILED"} ${name}, ${((Date.now() - began) / 1000).toFixed(1)} s`);
  if (code === 0) return;
  failed += 1;
  console.log(output.join(""));
}

// Two at a time: the tests beside everything else.
await Promise.all(
  [steps.slice(0, -1), steps.slice(-1)].map(async (lane) => {
    for (const step of lane) await runStep(step);
  }),
);
console.log(`${failed === 0 ? "all passed" : `${failed} failed`}, ${((Date.now() - start) / 1000).toFixed(1)} s`);
process.exitCode = failed > 0 ? 1 : 0;
