import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
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
const CHECKS = "chevrotain/lib_esm/src/parse/grammar/checks.js";
const DESCRIPTIONS = "hyperformula/es/interpreter/functionMetadata/categories/math-and-trigonometry.mjs";

describe("what is left out of the built engine", () => {
  it("Bessel tables: only those of functions that are taken out of the engine", () => {
    const names = exportsOf(transformed(BESSEL) ?? "");
    expect(names).toEqual(exportsOf(readFileSync(`node_modules/${BESSEL}`, "utf8")));
    for (const name of names) expect(LEFT_OUT).toContain(String(name).toUpperCase());
  });

  it("the check of the grammar, and of its file nothing else", () => {
    const whole = readFileSync(`node_modules/${CHECKS}`, "utf8");
    const light = transformed(CHECKS) ?? "";
    expect(exportsOf(light)).toEqual(exportsOf(whole));
    expect(light).toContain("export function validateGrammar() { return []; }");
    expect(light.slice(-2000)).toBe(whole.slice(-2000));
  });

  it("descriptions, by the names the engine asks for", () => {
    const light = transformed(DESCRIPTIONS) ?? "";
    expect(exportsOf(light)).toEqual(exportsOf(readFileSync(`node_modules/${DESCRIPTIONS}`, "utf8")));
    expect(light.length).toBeLessThan(200);
  });

  it("nothing where the engine has changed: the build stops", () => {
    for (const path of [BESSEL, CHECKS, DESCRIPTIONS])
      expect(() => transformed(path, "void 0;")).toThrow("has changed");
  });

  it("and whoever is given it is told so, with the version and the licence of the library that is installed", () => {
    const { version, license } = JSON.parse(readFileSync("node_modules/hyperformula/package.json", "utf8"));
    const chunk = { type: "chunk", moduleIds: ["/node_modules/hyperformula/es/index.mjs"], code: "void 0;" };
    const other = { type: "chunk", moduleIds: ["/src/main.ts"], code: "void 0;" };
    const { generateBundle } = lightEngine();
    (generateBundle as (options: unknown, bundle: unknown) => void)({}, { chunk, other });
    expect(chunk.code).toMatch(
      new RegExp(`^/\\*! HyperFormula ${version}, changed for Saggar .*${license}: licences/`),
    );
    expect(other.code).toBe("void 0;");
  });

  it("and no other file is touched", () => {
    expect(transformed("hyperformula/es/HyperFormula.mjs")).toBeUndefined();
  });
});
