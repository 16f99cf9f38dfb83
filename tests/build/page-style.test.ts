// What the page's own style sheet may say: it is there from the first moment, for every element of the page.
import { readdirSync, readFileSync } from "node:fs";
import { expect, test } from "vitest";

const page = readFileSync("src/index.html", "utf8");
const [, style = ""] = /<style>([\s\S]*?)<\/style>/.exec(page) ?? [];
const movesIn = (text: string) => [...text.matchAll(/@keyframes\s+([\w-]+)/g)].map(([, name = ""]) => name);

test("its rules reach the words shown while the program is fetched, and nothing else", () => {
  const rules = style.replace(/@keyframes[\s\S]*?\}\s*\}/g, "").match(/[^{}]+(?=\{)/g) ?? [];
  expect(rules.length).toBeGreaterThan(0);
  for (const rule of rules) expect(rule.trim()).toMatch(/^\[data-opening\] /);
});

test("no two style sheets give a movement the same name: the later one would be taken for both", () => {
  const files = readdirSync("src", { recursive: true, encoding: "utf8" }).filter((file) => file.endsWith(".css"));
  const sheets = files.map((file) => readFileSync(`src/${file}`, "utf8"));
  const names = [style, ...sheets].flatMap(movesIn);
  expect(names.length).toBeGreaterThan(1);
  expect(new Set(names).size).toBe(names.length);
});
