// A copy of the build over HTTP, with a script before all others that notes what goes wrong and stands in for file dialogs, so
// that every engine is watched and given files in one way.
import { readFileSync, rmSync, writeFileSync } from "node:fs";
import { createServer } from "node:http";
import { extname, join } from "node:path";
import { copyOfBuild, seal } from "../tools/host.mjs";
import { probe } from "./probe.mjs";

const root = new URL("../../", import.meta.url);
/** @type {Readonly<Record<string, string>>} */
const TYPES = {
  ".html": "text/html",
  ".js": "text/javascript",
  ".css": "text/css",
  ".svg": "image/svg+xml",
  ".webmanifest": "application/manifest+json",
};

/** Puts the probe into the page, and what the files are now into the service worker, which compares them. @param {string} folder */
function prepare(folder) {
  writeFileSync(join(folder, "probe.js"), `(${probe})();`);
  const page = join(folder, "index.html");
  writeFileSync(page, readFileSync(page, "utf8").replace("<title>", '<script src="./probe.js"></script><title>'));
  seal(folder);
}

/** The program as one file, with nothing put in. */
export const singleFile = new URL("dist-single/saggar.html", root).href;

/**
 * The build at an address that can be taken off the network and put back.
 * @returns {Promise<{ url: string, isDown: boolean, stop: () => Promise<void> }>}
 */
export async function serve() {
  const folder = copyOfBuild();
  prepare(folder);
  const server = createServer((request, response) => {
    if (here.isDown) return void request.socket.destroy();
    const path = (request.url ?? "/").split("?")[0] ?? "/";
    try {
      const name = path === "/" ? "index.html" : path;
      const body = readFileSync(join(folder, name));
      response.setHeader("content-type", TYPES[extname(name)] ?? "application/octet-stream");
      response.end(body);
    } catch {
      response.statusCode = 404;
      response.end();
    }
  });
  await new Promise((done) => server.listen(0, "127.0.0.1", () => done(undefined)));
  const { port } = /** @type {import("node:net").AddressInfo} */ (server.address());
  const here = {
    url: `http://127.0.0.1:${port}/`,
    isDown: false,
    async stop() {
      server.closeAllConnections();
      await new Promise((done) => server.close(done));
      rmSync(folder, { recursive: true, force: true });
    },
  };
  return here;
}
