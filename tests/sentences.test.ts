// What a maker reads is made in one way: plurals by `plural` and `counted`, and none of the words that nobody says.
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { counted, listed, plural } from "../src/core/counted";
import { filesUnder } from "./tools/layers";

/** Lines of what is shown or said; the calculation's own rooms count registers and rows. */
const lines = filesUnder("src")
  .filter((path) => /\.tsx?$/.test(path) && path !== "src/core/counted.ts" && !path.startsWith("src/whatif/compile/"))
  .flatMap((path) =>
    readFileSync(path, "utf8")
      .split("\n")
      .map((text, at) => ({ text, where: `${path}:${at + 1}: ${text.trim()}` })),
  );
const having = (pattern: RegExp) => lines.filter(({ text }) => pattern.test(text)).map(({ where }) => where);

describe("sentences of the interface", () => {
  it("make no plural by hand", () => {
    // A choice between two spellings of one word, "1 piece" beside "pieces" with a number, or an s put on.
    expect(having(/=== 1 \? ("|`)([^"`]+)\1 : ("|`)(\$\{[^}]*\} )?\2?\w*s\3/)).toEqual([]);
    expect(having(/=== 1 \? "" : "(e?s)"/)).toEqual([]);
    expect(having(/=== 1 \? "1 /)).toEqual([]);
    expect(having(/=== 1 \? "(is|was|has|it)" :/)).toEqual([]);
  });
  it("put a word that can be one or many through `counted`", () => {
    const nouns = "pieces|rows|cells|edits|copies|steps|days|hours|editions|firings|loads|entries|ramps|starts|lines";
    const bare = new RegExp(`\\{[\\w.]*(length|count|size|Count|restored|rows|pieces|edits)\\} (\\w+ )?(${nouns})\\b`);
    expect(having(bare)).toEqual([]);
  });
  it("by the rules of English", () => {
    expect([0, 1, 2, 1200].map((count) => counted(count, "piece"))).toEqual([
      "0 pieces",
      "1 piece",
      "2 pieces",
      "1\u202f200 pieces",
    ]);
    expect(counted(2, "copy", "copies")).toBe("2 copies");
    expect(counted(1.5, "day", "days", "1.5")).toBe("1.5 days");
    expect(plural(1, "is", "are")).toBe("is");
    expect([["a"], ["a", "b"], ["a", "b", "c"]].map((names) => listed(names))).toEqual(["a", "a and b", "a, b and c"]);
    expect(listed(["a", "b", "c", "d"], 3)).toBe("a, b and 2 more");
  });
});
