// The grid library is written for every use: each of its files brings its own copy of the functions behind private members,
// and the core holds style sheets for parts and themes that are not here. What is built has the functions once, and no rule
// that nothing can match. What the library does, and what it says of its licence, is not touched (handsontable 18.1.1).
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import type { Plugin } from "vite";
import { withoutAbsent } from "./absent-styles.ts";
import { noticeOf } from "./notice.ts";

const LIBRARY = /\/handsontable\/(?!dist\/).*\.mjs$/;
const STYLES = /\/handsontable\/styles\/handsontableStyles\.mjs$/;
/** Colours, sizes and icons of a theme that is only used where none is named: ours is a class and its style sheet. */
const THEME = /\/handsontable\/themes\/static\/variables\/(colors|icons|tokens)\/main\.mjs$/;
/** What makes style sheets of themes that are given as objects. */
const THEME_ENGINE = /\/handsontable\/themes\/engine\/index\.mjs$/;
const NO_THEME_ENGINE = `function absent() { throw new Error("only themes by class name are in this build"); }
export { absent as createTheme, absent as ThemeBuilder, absent as createThemeManager, absent as ThemeManager };
export function isThemeOverrideEmpty(value) { return value === undefined || value === null || value === false || value === ""; }
`;

const NOTICE =
  "Handsontable 18.1.1, changed for Saggar in November 2026: repeated helper functions are there once, and styles and themes of absent parts are left out (src/build/light-grid.ts). Its licence stands in licences/handsontable.txt and licences/handsontable-non-commercial.pdf.";

const HELPERS_ID = "\0grid-helpers";
/** A file of the library that has every helper. */
const MODEL_FILE = "../../node_modules/handsontable/focusManager/grid.mjs";
const HELPER = /^function (_(?:check_private|class)_\w+)\([^\n]*\n(?:(?!\}).*\n)*\}\n/gm;

/**
 * Classes of the library's parts that are not registered: menus, filters, pages, notes, moving, sizing, hiding, … Its dialog is
 * not registered either, but what it says of a licence that has run out is dressed by it.
 */
const ABSENT_PARTS =
  /^(ht-slot-(top|bottom)|ht-slot-element|ht-(pagination|page|multi-select|notification|loading|empty-data-state|hyperlink|border-style)|ht_nesting|ht__(manual|resizing|moving)|ht(Filters|UI|Comment|Autocomplete|CheckboxRenderer|SelectEditor|ContextMenu|DropdownMenu|CustomMenu|SearchResult|Password|Separator|Submenu|ItemWrapper)|autocompleteEditor|columnSorting|sortAction|sort-\d|has-(sort-indicator|header-button)|indicatorDisabled|changeType|manual(Column|Row)|(after|before)Hidden|collapsibleIndicator|area-\d|listbox|on-moving)/;

/** The helpers of one file of the library, by name. */
export function helpersOf(code: string): ReadonlyMap<string, string> {
  return new Map([...code.matchAll(HELPER)].map(([text, name]) => [name ?? "", text]));
}

/** The library's style sheet without the rules of absent parts; the module that holds it goes in and comes out. */
export function lightStyles(code: string): string {
  const text = /export default ("[\s\S]*");?\s*$/.exec(code)?.[1];
  if (text === undefined) throw new Error("the grid library holds its styles in another way: see light-grid.ts");
  const light = withoutAbsent(JSON.parse(text), (name) => ABSENT_PARTS.test(name));
  return `export default ${JSON.stringify(light)};`;
}

/** Makes the built grid library smaller by what is in it twice or for nothing. */
export function lightGrid(): Plugin {
  const model = helpersOf(readFileSync(fileURLToPath(new URL(MODEL_FILE, import.meta.url)), "utf8"));
  return {
    name: "light-grid",
    apply: "build",
    ...noticeOf(NOTICE, (id) => LIBRARY.test(id)),
    resolveId: (id) => (id === HELPERS_ID ? id : undefined),
    load: (id) =>
      id === HELPERS_ID ? `${[...model.values()].join("\n")}\nexport { ${[...model.keys()].join(", ")} };` : undefined,
    transform(code, id) {
      if (!LIBRARY.test(id)) return undefined;
      if (STYLES.test(id)) return { code: lightStyles(code), map: null };
      if (THEME_ENGINE.test(id)) return { code: NO_THEME_ENGINE, map: null };
      if (THEME.test(id)) return { code: "export default {};", map: null };
      const shared = [...helpersOf(code)].filter(([name, text]) => model.get(name) === text);
      if (shared.length === 0) return undefined;
      const bare = shared.reduce((rest, [, text]) => rest.replace(text, ""), code);
      const names = shared.map(([name]) => name).join(", ");
      return { code: `import { ${names} } from ${JSON.stringify(HELPERS_ID)};\n${bare}`, map: null };
    },
  };
}
