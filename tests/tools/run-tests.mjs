// `npm test`: every check and test, in order; stops at the first step that fails and closes with one plain line.
import { spawnSync } from "node:child_process";
import { mkdirSync, readFileSync, rmSync } from "node:fs";
import process from "node:process";

const out = "test-results";
rmSync(out, { recursive: true, force: true });
mkdirSync(out, { recursive: true });
const vitestJson = `${out}/vitest.json`;
const e2eJson = `${out}/e2e.json`;

const steps = [
  { name: "browser", command: "node tests/tools/ensure-browser.mjs" },
  { name: "types", command: "npm run --silent types" },
  { name: "lint", command: "npm run --silent lint" },
  { name: "unused code", command: "npx knip" },
  {
    name: "unit and browser",
    command: `npx vitest run --reporter=default --reporter=json --outputFile.json=${vitestJson}`,
  },
  { name: "build", command: "npm run build && npm run build:handsontable" },
  {
    name: "end to end",
    command: "npx playwright test --config tests/e2e/playwright.config.ts --reporter=list,json",
    env: { PLAYWRIGHT_JSON_OUTPUT_FILE: e2eJson },
  },
];

/** @param {string} file */
function read(file) {
  try {
    return JSON.parse(readFileSync(file, "utf8"));
  } catch {
    return undefined;
  }
}

/** @type {string | undefined} */
let failedStep;
const times = [];
for (const { name, command, env } of steps) {
  console.log(`\n=== ${name}: ${command}`);
  const start = Date.now();
  const { status } = spawnSync(command, {
    shell: true,
    stdio: ["ignore", "inherit", "inherit"],
    env: { ...process.env, ...env },
  });
  times.push(`${name} ${((Date.now() - start) / 1000).toFixed(1)} s`);
  if (status !== 0) {
    failedStep = name;
    break;
  }
}

const unit = read(vitestJson);
const e2e = read(e2eJson)?.stats;
const flaky = e2e?.flaky ?? 0;
const passed = (unit?.numPassedTests ?? 0) + (e2e?.expected ?? 0) + flaky;
const skipped = (unit?.numPendingTests ?? 0) + (e2e?.skipped ?? 0);
const counted = (unit?.numFailedTests ?? 0) + (e2e?.unexpected ?? 0);
const failed = failedStep && counted === 0 ? 1 : counted;
console.log(`\n${times.join(", ")}`);
if (failedStep) console.log(`failed at: ${failedStep}`);
if (flaky > 0) console.log(`flaky: ${flaky} passed only at the second try`);
console.log(`${passed} passed, ${failed} failed, ${skipped} skipped`);
process.exitCode = failed > 0 || passed === 0 ? 1 : 0;
