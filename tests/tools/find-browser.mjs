// Which Chromium-family browser the tests use, and how they start it.
// Order: $CHROME_PATH; what ensure-browser.mjs chose last time; Playwright's own; Chrome, Chromium or Edge of the
// system; the one unpacked from the npm package in tools/browser.
import { accessSync, constants, existsSync, readFileSync } from "node:fs";
import { delimiter, dirname, join } from "node:path";
import process from "node:process";
import { fileURLToPath } from "node:url";
import { chromium } from "playwright";

const root = dirname(dirname(dirname(fileURLToPath(import.meta.url))));
export const choiceFile = join(root, "node_modules", ".cache", "test-browser.json");
/** Where the browser of tools/browser is unpacked. */
export const unpackedDir = join(root, "tests", "tools", "browser", "node_modules", ".cache", "chromium");

/** @typedef {{ kind: "env" | "playwright" | "system" | "npm", path: string }} Browser */

/** @param {string} path */
function isRunnable(path) {
  try {
    accessSync(path, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}

function systemPaths() {
  const env = process.env;
  if (process.platform === "darwin") {
    return ["/Applications", join(env.HOME ?? "/", "Applications")].flatMap((dir) =>
      ["Google Chrome", "Chromium", "Microsoft Edge"].map((app) => `${dir}/${app}.app/Contents/MacOS/${app}`),
    );
  }
  if (process.platform === "win32") {
    return [env.PROGRAMFILES, env["PROGRAMFILES(X86)"], env.LOCALAPPDATA]
      .filter((dir) => dir !== undefined)
      .flatMap((dir) =>
        [
          "Google/Chrome/Application/chrome.exe",
          "Chromium/Application/chrome.exe",
          "Microsoft/Edge/Application/msedge.exe",
        ].map((exe) => join(dir, exe)),
      );
  }
  // Debian's headless shell first: it runs the end-to-end tests in two thirds of the time the full browser takes.
  const names = [
    "chromium-headless-shell",
    "google-chrome-stable",
    "google-chrome",
    "chromium",
    "chromium-browser",
    "microsoft-edge-stable",
  ];
  return names.flatMap((name) =>
    (env.PATH ?? "")
      .split(delimiter)
      .filter(Boolean)
      .map((dir) => join(dir, name)),
  );
}

/** Everything that may work, best first. @returns {Browser[]} */
export function candidates() {
  const fromEnv = process.env.CHROME_PATH;
  if (fromEnv) {
    if (!isRunnable(fromEnv)) throw new Error(`CHROME_PATH is "${fromEnv}", which cannot be run`);
    return [{ kind: "env", path: fromEnv }];
  }
  /** @type {Browser[]} */
  const found = [];
  const own = chromium.executablePath();
  if (own && existsSync(own)) found.push({ kind: "playwright", path: own });
  for (const path of systemPaths()) if (isRunnable(path)) found.push({ kind: "system", path });
  const unpacked = join(unpackedDir, "chromium");
  if (isRunnable(unpacked)) found.push({ kind: "npm", path: unpacked });
  return found;
}

/** @param {Browser} browser */
export function launchOptionsFor(browser) {
  const asRoot = process.getuid?.() === 0;
  const noSandbox = asRoot || browser.kind === "npm" || process.env.CI !== undefined;
  return {
    ...(browser.kind === "playwright" ? {} : { executablePath: browser.path }),
    // The npm package brings the shared libraries and the fonts that a bare Linux lacks.
    ...(browser.kind === "npm"
      ? {
          env: {
            ...process.env,
            LD_LIBRARY_PATH: [join(unpackedDir, "al2023", "lib"), process.env.LD_LIBRARY_PATH]
              .filter(Boolean)
              .join(":"),
            FONTCONFIG_PATH: process.env.FONTCONFIG_PATH ?? join(unpackedDir, "fonts"),
          },
        }
      : {}),
    args: [
      ...(noSandbox ? ["--no-sandbox"] : []),
      "--disable-dev-shm-usage",
      "--disable-gpu",
      "--disable-quic",
      "--disable-background-networking",
      "--disable-component-update",
      "--disable-sync",
      "--no-first-run",
    ],
  };
}

/** Launch options for Playwright's `chromium.launch`, for Vitest's browser mode and for the end-to-end tests. */
export function launchOptions() {
  const all = candidates();
  /** @type {Browser | undefined} */
  let chosen;
  try {
    chosen = JSON.parse(readFileSync(choiceFile, "utf8"));
  } catch {
    // not chosen yet: take the first
  }
  const browser = all.find((b) => b.path === chosen?.path) ?? all[0];
  if (!browser) throw new Error("No Chromium, Chrome or Edge found. Run: npm run browser");
  return launchOptionsFor(browser);
}
