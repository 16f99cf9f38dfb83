// A folder over HTTP on this machine, for the benches.
import { readFile } from "node:fs/promises";
import { createServer } from "node:http";
import { extname, join } from "node:path";

const types = {
  ".html": "text/html",
  ".js": "text/javascript",
  ".css": "text/css",
  ".json": "application/json",
  ".svg": "image/svg+xml",
};

/**
 * @param {string} folder
 * @returns {Promise<{ server: import("node:http").Server, url: string }>}
 */
export function serve(folder) {
  return new Promise((resolve) => {
    const server = createServer(async (request, response) => {
      const path = (request.url ?? "/").split("?")[0] ?? "/";
      const file = join(folder, path === "/" ? "index.html" : path);
      try {
        const body = await readFile(file);
        response.setHeader(
          "content-type",
          types[/** @type {keyof typeof types} */ (extname(file))] ?? "application/octet-stream",
        );
        response.end(body);
      } catch {
        response.statusCode = 404;
        response.end();
      }
    });
    server.listen(0, "127.0.0.1", () =>
      resolve({
        server,
        url: `http://127.0.0.1:${/** @type {import("node:net").AddressInfo} */ (server.address()).port}/`,
      }),
    );
  });
}
