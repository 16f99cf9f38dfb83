import { readFileSync } from "node:fs";
import { availableParallelism } from "node:os";
import { fileURLToPath } from "node:url";
import { playwright } from "@vitest/browser-playwright";
import type { Plugin } from "vite";
import { defineConfig } from "vitest/config";
import { commonFunctions } from "./src/build/common-functions.ts";
import { firstChunk } from "./src/build/first-chunk.ts";
import { lightEngine } from "./src/build/light-engine.ts";
import { offline } from "./src/build/offline.ts";
import { policy } from "./src/build/policy.ts";
import { readyDemo } from "./src/build/ready-demo.ts";
import { singleFile } from "./src/build/single-file.ts";
import { smallBoot } from "./src/build/small-boot.ts";
import { unusedMethods } from "./src/build/unused-methods.ts";
import { workersUnderPolicy } from "./src/build/workers.ts";
import { ALONE } from "./tests/tools/alone.mjs";
import { launchOptions } from "./tests/tools/find-browser.mjs";

const here = fileURLToPath(new URL(".", import.meta.url));
const testing = process.env.VITEST !== undefined;

/** Which grid a build holds: our own, which may be handed on, or the library, for looking and evaluating or with a licence. */
function gridOf(mode: string): "free" | "handsontable" {
  const wanted = process.env.VITE_GRID ?? (mode === "handsontable" ? mode : "free");
  if (wanted !== "free" && wanted !== "handsontable")
    throw new Error(`VITE_GRID is "${wanted}"; it can be "free" or "handsontable".`);
  return wanted;
}

/** Whoever is given a build is given the licences of what is in it. */
function licenceFiles(grid: "free" | "handsontable"): Readonly<Record<string, string>> {
  return {
    "saggar-GPL-3.0.txt": "LICENSE",
    "hyperformula.txt": "node_modules/hyperformula/LICENSE.txt",
    ...(grid === "handsontable"
      ? {
          "handsontable.txt": "node_modules/handsontable/LICENSE.txt",
          "handsontable-non-commercial.pdf": "node_modules/handsontable/handsontable-non-commercial-license.pdf",
        }
      : {}),
  };
}

const licences = (grid: "free" | "handsontable"): Plugin => ({
  name: "licences",
  apply: "build",
  generateBundle() {
    for (const [fileName, path] of Object.entries(licenceFiles(grid)))
      this.emitFile({ type: "asset", fileName: `licences/${fileName}`, source: readFileSync(`${here}${path}`) });
  },
});

/** `--mode single`: the whole program as one file that works from a disk. */
const notes = (grid: "free" | "handsontable") =>
  Object.fromEntries(
    Object.entries(licenceFiles(grid))
      .filter(([name]) => name.endsWith(".txt"))
      .map(([name, path]) => [name, readFileSync(`${here}${path}`, "utf8")]),
  );

const outDirOf = (mode: string, grid: "free" | "handsontable") =>
  mode === "single" ? "../dist-single" : grid === "free" ? "../dist" : "../dist-handsontable";

/** The grid of the browser tests: the same suite runs on both. */
const gridTests = (grid: "free" | "handsontable") => ({
  define: { "import.meta.env.VITE_GRID": JSON.stringify(grid) },
});

/** The engine and the reader it is built on. */
const isOfEngine = (id: string) => /\/node_modules\/(?:hyperformula|chevrotain)\//.test(id);

export default defineConfig(({ mode }) => ({
  plugins:
    mode === "single"
      ? [lightEngine(), licences(gridOf(mode)), ...singleFile("saggar.html", notes(gridOf(mode)))]
      : [licences(gridOf(mode)), readyDemo(), workersUnderPolicy(), policy(), smallBoot(), offline()],
  // The page lives in src; Vitest looks for its tests from the top.
  root: testing ? here : "src",
  base: "./",
  // A file that is missing is missing: with the page in its place, a release that is half there would look whole.
  appType: "mpa",
  // Nothing can be fetched later by a program of one file.
  resolve:
    mode === "single"
      ? { alias: [{ find: /^\.\/worker\/common-engine\.ts/, replacement: "./worker/whole-engine.ts" }] }
      : {},
  publicDir: mode === "single" ? false : "public",
  define: {
    "import.meta.env.VITE_GRID": JSON.stringify(gridOf(mode)),
    ...(mode === "single" ? { "import.meta.env.VITE_SINGLE": "true" } : {}),
  },
  build: {
    outDir: outDirOf(mode, gridOf(mode)),
    emptyOutDir: true,
    target: "es2022",
    sourcemap: false,
    chunkSizeWarningLimit: mode === "single" ? 10_000 : 1500,
    // A part's own parts are fetched when it asks for them: they are few, and the list of them all would be in the first load.
    modulePreload: {
      polyfill: false,
      resolveDependencies: (_file, parts) => parts.filter((part) => part.endsWith(".css")),
    },
    ...(mode === "single"
      ? {
          assetsInlineLimit: 100_000_000,
          cssCodeSplit: false,
          rolldownOptions: { output: { codeSplitting: false } },
        }
      : {
          rolldownOptions: {
            output: { codeSplitting: { groups: [{ name: firstChunk(), includeDependenciesRecursively: false }] } },
          },
        }),
  },
  worker: {
    format: mode === "single" ? "iife" : "es",
    plugins: () => [commonFunctions(), lightEngine(), unusedMethods("HyperFormula", isOfEngine)],
  },
  preview: { port: 4173, host: "127.0.0.1" },
  server: { port: 5173, host: "127.0.0.1", fs: { allow: [here] } },
  test: {
    // The default leaves one core idle, which is half of two.
    maxWorkers: availableParallelism(),
    projects: [
      ...([false, true] as const).map((isAlone) => ({
        extends: true as const,
        test: {
          name: isAlone ? "unit-alone" : "unit",
          environment: "node" as const,
          isolate: isAlone,
          include: isAlone ? ALONE : ["tests/**/*.test.ts"],
          exclude: ["tests/browser/**", "tests/e2e/**", "tests/bench/**", ...(isAlone ? [] : ALONE)],
          setupFiles: ["tests/tools/strict-console.ts"],
          testTimeout: 60_000,
        },
      })),
      ...(["free", "handsontable"] as const).map((grid) => ({
        extends: true as const,
        ...gridTests(grid),
        optimizeDeps: {
          // Named up front, so that no late discovery reloads the page in the middle of a test.
          include: [
            "@observablehq/plot",
            "@preact/signals",
            "browser-fs-access",
            "fast-check",
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
          name: grid === "free" ? "browser" : "browser-handsontable",
          include: grid === "free" ? ["tests/browser/**/*.test.{ts,tsx}"] : ["tests/browser/grid-*.test.ts"],
          browser: {
            enabled: true,
            headless: true,
            screenshotFailures: false,
            provider: testing ? playwright({ launchOptions: launchOptions() }) : playwright(),
            instances: [{ browser: "chromium" as const }],
            viewport: { width: 1440, height: 900 },
          },
        },
      })),
    ],
  },
}));
