import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { withCommonGroups } from "../../src/build/common-functions";
import { lightEngine } from "../../src/build/light-engine";
import { LEFT_OUT } from "../../src/engine/hyperformula/left-out";

function transformed(path: string, code = readFileSync(`node_modules/${path}`, "utf8")): string | undefined {
  const { transform } = lightEngine();
  if (typeof transform !== "function") throw new Error("no transform");
  return (transform as (code: string, id: string) => { code: string } | undefined)(code, `/node_modules/${path}`)?.code;
}

const exportsOf = (code: string) =>
  [...code.matchAll(/^export (?:const|var|let|function) (\w+)/gm)].map((match) => match[1]);

const BESSEL = "hyperformula/es/interpreter/plugin/3rdparty/bessel/bessel.mjs";
const CHECKS = [
  ["chevrotain/lib_esm/src/parse/grammar/checks.js", "validateGrammar"],
  ["chevrotain/lib_esm/src/scan/lexer.js", "validatePatterns"],
  ["chevrotain/lib_esm/src/scan/lexer.js", "performRuntimeChecks"],
  ["chevrotain/lib_esm/src/scan/lexer.js", "performWarningRuntimeChecks"],
] as const;
const DESCRIPTIONS = [
  "hyperformula/es/interpreter/functionMetadata/categories/math-and-trigonometry.mjs",
  "hyperformula/es/interpreter/functionMetadata/buildFunctionDescriptions.mjs",
];
const KEYS = "hyperformula/es/license/handsontable-license-key-parser/readLicense.mjs";

describe("what is left out of the built engine", () => {
  it("Bessel tables: only those of functions that are taken out of the engine", () => {
    const names = exportsOf(transformed(BESSEL) ?? "");
    expect(names).toEqual(exportsOf(readFileSync(`node_modules/${BESSEL}`, "utf8")));
    for (const name of names) expect(LEFT_OUT).toContain(String(name).toUpperCase());
  });

  it.each(CHECKS)("of %s, %s and nothing else", (path, name) => {
    const whole = readFileSync(`node_modules/${path}`, "utf8");
    const light = transformed(path) ?? "";
    expect(exportsOf(light)).toEqual(exportsOf(whole));
    expect(light).toContain(`export function ${name}() { return []; }`);
    expect(light.slice(-500)).toBe(whole.slice(-500));
  });

  it("what is said of a grammar that is wrong", () => {
    const path = "chevrotain/lib_esm/src/parse/errors_public.js";
    const light = transformed(path) ?? "";
    expect(exportsOf(light)).toEqual(exportsOf(readFileSync(`node_modules/${path}`, "utf8")));
    expect(light).toContain("export var defaultGrammarValidatorErrorProvider = {};");
    expect(() => transformed(path, "void 0;")).toThrow("has changed");
  });

  it.each(DESCRIPTIONS)("descriptions, by the names the engine asks for: %s", (path) => {
    const light = transformed(path) ?? "";
    expect(exportsOf(light)).toEqual(exportsOf(readFileSync(`node_modules/${path}`, "utf8")));
    expect(light.length).toBeLessThan(400);
  });

  it("the second of two equal names of a function", async () => {
    const path = "hyperformula/es/i18n/languages/enGB.mjs";
    const whole = (await import(/* @vite-ignore */ `../../node_modules/${path}`)).default;
    const code = transformed(path) ?? "";
    const light = (await import(/* @vite-ignore */ `data:text/javascript,${encodeURIComponent(code)}`)).default;
    expect(light).toEqual(whole);
    expect(Object.keys(light.functions)).toEqual(Object.keys(whole.functions));
    expect(() => transformed(path, "void 0;")).toThrow("has changed");
  });

  it("the reader of keys that are sold: such a key is refused, never let in", async () => {
    const code = transformed(KEYS) ?? "";
    const { readEntitlementLicense } = await import(
      /* @vite-ignore */ `data:text/javascript,${encodeURIComponent(code)}`
    );
    expect(readEntitlementLicense("any", {})).toEqual({ licensed: false, reason: "unreadable" });
    expect(exportsOf(readFileSync(`node_modules/${KEYS}`, "utf8"))).toEqual(["readEntitlementLicense"]);
  });

  it("nothing where the engine has changed: the build stops", () => {
    for (const path of [BESSEL, KEYS, ...DESCRIPTIONS, ...CHECKS.map(([path]) => path)])
      expect(() => transformed(path, "void 0;")).toThrow("has changed");
  });

  it("and whoever is given it is told so, with the version and the licence of the library that is installed", () => {
    const { version, license } = JSON.parse(readFileSync("node_modules/hyperformula/package.json", "utf8"));
    const chunk = { type: "chunk", moduleIds: ["/node_modules/hyperformula/es/index.mjs"], code: "void 0;" };
    const other = { type: "chunk", moduleIds: ["/src/main.ts"], code: "void 0;" };
    const { generateBundle } = lightEngine();
    (generateBundle as (options: unknown, bundle: unknown) => void)({}, { chunk, other });
    expect(chunk.code).toMatch(
      new RegExp(`^/\\*! HyperFormula ${version}, Copyright \\(c\\) .* Changed for Saggar .*${license}: licences/`),
    );
    expect(other.code).toBe("void 0;");
  });

  it("and of no other file more than its copyright line, which the notice says for all of them", () => {
    const path = "hyperformula/es/HyperFormula.mjs";
    const whole = readFileSync(`node_modules/${path}`, "utf8");
    expect(whole.endsWith(transformed(path) ?? "none")).toBe(true);
    expect(whole.length - (transformed(path) ?? "").length).toBeLessThan(90);
    expect(transformed("chevrotain/lib_esm/src/api.js")).toBeUndefined();
  });
});

describe("the engine of the common functions", () => {
  const path = "node_modules/hyperformula/es/interpreter/plugin/index.mjs";
  const list = readFileSync(path, "utf8");

  it("has some of the library's groups of functions, and the list stays what it was otherwise", () => {
    const common = withCommonGroups(list, path).split("\n");
    expect(common).toContain('export { BooleanPlugin } from "./BooleanPlugin.mjs";');
    expect(common.filter((line) => !list.includes(line))).toEqual([]);
    expect(common.length).toBeLessThan(20);
  });

  it("is not made of a list that is not as it is known", () => {
    expect(() => withCommonGroups("export const list = [];", path)).toThrow("the engine has changed");
  });
});
