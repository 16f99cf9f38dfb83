// What is meant to be handed on holds the grid of our own and not a line of the library with the restrictive licence.
import { readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { expect, test } from "@playwright/test";

/** Words that stand in the library's code and styles and nowhere in ours. */
const LIBRARY_WORDS = ["htCore", "ht_master", "handsontable-core-styles", "non-commercial-and-evaluation", "wtHolder"];

function filesOf(folder: string): readonly (readonly [string, string])[] {
  const root = fileURLToPath(new URL(`../../${folder}/`, import.meta.url));
  return readdirSync(root, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => [entry.name, readFileSync(`${entry.parentPath}/${entry.name}`, "utf8")] as const);
}

function found(folder: string): readonly string[] {
  const files = filesOf(folder);
  expect(files.length).toBeGreaterThan(1);
  return LIBRARY_WORDS.filter((word) => files.some(([, text]) => text.includes(word)));
}

for (const folder of ["dist", "dist-single"])
  test(`${folder} holds nothing of the grid library, nor its licence`, () => {
    expect(found(folder)).toEqual([]);
    expect(filesOf(folder).map(([name]) => name)).not.toContain("handsontable.txt");
  });

test("the build with the library holds it and its licence", () => {
  expect(found("dist-handsontable")).toEqual(LIBRARY_WORDS);
  expect(filesOf("dist-handsontable").map(([name]) => name)).toContain("handsontable-non-commercial.pdf");
});
