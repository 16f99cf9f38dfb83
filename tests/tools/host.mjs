// A host of plain files that a test can renew, leave half renewed, slow down and stop; and builds to put on it.
import { createHash } from "node:crypto";
import { cpSync, mkdtempSync, readdirSync, readFileSync, renameSync, rmSync, statSync, writeFileSync } from "node:fs";
import { createServer } from "node:http";
import { tmpdir } from "node:os";
import { extname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { build } from "vite";

/** @typedef {import("playwright").Page} Page */
/**
 * @typedef {object} Host
 * @property {string} url
 * @property {string} folder what is served; a copy of the build
 * @property {(folder: string | undefined) => void} serve serves another folder from now on; its own again where none is given
 * @property {string[]} asked paths that were asked for, as `/assets/index.js`
 * @property {(path: string) => boolean} isMissing whether a file is not there yet
 * @property {"nothing" | "the page"} missing what comes in the place of a missing file: nothing, or the page, as some hosts do
 * @property {(path: string) => Promise<void>} wait answers wait for this
 * @property {() => Promise<void>} stop
 */

/** @type {Readonly<Record<string, string>>} */
const TYPES = {
  ".html": "text/html",
  ".js": "text/javascript",
  ".css": "text/css",
  ".svg": "image/svg+xml",
  ".webmanifest": "application/manifest+json",
};

/** Serves a copy of the build as any host of plain files does: without headers of our own. @returns {Promise<Host>} */
export async function host() {
  const folder = copyOfBuild();
  let served = folder;
  const server = createServer(async (request, response) => {
    const path = (request.url ?? "/").split("?")[0] ?? "/";
    here.asked.push(path);
    await here.wait(path);
    const read = (/** @type {string} */ name) => {
      const body = readFileSync(join(served, name));
      response.setHeader("content-type", TYPES[extname(name)] ?? "application/octet-stream");
      response.end(body);
    };
    try {
      if (here.isMissing(path)) throw new Error("missing");
      read(path === "/" ? "index.html" : path);
    } catch {
      if (here.missing === "the page") read("index.html");
      else {
        response.statusCode = 404;
        response.end();
      }
    }
  });
  await new Promise((done) => server.listen(0, "127.0.0.1", () => done(undefined)));
  const { port } = /** @type {import("node:net").AddressInfo} */ (server.address());
  /** @type {Host} */
  const here = {
    url: `http://127.0.0.1:${port}/`,
    folder,
    serve(other) {
      served = other ?? folder;
    },
    asked: [],
    isMissing: () => false,
    missing: "nothing",
    wait: async () => undefined,
    async stop() {
      const closed = new Promise((done) => server.close(done));
      server.closeAllConnections();
      await closed;
      rmSync(folder, { recursive: true, force: true });
    },
  };
  return here;
}

/** A copy of the build, to be changed and removed. @returns {string} its folder */
export function copyOfBuild() {
  const folder = mkdtempSync(join(tmpdir(), "saggar-"));
  cpSync(fileURLToPath(new URL("../../dist", import.meta.url)), folder, { recursive: true });
  return folder;
}

/** Builds the program with a format one higher, and a migration to it that does nothing. @returns {Promise<string>} the folder of the build */
export async function buildNewerFormat() {
  const outDir = mkdtempSync(join(tmpdir(), "saggar-newer-"));
  await build({
    configFile: fileURLToPath(new URL("../../vite.config.ts", import.meta.url)),
    mode: "production",
    logLevel: "error",
    plugins: [newerFormat],
    build: { outDir, rolldownOptions: { checks: { pluginTimings: false } } },
  });
  return outDir;
}

/** @type {import("vite").Plugin} */
const newerFormat = {
  name: "newer-format",
  enforce: "pre",
  transform(code, id) {
    if (id.endsWith("/src/core/document/sheet-keys.ts"))
      return code.replace(/FORMAT_VERSION = (\d+)/, (_all, format) => `FORMAT_VERSION = ${Number(format) + 1}`);
    if (id.endsWith("/src/core/document/migrate.ts"))
      return `import { FORMAT_VERSION as NEWEST } from "./sheet-keys";\n${code.replace(
        /(MIGRATIONS: [^=]*= \[[\s\S]*?)\n\];/,
        '$1\n  { to: NEWEST, what: "nothing", run: (document) => document },\n];',
      )}`;
    return undefined;
  },
};

/** Makes a build a newer one: the page has a mark, and the part with the dialogs another name; the old one is gone. @param {string} folder */
export function renew(folder) {
  const assets = readdirSync(join(folder, "assets"));
  const main = assets.find((name) => /^all-dialogs-.*\.js$/.test(name)) ?? "";
  const newer = "all-dialogs-newer000.js";
  for (const name of ["index.html", ...assets.map((asset) => `assets/${asset}`)]) {
    const file = join(folder, name);
    if (!statSync(file).isFile() || !/\.(js|html)$/.test(name)) continue;
    writeFileSync(file, readFileSync(file, "utf8").replaceAll(main, newer));
  }
  renameSync(join(folder, "assets", main), join(folder, "assets", newer));
  const page = join(folder, "index.html");
  writeFileSync(page, readFileSync(page, "utf8").replace("<html", '<html data-version="newer"'));
  seal(folder);
}

/** Puts into the service worker what the files of a folder are now. @param {string} folder */
export function seal(folder) {
  const digest = (/** @type {string | Buffer} */ content) => createHash("sha256").update(content).digest("hex");
  const names = /** @type {string[]} */ (readdirSync(folder, { recursive: true })).filter(
    (name) => statSync(join(folder, name)).isFile() && !/^(licences|service-worker\.js)/.test(name),
  );
  const files = Object.fromEntries(names.map((name) => [name, digest(readFileSync(join(folder, name)))]));
  const program = JSON.stringify({ version: digest(JSON.stringify(files)).slice(0, 16), files });
  const worker = join(folder, "service-worker.js");
  writeFileSync(worker, readFileSync(worker, "utf8").replace(/^const PROGRAM=.*?\}\};/, `const PROGRAM=${program};`));
}

/** Waits until the program is kept whole and answers for this page. @param {Page} page */
export async function installed(page) {
  await page.evaluate(async () => {
    await navigator.serviceWorker.ready;
    if (!navigator.serviceWorker.controller)
      await new Promise((done) => navigator.serviceWorker.addEventListener("controllerchange", done, { once: true }));
  });
}

/** Whether the page is of the renewed build. @param {Page} page */
export const isNewer = (page) => page.evaluate(() => document.documentElement.dataset.version === "newer");
/** Has the browser look for a newer version. @param {Page} page */
export const askForUpdate = (page) =>
  page.evaluate(async () => void (await (await navigator.serviceWorker.ready).update()));
