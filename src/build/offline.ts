// Tells the service worker which files make up this version, and what is in each.
import { createHash } from "node:crypto";
import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import type { Plugin } from "vite";

const NAME = "service-worker.js";

/** Builds `src/service-worker.ts` as `service-worker.js` beside the page, with the files and their digests put in. */
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
    writeBundle: {
      order: "post",
      handler({ dir = "" }, bundle) {
        const worker = bundle[NAME];
        if (worker?.type !== "chunk") throw new Error("the service worker was not built");
        if (worker.imports.length > 0 || worker.exports.length > 0)
          throw new Error("the service worker has to stand alone in its file");
        // From the disk: the digests are of what a host will send.
        const files = Object.fromEntries(
          readdirSync(dir, { recursive: true, withFileTypes: true })
            .filter((entry) => entry.isFile())
            .map((entry) => join(entry.parentPath, entry.name).slice(join(dir, "/").length).replaceAll("\\", "/"))
            .filter((name) => name !== NAME && !name.startsWith("licences/"))
            .sort()
            .map((name) => [name, digestOf(readFileSync(join(dir, name)))]),
        );
        const version = digestOf(JSON.stringify(files)).slice(0, 16);
        const program = JSON.stringify({ version, files });
        writeFileSync(join(dir, NAME), `const PROGRAM=${program};${readFileSync(join(dir, NAME), "utf8")}`);
      },
    },
  };
}

const digestOf = (content: string | Buffer) => createHash("sha256").update(content).digest("hex");
