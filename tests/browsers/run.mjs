// `npm run test:browsers`: one walk in Chromium, Firefox and WebKit. Words choose engines; `--install` has Debian's packages put
// in for those that are absent; with `--again` an engine in which a step failed is walked once more. What is absent is said and
// counted as skipped.
import { mkdirSync } from "node:fs";
import process from "node:process";
import { FOUND, install } from "./find.mjs";
import { serve } from "./serve.mjs";
import { walk } from "./walk.mjs";

const given = process.argv.slice(2);
const engines = /** @type {import("./find.mjs").Engine[]} */ (["chromium", "firefox", "webkit"]).filter(
  (engine) => given.every((word) => word.startsWith("--")) || given.includes(engine),
);
if (given.includes("--install")) install(engines);

for (const signal of /** @type {const} */ (["SIGINT", "SIGTERM"])) process.once(signal, () => process.exit(1));

const shots = "test-results/browsers";
mkdirSync(shots, { recursive: true });
const TO_ITS_END = "to its end";
const count = { passed: 0, failed: 0, skipped: 0 };
/** What the first engine found. @type {Map<string, unknown>} */
const first = new Map();
const host = await serve();

/**
 * One walk in one engine: which of its steps passed and which failed. Whether it came to its end counts as a step.
 * @param {import("./find.mjs").Engine} engine
 * @param {object} found
 */
async function walkIn(engine, found) {
  const here = { passed: /** @type {Set<string>} */ (new Set()), failed: /** @type {Set<string>} */ (new Set()) };
  const began = Date.now();
  try {
    const { start } = await import(`./${engine}.mjs`);
    /** @type {import("./page.mjs").Driver} */
    const driver = await start(found);
    console.log(`\n${driver.name}`);
    try {
      await walk(driver, host, first, async (name, todo, page) => {
        const from = Date.now();
        try {
          const result = await todo();
          here.passed.add(name);
          console.log(`  passed  ${name}${result ? `: ${result}` : ""} (${((Date.now() - from) / 1000).toFixed(1)} s)`);
        } catch (error) {
          here.failed.add(name);
          console.log(`  FAILED  ${name}: ${error instanceof Error ? error.message.slice(0, 2000) : error}`);
          const path = `${shots}/${engine}-${name.replaceAll(/\W+/g, "-")}.png`;
          await page?.()
            .shot(path)
            .then(
              () => console.log(`          ${path}`),
              () => undefined,
            );
        }
      });
      here.passed.add(TO_ITS_END);
    } finally {
      await driver.stop();
    }
  } catch (error) {
    here.failed.add(TO_ITS_END);
    console.log(`  FAILED  ${engine}: ${error instanceof Error ? error.stack : error}`);
  }
  console.log(`  ${((Date.now() - began) / 1000).toFixed(0)} s`);
  return here;
}

for (const engine of engines) {
  const found = FOUND[engine]();
  if (!found) {
    count.skipped += 1;
    console.log(`\n${engine}: absent, skipped`);
    continue;
  }
  const once = await walkIn(engine, found);
  const walks = [once];
  if (once.failed.size > 0 && given.includes("--again")) {
    console.log(`  ${engine} is walked once more: what fails in one walk only is flaky and is to be mended`);
    host.isDown = false;
    walks.push(await walkIn(engine, found));
  }
  const passed = new Set(walks.flatMap((walked) => [...walked.passed]));
  const failed = new Set(walks.flatMap((walked) => [...walked.failed]).filter((name) => !passed.has(name)));
  count.passed += passed.size;
  count.failed += failed.size;
}
await host.stop();
console.log(`\n${count.passed} passed, ${count.failed} failed, ${count.skipped} skipped`);
process.exit(count.failed > 0 || count.passed === 0 ? 1 : 0);
