// Prints how long what-ifs take: compiled, by the engine, by hand. `node tests/bench/whatif.mjs`, part of `npm run bench`
// too. Nothing here asserts a time.
import { chromium } from "playwright";
import { build } from "vite";
import { launchOptions } from "../tools/find-browser.mjs";
import { serve } from "./serve.mjs";

await build({
  configFile: false,
  root: "tests/bench/whatif",
  base: "./",
  logLevel: "error",
  worker: { format: "es" },
  build: {
    outDir: "../../../dist-baseline/whatif",
    emptyOutDir: true,
    target: "es2022",
    chunkSizeWarningLimit: 3000,
    modulePreload: { polyfill: false },
  },
});
const { server, url } = await serve("dist-baseline/whatif");
const browser = await chromium.launch(launchOptions());
const page = await browser.newPage();
page.on("console", (message) => message.type() === "error" && console.error(message.text()));
await page.goto(url);
await page.waitForFunction(() => "measureWhatIf" in window);
console.log(
  "| cases | pieces | ready: first, again | compiled | by the engine | by hand | engine ÷ compiled | compiled ÷ by hand | longest frame |",
);
console.log("| --- | --- | --- | --- | --- | --- | --- | --- | --- |");
for (const [cases, pieces, engineCases] of [
  [10_000, 200, 12],
  [1000, 2000, 5],
]) {
  const found = await page.evaluate(
    ([p, c, e]) => /** @type {any} */ (window).measureWhatIf(p, c, e),
    [pieces, cases, engineCases],
  );
  if (found.how.kind !== "compiled") console.error(found.how.notes.join("\n"));
  const ms = (/** @type {number} */ n) => `${Math.round(n)} ms`;
  console.log(
    `| ${cases} | ${pieces} | ${ms(found.first)}, ${ms(found.again)} | ${ms(found.run)} | ${ms(found.engine)} | ${ms(found.hand)} | ${Math.round(found.engine / found.run)} × | ${(found.run / found.hand).toFixed(1)} × | ${ms(found.longest)} |`,
  );
  console.log(`  furthest from the sums by hand: ${found.furthest.toExponential(1)}`);
}
await browser.close();
server.close();
