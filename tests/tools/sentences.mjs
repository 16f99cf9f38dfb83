// Prints every sentence of the interface by room, so that they can be read in one go: `node tests/tools/sentences.mjs [room]`.
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import process from "node:process";

const ROOTS = ["src/ui", "src/app", "src/core", "src/ceramics", "src/accounts", "src/csv", "src/engine", "src/storage"];
const wanted = process.argv[2];

/** @param {string} folder @returns {string[]} */
const filesIn = (folder) =>
  readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) return filesIn(path);
    return /\.tsx?$/.test(entry.name) && !entry.name.endsWith(".d.ts") ? [path] : [];
  });

/** Texts of a file as they stand in it, with … for what is put in. @param {string} code */
function textsOf(code) {
  const bare = code.replace(/\/\*[\s\S]*?\*\//g, "").replace(/^\s*\/\/.*$/gm, "");
  const quoted = [...bare.matchAll(/"((?:[^"\\\n]|\\.)+)"|`((?:[^`\\]|\\.)+)`/g)].map((one) => one[1] ?? one[2] ?? "");
  const between = [...bare.matchAll(/>([^<>{}=;]*[a-z][^<>{}=;]*)</g)].map((one) => one[1] ?? "");
  return [...quoted, ...between]
    .map((text) =>
      text
        .replace(/\$\{(?:[^{}]|\{[^{}]*\})*\}/g, "…")
        .replace(/\s+/g, " ")
        .trim(),
    )
    .filter((text) => /[a-z]{2,} \S/.test(text) && !/^[.#@]|\.\/|=>|^[a-z-]+( [a-z-]+)*$/.test(text));
}

for (const root of ROOTS) {
  /** @type {Map<string, Set<string>>} */
  const rooms = new Map();
  for (const path of filesIn(root)) {
    const room = path.split("/").slice(0, -1).join("/");
    if (wanted !== undefined && !room.includes(wanted)) continue;
    const said = rooms.get(room) ?? new Set();
    for (const text of textsOf(readFileSync(path, "utf8"))) said.add(text);
    rooms.set(room, said);
  }
  for (const [room, said] of [...rooms].sort(([a], [b]) => a.localeCompare(b)))
    if (said.size > 0) process.stdout.write(`\n## ${room}\n\n${[...said].map((text) => `- ${text}`).join("\n")}\n`);
}
