// The README and DEVELOPERS.md say only what is there.
import { existsSync, readdirSync, readFileSync, statSync, writeFileSync } from "node:fs";
import { basename, dirname, join } from "node:path";
import { describe, expect, it } from "vitest";
import { FUNCTIONS } from "../src/engine/functions/index";

const START = "<!-- functions: made from the declarations by tests/docs.test.ts -->";
const END = "<!-- end of functions -->";

function functionList(): string {
  const families = [...new Set(FUNCTIONS.map((one) => one.family))];
  const sections = families.map((family) => {
    const rows = FUNCTIONS.filter((one) => one.family === family).map((one) => {
      const call = `\`${one.name}(${one.parameters.map((parameter) => parameter.name).join(", ")})\``;
      const [example] = one.examples;
      const shown = example ? `\`${example.formula}\` → ${example.gives}` : "";
      return `| ${call} | ${one.summary} | ${one.unit} | ${shown.replaceAll("|", "\\|")} |`;
    });
    return [`**${family}**`, "", "| function | gives | unit | example |", "| --- | --- | --- | --- |", ...rows].join(
      "\n",
    );
  });
  return `${START}\n\n${sections.join("\n\n")}\n\n${END}`;
}

const under = (folder: string) =>
  readdirSync(folder, { recursive: true, encoding: "utf8" }).map((path) => join(folder, path));
const FILES = ["src", "tests", "templates"].flatMap(under).filter((path) => statSync(path).isFile());
/** Everything that explains the program to whoever works on it. */
const GUIDES = ["README.md", "DEVELOPERS.md", ...FILES.filter((path) => basename(path) === "README.md")];

const readText = (path: string) => readFileSync(path, "utf8");

/** Where a decision is written down, and its own text. */
interface Decision {
  readonly id: string;
  readonly file: string;
  readonly text: string;
}

const DECISIONS: readonly Decision[] = GUIDES.flatMap((file) =>
  readText(file)
    .split(/^### (?=D-\d{3} )/m)
    .slice(1)
    .map((text) => ({ id: text.slice(0, 5), file, text })),
);

const INDEX = /\| where \| decisions \|\n[\s\S]*?\n(?=\n|$)/;

/** The guide's list of which README holds which decisions. */
function decisionIndex(): string {
  const rows = [...new Set(DECISIONS.map(({ file }) => file))].toSorted().map((file) => {
    const ids = DECISIONS.filter((one) => one.file === file).map(({ id }) => id);
    return `| [${dirname(file)}](${file}) | ${ids.toSorted().join(", ")} |`;
  });
  return `${["| where | decisions |", "| --- | --- |", ...rows].join("\n")}\n`;
}

describe("decisions", () => {
  it.each(DECISIONS.map((one) => [one.id, one] as const))(
    "%s has a date, a status and all its parts",
    (_, { text }) => {
      const [, state = ""] = text.split("\n");
      expect(state).toMatch(/^\d{4}-\d\d-\d\d, (holds|superseded)\b.*\.$/);
      for (const part of ["Context", "Choice", "Evidence", "Consequence"]) expect(text).toContain(`- **${part}:** `);
    },
  );

  it("each number is given once, and is there wherever it is named", () => {
    const ids = DECISIONS.map(({ id }) => id);
    expect(ids.filter((id, at) => ids.indexOf(id) !== at)).toEqual([]);
    const sources = FILES.filter((path) => /\.(tsx?|mjs|css)$/.test(path) && basename(path) !== "docs.test.ts");
    const unknown = [...GUIDES, ...sources].flatMap((file) =>
      [...readText(file).matchAll(/\bD-\d{3}\b/g)]
        .map(([id]) => id)
        .filter((id) => !ids.includes(id) && !readText(file).includes(`next number is ${id}`))
        .map((id) => `${file}: ${id}`),
    );
    expect(unknown).toEqual([]);
  });

  it("the guide lists where they stand (UPDATE_LAYERS=1 writes it)", () => {
    const guide = readText("DEVELOPERS.md");
    if (process.env.UPDATE_LAYERS)
      writeFileSync(
        "DEVELOPERS.md",
        guide.replace(INDEX, () => decisionIndex()),
      );
    else expect(INDEX.exec(guide)?.[0]).toBe(decisionIndex());
    const last = DECISIONS.map(({ id }) => Number(id.slice(2))).reduce((a, b) => Math.max(a, b));
    expect(guide).toContain(`next number is D-${String(last + 1).padStart(3, "0")}.`);
  });
});

describe("guides", () => {
  it("the one to begin with is read in a quarter of an hour", () => {
    expect(Buffer.byteLength(readText("DEVELOPERS.md"))).toBeLessThanOrEqual(12_000);
  });

  it.each(GUIDES)("%s links to what is there", (file) => {
    const links = [...readText(file).matchAll(/\]\(([^)#]+)(?:#[^)]*)?\)/g)].map((match) => match[1] ?? "");
    const local = links.filter((link) => !/^[a-z]+:/.test(link));
    expect(local.filter((link) => !existsSync(join(dirname(file), link)))).toEqual([]);
  });

  it.each(GUIDES)("%s names files that are there", (file) => {
    const named = [...readText(file).matchAll(/`([\w./-]+\.(?:tsx?|mjs|css))`/g)].map((match) => match[1] ?? "");
    const isThere = (name: string) =>
      existsSync(name) || existsSync(join(dirname(file), name)) || FILES.some((path) => path.endsWith(`/${name}`));
    expect(named.filter((name) => !isThere(name))).toEqual([]);
  });
});

describe("README", () => {
  it("lists every function as it is declared (UPDATE_README=1 rewrites the list)", () => {
    const text = readFileSync("README.md", "utf8");
    const start = text.indexOf(START);
    const end = text.indexOf(END) + END.length;
    expect(start).toBeGreaterThan(0);
    const list = functionList();
    if (process.env.UPDATE_README) writeFileSync("README.md", text.slice(0, start) + list + text.slice(end));
    else expect(text.slice(start, end)).toBe(list);
  });

  it("starts with the job and the two commands", () => {
    const text = readFileSync("README.md", "utf8");
    expect(text.indexOf("npm ci && npm start")).toBeLessThan(text.indexOf("## "));
    expect(text).toContain("npm ci && npm test");
  });

  it("each template has its three files", () => {
    for (const folder of readdirSync("templates"))
      for (const file of ["template.json", "README.md", "expected.json"])
        expect(existsSync(`templates/${folder}/${file}`), `${folder}/${file}`).toBe(true);
  });
});
