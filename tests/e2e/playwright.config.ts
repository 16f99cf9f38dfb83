import { defineConfig } from "@playwright/test";
import { launchOptions } from "../tools/find-browser.mjs";

const port = Number(process.env.E2E_PORT ?? 4173);

/** The two builds: how Vite knows them, and how far their ports are from the first. */
const GRIDS = { free: { mode: "production", offset: 0 }, handsontable: { mode: "handsontable", offset: 100 } } as const;

const launch = launchOptions();
/** Most tests live for seconds: code is compiled quickly rather than well, and by no threads beside those that run it. */
const quickStart = "--js-flags=--no-turbofan --no-maglev --single-threaded-gc";
/** These go on in one page, with axe or a fit of a kiln, for long enough that what runs often is better compiled well. */
const LONG = /\/(?:kiln|typing-place|views)\.spec\.ts$/;

export default defineConfig({
  testDir: ".",
  fullyParallel: true,
  forbidOnly: !!process.env.CI,
  // A second try in CI only; what needed it is printed as flaky and is to be mended.
  retries: process.env.CI ? 1 : 0,
  workers: 2,
  reporter: [["list"]],
  outputDir: "../../test-results/e2e",
  timeout: 90_000,
  expect: { timeout: 20_000 },
  use: {
    baseURL: `http://127.0.0.1:${port}/`,
    launchOptions: { ...launch, args: [...launch.args, quickStart] },
    viewport: { width: 1440, height: 900 },
    locale: "en-GB",
    timezoneId: "UTC",
    permissions: ["clipboard-read", "clipboard-write"],
    // Three megabytes more for every first visit: only the tests that are about it let it in.
    serviceWorkers: "block",
    trace: process.env.TRACE ? "retain-on-failure" : "off",
    screenshot: "only-on-failure",
  },
  projects: [
    { name: "free-long", testMatch: LONG, use: { launchOptions: launch } },
    { name: "free", testIgnore: LONG },
    // The same page with the library's grid: what is marked runs on both.
    {
      name: "handsontable",
      grep: /@both-grids/,
      use: { baseURL: `http://127.0.0.1:${port + GRIDS.handsontable.offset}/` },
    },
  ],
  webServer: Object.values(GRIDS).map(({ mode, offset }) => ({
    command: `node node_modules/vite/bin/vite.js preview --mode ${mode} --port ${port + offset} --strictPort`,
    cwd: "../..",
    url: `http://127.0.0.1:${port + offset}/`,
    reuseExistingServer: !process.env.CI,
    gracefulShutdown: { signal: "SIGTERM" as const, timeout: 2000 },
    stdout: "ignore" as const,
  })),
});
