// The house rules, held by a test that says which rule broke and how to mend it.
import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { parseSync } from "vite";
import { describe, expect, it } from "vitest";
import { filesUnder, importsOf, LAYERS, layerTable, lintOverrides, PACKAGES } from "./tools/layers";

const files = filesUnder("src").map((path) => ({ path, text: readFileSync(path, "utf8") }));
const layerOf = (path: string) => path.split("/")[1] ?? "";
/** What follows from src/layers.json is written anew where this is set. */
const isUpdate = process.env.UPDATE_LAYERS !== undefined;

describe("architecture", () => {
  it("imports go down only", () => {
    const breaches = files.flatMap(({ path, text }) => {
      const layer = layerOf(path);
      const below = LAYERS[layer]?.imports;
      if (!below) return [];
      return importsOf(text)
        .filter((name) => name.startsWith("."))
        .map((name) => join(path, "..", name).split("/")[1] ?? "")
        .filter((target) => target in LAYERS && target !== layer && !below.includes(target))
        .map(
          (target) =>
            `${path} imports ${target}: ${layer} may import only ${below.join(", ") || "nothing"}. Move the code down, or pass it in.`,
        );
    });
    expect(breaches).toEqual([]);
  });

  it("each package has one folder that imports it", () => {
    const breaches = files.flatMap(({ path, text }) =>
      importsOf(text).flatMap((name) => {
        const owner = Object.keys(PACKAGES).find((known) => name === known || name.startsWith(`${known}/`));
        if (owner === undefined || PACKAGES[owner]?.some((folder) => path.startsWith(folder))) return [];
        return [`${path} imports ${name}: only ${PACKAGES[owner]?.join(" and ")} may. Use what that folder exports.`];
      }),
    );
    expect(breaches).toEqual([]);
  });

  it("the linter has the rules of the layers", () => {
    const config = JSON.parse(readFileSync("biome.json", "utf8"));
    const isOfLayer = ({ includes }: { includes: readonly string[] }) => /^src\/\w+\/\*\*$/.test(includes.join(" "));
    if (isUpdate) {
      const others = config.overrides.filter((one: { includes: readonly string[] }) => !isOfLayer(one));
      writeFileSync(
        "biome.json",
        `${JSON.stringify({ ...config, overrides: [...others, ...lintOverrides()] }, null, 2)}\n`,
      );
    } else
      expect(config.overrides.filter(isOfLayer), "UPDATE_LAYERS=1 writes it, npm run fix lays it out").toEqual(
        lintOverrides(),
      );
  });

  it("the guide's table has them", () => {
    const guide = readFileSync("DEVELOPERS.md", "utf8");
    const table = /\| layer \|[\s\S]*?\n(?=\n)/;
    if (isUpdate)
      writeFileSync(
        "DEVELOPERS.md",
        guide.replace(table, () => `${layerTable()}\n`),
      );
    else expect(table.exec(guide)?.[0].trim(), "UPDATE_LAYERS=1 writes it").toBe(layerTable());
  });

  it("each layer is compiled with those below it and no more of the browser than it may use", () => {
    for (const [layer, { imports, world }] of Object.entries(LAYERS)) {
      const path = `src/${layer}/tsconfig.json`;
      const { compilerOptions = {}, include, references } = JSON.parse(readFileSync(path, "utf8"));
      const below = references.map((one: { path: string }) => one.path.replace("../", ""));
      expect(below, `${path}: references`).toEqual(imports);
      expect(include.includes("../web.d.ts"), `${path}: src/web.d.ts`).toBe(world === "web");
      const lib = world === "page" ? ["ES2023", "DOM", "DOM.Iterable"] : undefined;
      expect(compilerOptions.lib, `${path}: lib`).toEqual(lib);
    }
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

  it("an exported name stands for one thing", () => {
    // Two adapters of one port, and a walk over each of two trees.
    const allowed = ["createGrid", "allNodes"];
    const declared = /^export (?:async )?(?:const|let|function\*?|class|interface|type|enum) (\w+)/gm;
    const homes = new Map<string, Set<string>>();
    // A plug-in of the build holds the text of a module that stands in for another.
    for (const { path, text } of files.filter((file) => !file.path.startsWith("src/build/")))
      for (const [, name = ""] of text.matchAll(declared)) homes.set(name, (homes.get(name) ?? new Set()).add(path));
    const twice = [...homes].filter(([name, paths]) => paths.size > 1 && !allowed.includes(name));
    expect(twice.map(([name, paths]) => `${name}: ${[...paths].join(", ")}`)).toEqual([]);
  });

  it("style sheets stand beside what they style, in 300 lines at most, and every class and property in them is used", () => {
    const sheets = readdirSync("src", { recursive: true, encoding: "utf8" })
      .filter((name) => name.endsWith(".css"))
      .map((name) => ({ path: join("src", name), text: readFileSync(join("src", name), "utf8") }));
    const long = sheets.filter(({ text }) => text.trimEnd().split("\n").length > 300);
    expect(long.map(({ path }) => path)).toEqual([]);
    const words = new Set(files.flatMap(({ text }) => text.match(/[\w-]+/g) ?? []));
    // A class put together from a beginning and a name, as `part-${key}`.
    const begun = [...new Set(files.flatMap(({ text }) => text.match(/[\w]+-(?=\$\{)/g) ?? []))];
    // Classes that the grid library gives to its own elements.
    const ofTheLibrary = /^(?:ht|wt|handsontable|colHeader)/;
    const unused = sheets.flatMap(({ path, text }) => {
      const selectors = text.replace(/\/\*[\s\S]*?\*\//g, "").replace(/\{[^{}]*\}/g, " ");
      const classes = [...selectors.matchAll(/\.(-?[a-z_][\w-]*)/gi)].map((match) => match[1] ?? "");
      return classes
        .filter((name) => !words.has(name) && !ofTheLibrary.test(name) && !begun.some((one) => name.startsWith(one)))
        .map((name) => `${path}: .${name}`);
    });
    expect(unused).toEqual([]);
    const everything = [...sheets, ...files].map(({ text }) => text).join("\n");
    const set = new Set(
      sheets.flatMap(({ text }) => [...text.matchAll(/(--[\w-]+)\s*:/g)].map(([, name = ""]) => name)),
    );
    const unread = [...set].filter((name) => !name.startsWith("--ht-") && !everything.includes(`var(${name}`));
    expect(unread, "properties that are set and not read").toEqual([]);
  });

  it("a call says in words what it asks for: no bare true or false", () => {
    // Where the truth itself is what is handed over: values, settings and setters.
    const ofTruths = /^(?:ok|literal|resolve|signal|useState|fill|includes|lastIndexOf|set|set[A-Z]\w*)$/;
    const ofTheBrowser = /^(?:cloneNode|getUint(?:16|32))$/;
    const ofLibraries = ["fileSave", "finishEditing", "selectCell"];
    interface Node {
      readonly type: string;
      readonly start: number;
      readonly value?: unknown;
      readonly name?: unknown;
      readonly callee?: Node;
      readonly property?: Node;
      readonly arguments?: readonly Node[];
    }
    const nodesIn = (node: object): readonly Node[] =>
      Object.values(node)
        .flat()
        .filter((one): one is Node => typeof one === "object" && one !== null && "type" in one)
        .flatMap((one) => [one, ...nodesIn(one)]);
    const isBare = ({ type, value }: Node) => type === "Literal" && typeof value === "boolean";
    const mayBreak = files.filter(({ text }) => /[(,]\s*(?:true|false)\s*[,)]/.test(text));
    const breaches = mayBreak.flatMap(({ path, text }) =>
      nodesIn(parseSync(path, text).program).flatMap((node) => {
        if (!node.arguments?.some(isBare)) return [];
        const name = `${node.callee?.property?.name ?? node.callee?.name}`;
        if (ofTruths.test(name) || ofTheBrowser.test(name) || ofLibraries.includes(name)) return [];
        const line = text.slice(0, node.start).split("\n").length;
        return [`${path}:${line} ${name}: two functions, a named choice, or an object that names the truth.`];
      }),
    );
    expect(breaches).toEqual([]);
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

  it("nothing of an open edition is kept for the whole module", () => {
    // Of the program or the browser, whichever edition is open.
    const ofTheProgram = [
      "openDialog",
      "copiesOf",
      "startFromWish",
      "focusWish",
      "setup",
      "labelSetup",
      "isUsed",
      "openGrids",
      "frameCount",
      "listCount",
      "next",
      "forReading",
    ];
    const wide =
      /^(?:export )?(?:let (\w+)|const (\w+)[^=]*= (?:signal|computed)\b|const (\w+) = new (?:Weak)?Map<Session)/gm;
    const breaches = files
      .filter(({ path }) => /^src\/(app|ui)\//.test(path))
      .flatMap(({ path, text }) =>
        [...text.matchAll(wide)]
          .map((match) => match[1] ?? match[2] ?? match[3] ?? "")
          .filter((name) => !ofTheProgram.includes(name))
          .map((name) => `${path}: ${name} outlives the edition it is of: use perSession, or hang it on the session.`),
      );
    expect(breaches).toEqual([]);
  });
});
