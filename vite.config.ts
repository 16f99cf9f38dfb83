import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { playwright } from "@vitest/browser-playwright";
import type { Plugin } from "vite";
import { defineConfig } from "vitest/config";
import { lightEngine } from "./src/build/light-engine.ts";
import { lightGrid } from "./src/build/light-grid.ts";
import { offline } from "./src/build/offline.ts";
import { policy } from "./src/build/policy.ts";
import { singleFile } from "./src/build/single-file.ts";
import { launchOptions } from "./tests/tools/find-browser.mjs";

const here = fileURLToPath(new URL(".", import.meta.url));
const testing = process.env.VITEST !== undefined;

/** Whoever is given a build is given the licences of what is in it. */
const LICENCES = {
  "saggar-GPL-3.0.txt": "LICENSE",
  "hyperformula.txt": "node_modules/hyperformula/LICENSE.txt",
  "handsontable.txt": "node_modules/handsontable/LICENSE.txt",
  "handsontable-non-commercial.pdf": "node_modules/handsontable/handsontable-non-commercial-license.pdf",
};

const licences: Plugin = {
  name: "licences",
  apply: "build",
  generateBundle() {
    for (const [fileName, path] of Object.entries(LICENCES))
      this.emitFile({ type: "asset", fileName: `licences/${fileName}`, source: readFileSync(`${here}${path}`) });
  },
};

/** `--mode single`: the whole program as one file that works from a disk. */
const notes = () =>
  Object.fromEntries(
    Object.entries(LICENCES)
      .filter(([name]) => name.endsWith(".txt"))
      .map(([name, path]) => [name, readFileSync(`${here}${path}`, "utf8")]),
  );

export default defineConfig(({ mode }) => ({
  plugins:
    mode === "single"
      ? [lightEngine(), lightGrid(), licences, ...singleFile("saggar.html", notes())]
      : [lightGrid(), licences, policy(), offline()],
  // The page lives in src; Vitest looks for its tests from the top.
  root: testing ? here : "src",
  base: "./",
  publicDir: mode === "single" ? false : "public",
  define: mode === "single" ? { "import.meta.env.VITE_SINGLE": "true" } : {},
  build: {
    outDir: mode === "single" ? "../dist-single" : "../dist",
    emptyOutDir: true,
    target: "es2022",
    sourcemap: false,
    chunkSizeWarningLimit: mode === "single" ? 10_000 : 1500,
    modulePreload: { polyfill: false },
    ...(mode === "single"
      ? {
          assetsInlineLimit: 100_000_000,
          cssCodeSplit: false,
          rolldownOptions: { output: { codeSplitting: false } },
        }
      : {}),
  },
  worker: { format: mode === "single" ? "iife" : "es", plugins: () => [lightEngine()] },
  preview: { port: 4173, host: "127.0.0.1" },
  server: { port: 5173, host: "127.0.0.1", fs: { allow: [here] } },
  test: {
    projects: [
      {
        extends: true,
        test: {
          name: "unit",
          environment: "node",
          include: ["tests/**/*.test.ts"],
          exclude: ["tests/browser/**", "tests/e2e/**", "tests/bench/**"],
          setupFiles: ["tests/tools/strict-console.ts"],
          testTimeout: 60_000,
        },
      },
      {
        extends: true,
        optimizeDeps: {
          // Named up front, so that no late discovery reloads the page in the middle of a test.
          include: [
            "@observablehq/plot",
            "@preact/signals",
            "browser-fs-access",
            "handsontable/base",
            "handsontable/cellTypes",
            "handsontable/plugins",
            "handsontable/themes",
            "hyperformula",
            "idb",
            "papaparse",
            "fflate",
            "preact",
            "preact/hooks",
            "preact/jsx-runtime",
            "preact/jsx-dev-runtime",
            "zod/mini",
          ],
        },
        test: {
          name: "browser",
          include: ["tests/browser/**/*.test.{ts,tsx}"],
          browser: {
            enabled: true,
            headless: true,
            screenshotFailures: false,
            provider: testing ? playwright({ launchOptions: launchOptions() }) : playwright(),
            instances: [{ browser: "chromium" }],
            viewport: { width: 1440, height: 900 },
          },
        },
      },
    ],
  },
}));
