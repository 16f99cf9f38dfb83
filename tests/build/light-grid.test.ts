import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { lightEngine } from "../../src/build/light-engine";
import { helpersOf, lightGrid, lightStyles } from "../../src/build/light-grid";

const library = (path: string) => readFileSync(`node_modules/handsontable/${path}`, "utf8");

function transformed(code: string, path: string): string | undefined {
  const { transform } = lightGrid();
  if (typeof transform !== "function") throw new Error("no transform");
  const made = (transform as (code: string, id: string) => { code: string } | undefined)(
    code,
    `/node_modules/handsontable/${path}`,
  );
  return made?.code;
}

describe("the helpers of the grid library", () => {
  it("are the nine that stand in its files", () => {
    expect([...helpersOf(library("focusManager/grid.mjs")).keys()].sort()).toEqual([
      "_check_private_redeclaration",
      "_class_apply_descriptor_get",
      "_class_apply_descriptor_set",
      "_class_extract_field_descriptor",
      "_class_private_field_get",
      "_class_private_field_init",
      "_class_private_field_set",
      "_class_private_method_get",
      "_class_private_method_init",
    ]);
  });

  it("are taken out of a file and nothing else of it is", () => {
    const helpers = helpersOf(library("editorManager.mjs"));
    expect(helpers.size).toBeGreaterThan(0);
    const light = transformed(library("editorManager.mjs"), "editorManager.mjs") ?? "";
    const [imports, ...rest] = light.split("\n");
    const without = [...helpers.values()].reduce(
      (text, helper) => text.replace(helper, ""),
      library("editorManager.mjs"),
    );
    expect(rest.join("\n")).toBe(without);
    for (const name of helpers.keys()) expect(imports).toContain(name);
  });

  it("stay where they are not those of the library's other files", () => {
    const own =
      "function _class_private_field_get(receiver) {\n    return receiver;\n}\nexport { _class_private_field_get };\n";
    expect(transformed(own, "own.mjs")).toBeUndefined();
  });
});

describe("the styles of the grid library", () => {
  const light = lightStyles(library("styles/handsontableStyles.mjs"));

  it("are a third or less of what they were", () => {
    expect(light.length).toBeLessThan(library("styles/handsontableStyles.mjs").length / 3);
  });

  it.each([".ht_clone_top", ".wtBorder", ".handsontableInput", "td.area", "th.hiddenHeader", ".wtSelectionHandle"])(
    "keep %s",
    (selector) => expect(light).toContain(selector),
  );

  it("keep the notice and the looks of what is said of the licence", () => {
    expect(light).toContain("Copyright (c) HANDSONCODE");
    for (const name of [
      ".hot-display-license-info",
      ".ht-license-badge",
      ".ht-license-popover",
      ".ht-dialog.ht-license-lock",
    ])
      expect(light).toContain(name);
  });

  it("are without menus, filters and pages", () => {
    for (const name of ["htContextMenu", "htFilters", "ht-pagination", "ht-notification"])
      expect(light.split(`.${name}`).length, name).toBeLessThan(
        library("styles/handsontableStyles.mjs").split(`.${name}`).length,
      );
  });

  it("are refused where they are held in a way unheard of", () => {
    expect(() => lightStyles("export const styles = ``;")).toThrow("in another way");
  });
});

describe("what was changed in a library", () => {
  it.each([
    ["the grid", lightGrid(), "/node_modules/handsontable/core.mjs"],
    ["the engine", lightEngine(), "/node_modules/hyperformula/es/HyperFormula.mjs"],
  ])("%s: is said at the head of the built file, and of no other", (_, plugin, module) => {
    const chunk = (moduleIds: string[]) => ({ type: "chunk", code: "go()", moduleIds });
    const bundle = {
      lib: chunk(["/src/a.ts", module]),
      ours: chunk(["/src/a.ts"]),
      page: { type: "asset", source: "x" },
    };
    (plugin.generateBundle as (options: unknown, bundle: unknown) => void)({}, bundle);
    expect(bundle.lib.code).toMatch(/^\/\*! \w+ \d+\.\d+\.\d+, changed for Saggar in .*licences\/.*\*\/\ngo\(\)$/);
    expect(bundle.ours.code).toBe("go()");
    expect(bundle.page).toEqual({ type: "asset", source: "x" });
  });
});
