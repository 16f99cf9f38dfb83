import { parseSync } from "vite";
import { describe, expect, it } from "vitest";
import { withoutUnusedMethods } from "../../src/build/unused-methods";

const light = (code: string, ours: readonly string[] = []) =>
  withoutUnusedMethods(code, parseSync("a.js", code).program, "Front", new Set(ours)).replaceAll(/\s+/g, " ").trim();

describe("methods that nothing can call", () => {
  it("go, with what only they called", () => {
    expect(light("class A { used() {} first() { this.second(); } second() { this.first(); } } new A().used();")).toBe(
      "class A { used() {} } new A().used();",
    );
  });

  it("stay where their name is mentioned, be it in a text, a template or a pattern", () => {
    const code = "class A { a() {} b() {} c() {} d() {} get e() { return 1; } } f('a', `call b`, ({ c }) => c, x.e);";
    expect(light(code)).toBe(code.replace(" d() {}", ""));
  });

  it("stay where the language calls them, or where their name is made up at run time", () => {
    const code = "class A { constructor() {} toString() {} ['x' + y]() {} *[Symbol.iterator]() {} #own() {} }";
    expect(light(code)).toBe(code);
  });

  it("go from the front though others have methods of that name, unless it is ours or asked of the front", () => {
    const code = `class Front { add() { this.cells.add(); } put() { this.cells.put(); } static made() { return this.build(); }
      static build() {} cut() { this.cells.cut(); } } class Cells { add() {} put() {} cut() {} } Front.made();`;
    expect(light(code, ["put"])).toBe(
      "class Front { put() { this.cells.put(); } static made() { return this.build(); } static build() {} } class Cells { put() {} } Front.made();",
    );
  });
});
