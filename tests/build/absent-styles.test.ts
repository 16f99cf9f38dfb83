import { describe, expect, it } from "vitest";
import { canMatch, selectorsOf, withoutAbsent } from "../../src/build/absent-styles";

const isAbsent = (name: string) => name.startsWith("no");

describe("selectors that can match", () => {
  it.each([
    [".grid td", true],
    [".grid .no-menu", false],
    [".grid:not(.no-menu) td", true],
    [".grid:not(.a:not(.no-b)) td", true],
    [":is(.no-a, .b) td", true],
    [":is(.no-a, .no-b) td", false],
    [":where(table.core > thead, .no-ghost > table) th", true],
    [":where(:is(.no-a, .no-b), .no-c) th", false],
    ["th:has(.no-button)", false],
    ["td:is(:lang(ar), :lang(he))", false],
    ["td:not(:lang(ar), :lang(he))", true],
    [":is(td:not(:lang(ar)), td:is(:lang(ar)))", true],
    ["[dir=rtl] td", false],
    ["td:first-child", true],
  ])("%s: %s", (selector, expected) => {
    expect(canMatch(selector, isAbsent)).toBe(expected);
  });

  it("are parted at the commas that stand in no bracket", () => {
    expect(selectorsOf("a:is(b,c),[d='e,f'],g")).toEqual(["a:is(b,c)", "[d='e,f']", "g"]);
  });
});

describe("a style sheet", () => {
  const light = (css: string) => withoutAbsent(css, isAbsent);

  it("keeps the selectors of a rule that can match, and drops a rule without any", () => {
    expect(light(".a,.no-b{x:1}.no-c{y:2}.d{z:3}")).toBe(".a{x:1}.d{z:3}");
  });

  it("keeps the order, which decides between equals", () => {
    expect(light(".a{x:1}.no{x:2}.a{x:3}.b{x:4}")).toBe(".a{x:1}.a{x:3}.b{x:4}");
  });

  it("looks into media queries and lets key frames be", () => {
    expect(light("@media print{.a{x:1}.no{x:2}}@media screen{.no{x:2}}@keyframes spin{to{x:1}}")).toBe(
      "@media print{.a{x:1}}@keyframes spin{to{x:1}}",
    );
  });

  it("keeps the notice of the licence and drops other comments", () => {
    expect(light("/*! (c) */.a{x:1}/* why */.b{y:2}")).toBe("/*! (c) */.a{x:1}.b{y:2}");
  });

  it("names one language where many were meant, which weighs the same", () => {
    expect(light(".a:not(:lang(ar),:lang(he)){x:1}")).toBe(".a:not(:lang(ar)){x:1}");
  });
});
