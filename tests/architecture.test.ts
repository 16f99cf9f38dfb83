// The house rules, held by a test that says which rule broke and how to mend it.
import { readdirSync, readFileSync, statSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";

const LAYERS = ["core", "ceramics", "accounts", "engine", "csv", "whatif", "storage", "charts", "app", "ui"];
const BELOW: Readonly<Record<string, readonly string[]>> = {
  core: [],
  ceramics: ["core"],
  accounts: ["core"],
  engine: ["core", "ceramics", "accounts"],
  csv: ["core", "ceramics", "accounts"],
  whatif: ["core", "ceramics", "accounts", "engine"],
  storage: ["core", "ceramics", "accounts"],
  charts: ["core", "ceramics", "accounts"],
  app: ["core", "ceramics", "accounts", "engine", "csv", "whatif", "storage", "charts"],
  ui: LAYERS,
};
/** The folder that alone may import a package. */
const OWNERS: Readonly<Record<string, readonly string[]>> = {
  hyperformula: ["src/engine/"],
  papaparse: ["src/csv/"],
  fflate: ["src/csv/"],
  handsontable: ["src/ui/grid/handsontable/"],
  idb: ["src/storage/"],
  "browser-fs-access": ["src/storage/"],
  "@observablehq/plot": ["src/charts/"],
  preact: ["src/ui/", "src/main.ts"],
  "@preact/signals": ["src/app/", "src/ui/"],
  zod: ["src/core/"],
};

function filesUnder(folder: string): string[] {
  return readdirSync(folder).flatMap((name) => {
    const path = join(folder, name);
    return statSync(path).isDirectory() ? filesUnder(path) : /\.tsx?$/.test(name) ? [path] : [];
  });
}

const files = filesUnder("src").map((path) => ({ path, text: readFileSync(path, "utf8") }));
const importsOf = (text: string) =>
  [...text.matchAll(/(?:from|import)\s*\(?\s*"([^"]+)"/g)].map((match) => match[1] ?? "");
const layerOf = (path: string) => path.split("/")[1] ?? "";

describe("architecture", () => {
  it("imports go down only", () => {
    const breaches = files.flatMap(({ path, text }) => {
      const layer = layerOf(path);
      if (!LAYERS.includes(layer)) return [];
      return importsOf(text)
        .filter((name) => name.startsWith("."))
        .map((name) => join(path, "..", name).split("/")[1] ?? "")
        .filter((target) => LAYERS.includes(target) && target !== layer && !BELOW[layer]?.includes(target))
        .map(
          (target) =>
            `${path} imports ${target}: ${layer} may import only ${BELOW[layer]?.join(", ") || "nothing"}. Move the code down, or pass it in.`,
        );
    });
    expect(breaches).toEqual([]);
  });

  it("each package has one folder that imports it", () => {
    const breaches = files.flatMap(({ path, text }) =>
      importsOf(text).flatMap((name) => {
        const owner = Object.keys(OWNERS).find((known) => name === known || name.startsWith(`${known}/`));
        if (owner === undefined || OWNERS[owner]?.some((folder) => path.startsWith(folder))) return [];
        return [`${path} imports ${name}: only ${OWNERS[owner]?.join(" and ")} may. Use what that folder exports.`];
      }),
    );
    expect(breaches).toEqual([]);
  });

  it("nothing goes in a circle", () => {
    const graph = new Map(
      files.map(({ path, text }) => [
        path.replace(/\.tsx?$/, ""),
        importsOf(text.replace(/import type [\s\S]*?;/g, ""))
          .filter((name) => name.startsWith("."))
          .map((name) => join(path, "..", name)),
      ]),
    );
    const circles: string[] = [];
    const state = new Map<string, "open" | "done">();
    const visit = (node: string, trail: readonly string[]) => {
      if (state.get(node) === "done") return;
      if (state.get(node) === "open") {
        circles.push([...trail.slice(trail.indexOf(node)), node].join(" → "));
        return;
      }
      state.set(node, "open");
      for (const next of graph.get(node) ?? []) visit(next, [...trail, node]);
      state.set(node, "done");
    };
    for (const node of graph.keys()) visit(node, []);
    expect(circles).toEqual([]);
  });

  it("files stay readable: 400 lines at most", () => {
    const long = files
      .map(({ path, text }) => ({ path, lines: text.split("\n").length }))
      .filter(({ lines }) => lines > 401);
    expect(long.map(({ path, lines }) => `${path} has ${lines} lines: split it by concept.`)).toEqual([]);
  });

  it("pure code asks for the clock, chance and storage instead of taking them", () => {
    const banned =
      /\b(Date\.now|new Date\(\)|Math\.random|localStorage|sessionStorage|indexedDB|setTimeout|setInterval|document\.(?:query|create|body|get|add)|window\.(?:set|add|location)|crypto\.)/;
    const breaches = files
      .filter(({ path }) => /^src\/(core|ceramics|accounts|engine|csv|whatif|charts)\//.test(path))
      .flatMap(({ path, text }) =>
        text
          .split("\n")
          .map((line, at) => ({ line, at: at + 1 }))
          .filter(({ line }) => banned.test(line) && !/^\s*(\/\/|\*)/.test(line))
          .map(({ line, at }) => `${path}:${at} uses ${banned.exec(line)?.[1]}: take it as a parameter.`),
      );
    expect(breaches).toEqual([]);
  });
});
