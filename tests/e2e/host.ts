// A host of plain files that a test can renew, leave half renewed, slow down and stop; and builds to put on it.
import { createHash } from "node:crypto";
import { cpSync, mkdtempSync, readdirSync, readFileSync, renameSync, rmSync, statSync, writeFileSync } from "node:fs";
import { createServer } from "node:http";
import type { AddressInfo } from "node:net";
import { tmpdir } from "node:os";
import { extname, join } from "node:path";
import { fileURLToPath } from "node:url";
import type { Page } from "@playwright/test";

const TYPES: Readonly<Record<string, string>> = {
  ".html": "text/html",
  ".js": "text/javascript",
  ".css": "text/css",
  ".svg": "image/svg+xml",
  ".webmanifest": "application/manifest+json",
};

export interface Host {
  readonly url: string;
  /** What is served; a copy of the build. */
  readonly folder: string;
  /** Serves another folder from now on; its own again where none is given. */
  serve: (folder: string | undefined) => void;
  /** Paths that were asked for, as `/assets/index.js`. */
  readonly asked: string[];
  /** Whether a file is not there yet. */
  isMissing: (path: string) => boolean;
  /** What comes in the place of a missing file: nothing, or the page, as some hosts do. */
  missing: "nothing" | "the page";
  /** Answers wait for this. */
  wait: (path: string) => Promise<void>;
  stop(): Promise<void>;
}

/** Serves a copy of the build as any host of plain files does: without headers of our own. */
export async function host(): Promise<Host> {
  const folder = mkdtempSync(join(tmpdir(), "saggar-"));
  cpSync(fileURLToPath(new URL("../../dist", import.meta.url)), folder, { recursive: true });
  let served = folder;
  const server = createServer(async (request, response) => {
    const path = (request.url ?? "/").split("?")[0] ?? "/";
    here.asked.push(path);
    await here.wait(path);
    const read = (name: string) => {
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
  await new Promise<void>((done) => server.listen(0, "127.0.0.1", done));
  const here: Host = {
    url: `http://127.0.0.1:${(server.address() as AddressInfo).port}/`,
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

/** Makes a build a newer one: the page has a mark, and the part with the dialogs another name; the old one is gone. */
export function renew(folder: string): void {
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

/** Puts into the service worker what the files of a folder are now. */
function seal(folder: string): void {
  const digest = (content: string | Buffer) => createHash("sha256").update(content).digest("hex");
  const names = (readdirSync(folder, { recursive: true }) as string[]).filter(
    (name) => statSync(join(folder, name)).isFile() && !/^(licences|service-worker\.js)/.test(name),
  );
  const files = Object.fromEntries(names.map((name) => [name, digest(readFileSync(join(folder, name)))]));
  const program = JSON.stringify({ version: digest(JSON.stringify(files)).slice(0, 16), files });
  const worker = join(folder, "service-worker.js");
  writeFileSync(worker, readFileSync(worker, "utf8").replace(/^const PROGRAM=.*?\}\};/, `const PROGRAM=${program};`));
}

/** Waits until the program is kept whole and answers for this page. */
export async function installed(page: Page): Promise<void> {
  await page.evaluate(async () => {
    await navigator.serviceWorker.ready;
    if (!navigator.serviceWorker.controller)
      await new Promise((done) => navigator.serviceWorker.addEventListener("controllerchange", done, { once: true }));
  });
}

export const isNewer = (page: Page) => page.evaluate(() => document.documentElement.dataset.version === "newer");
export const askForUpdate = (page: Page) =>
  page.evaluate(async () => void (await (await navigator.serviceWorker.ready).update()));
