// Tells the service worker which files make up this version.
import { createHash } from "node:crypto";
import { readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import type { Plugin } from "vite";

const NAME = "service-worker.js";
const publicFolder = fileURLToPath(new URL("../public/", import.meta.url));

/** Builds `src/service-worker.ts` as `service-worker.js` beside the page, with the list of files put in. */
export function offline(): Plugin {
  return {
    name: "offline",
    apply: "build",
    enforce: "post",
    config: () => ({
      build: {
        rolldownOptions: {
          input: {
            index: fileURLToPath(new URL("../index.html", import.meta.url)),
            "service-worker": fileURLToPath(new URL("../service-worker.ts", import.meta.url)),
          },
          output: {
            entryFileNames: ({ name }) => (name === "service-worker" ? NAME : "assets/[name]-[hash].js"),
          },
        },
      },
    }),
    generateBundle: {
      order: "post",
      handler(_options, bundle) {
        const worker = bundle[NAME];
        if (worker?.type !== "chunk") throw new Error("the service worker was not built");
        if (worker.imports.length > 0 || worker.exports.length > 0)
          throw new Error("the service worker has to stand alone in its file");
        const hash = createHash("sha256");
        const files = Object.entries(bundle)
          .filter(([name]) => name !== NAME && !name.startsWith("licences/"))
          .map(([name, file]) => {
            hash.update(name).update(file.type === "chunk" ? file.code : file.source);
            return name;
          });
        for (const name of readdirSync(publicFolder)) {
          hash.update(name).update(readFileSync(`${publicFolder}${name}`));
          files.push(name);
        }
        const program = { version: hash.digest("hex").slice(0, 16), files: files.sort() };
        worker.code = `const PROGRAM=${JSON.stringify(program)};${worker.code}`;
      },
    },
  };
}
