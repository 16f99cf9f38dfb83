// The README and DEVELOPERS.md say only what is there.
import { existsSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { basename, join } from "node:path";
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

/** READMEs of folders in src. */
const GUIDES = readdirSync("src", { recursive: true, encoding: "utf8" })
  .filter((path) => basename(path) === "README.md")
  .map((path) => join("src", path));

describe("decisions", () => {
  it("that moved to the folder they govern stand there, with all their parts", () => {
    const moved = readFileSync("DEVELOPERS.md", "utf8").matchAll(
      /^\*\*(?<title>D-\d{3} [^*]+)\.\*\* In \[.*\]\((?<file>.*)\)\.$/gm,
    );
    const told = [...moved].map(({ groups }) => `${groups?.file}: ${groups?.title}`);
    const kept = GUIDES.flatMap((file) =>
      readFileSync(file, "utf8")
        .split(/^### /m)
        .slice(1)
        .map((text) => {
          const [title = "", state = ""] = text.split("\n");
          expect(state, title).toMatch(/^\d{4}-\d\d-\d\d, \w/);
          for (const part of ["Context", "Choice", "Evidence", "Consequence"])
            expect(text, title).toContain(`- **${part}:** `);
          return `${file}: ${title}`;
        }),
    );
    expect(kept.toSorted()).toEqual(told.toSorted());
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

  it("names only files that are there", () => {
    for (const file of ["README.md", "DEVELOPERS.md", ...GUIDES]) {
      const text = readFileSync(file, "utf8");
      const named = [...text.matchAll(/[`(]((?:src|tests|templates|\.ci)\/[\w./-]+)[`)]/g)].map(
        (match) => match[1] ?? "",
      );
      expect(named.filter((path) => !existsSync(path))).toEqual([]);
    }
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
