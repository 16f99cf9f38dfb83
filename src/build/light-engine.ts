// What the engine carries and this workbook never reaches is left out of what is built:
// - a description of every function, a fifth of its size, for an interface of the engine's own: the help comes from our tables
//   (“the key set decides which ids carry an authored description”, functionMetadata/index.mjs);
// - the checks of a grammar and of its signs by the reader it is built on, made at every start: the grammar is the engine's
//   own and does not change (chevrotain);
// - what makes and walks a tree of the reader's own: the engine's grammar makes the engine's tree instead
//   (EmbeddedActionsParser, outputCst false);
// - the reader of the keys that are sold: this program has the engine under the GPL, and such a key would be refused;
// - the tables behind Bessel functions, which src/engine/hyperformula/left-out.ts takes out of the engine anyway;
// - the copyright line of each of its files, which stands once at the head of what is built.
// Functions and their names are not touched here; those that few formulas call come later (common-functions.ts).
import { readFileSync } from "node:fs";
import type { Plugin } from "vite";
import { noticeOf } from "./notice.ts";

/** What is said of the library with it, from its own package.json. */
interface About {
  readonly version: string;
  readonly license: string;
}

/** The version and the licence of the library that is installed. */
function aboutLibrary(): About {
  const file = new URL("../../node_modules/hyperformula/package.json", import.meta.url);
  const { version, license } = JSON.parse(readFileSync(file, "utf8"));
  if (!version || !license) throw new Error("hyperformula's package.json says no version or no licence");
  return { version, license };
}

const COPYRIGHT = "Copyright (c) 2025 Handsoncode. All rights reserved.";

const noticeFor = ({ version, license }: About) =>
  `HyperFormula ${version}, ${COPYRIGHT} Changed for Saggar in November 2026: descriptions of functions, tables of Bessel functions, the reader of keys that are sold, checks of the grammar and the reader's own trees are left out (src/build/light-engine.ts), and it is patched as it starts (src/engine/hyperformula). ${license}: licences/hyperformula.txt and licences/saggar-GPL-3.0.txt.`;

/** What takes the place of every name that a file exports. */
const emptied = (value: string) => (code: string, id: string) => {
  const names = [...code.matchAll(/export (?:const|function|let|var) (\w+)/g)].map((match) => match[1]);
  if (names.length === 0) throw new Error(`${id} exports nothing: the engine has changed`);
  return names.map((name) => `export const ${name} = ${value};`).join("\n");
};

/** Functions that find no fault take the place of those that look for them. */
const withoutChecks =
  (...names: readonly string[]) =>
  (code: string, id: string) =>
    names.reduce((rest, name) => {
      const check = new RegExp(`export function ${name}\\([\\s\\S]*?\\n\\}\\n`);
      if (!check.test(rest)) throw new Error(`no ${name} in ${id}: the engine's reader has changed`);
      return rest.replace(check, `export function ${name}() { return []; }\n`);
    }, code);

/** What is said of a grammar that is wrong. */
function withoutWords(code: string, id: string): string {
  const words = /export var defaultGrammarValidatorErrorProvider = \{[\s\S]*?\n\};\n/;
  if (!words.test(code)) throw new Error(`no words for a grammar in ${id}: the engine's reader has changed`);
  return code.replace(words, "export var defaultGrammarValidatorErrorProvider = {};\n");
}

/** The English names of functions are their names: each is written once. */
function withNamesOnce(code: string, id: string): string {
  const names = /(\n {2}functions: )\{\n([\s\S]*?)\n {2}\}/.exec(code);
  const pairs = [...(names?.[2] ?? "").matchAll(/^\s*'?([\w.]+)'?: '(.+?)',?$/gm)];
  if (
    !names ||
    pairs.length < 400 ||
    pairs.some(([, key, name]) => key !== name) ||
    pairs.length !== names[2]?.split("\n").length
  )
    throw new Error(`names in ${id} that are not those of the functions: the engine has changed`);
  const list = JSON.stringify(pairs.map(([, key]) => key).join(" "));
  return code.replace(names[0], `${names[1]}Object.fromEntries(${list}.split(" ").map((name) => [name, name]))`);
}

/** A key that is sold can't be read, and is said to be none. */
function withoutKeys(code: string, id: string): string {
  if (!code.includes("unlicensed('unreadable', null)"))
    throw new Error(`no unreadable key in ${id}: the engine has changed`);
  return "export function readEntitlementLicense() { return { licensed: false, reason: 'unreadable' }; }";
}

/** What is changed, by the path of the file. */
const CHANGES: readonly (readonly [RegExp, (code: string, id: string) => string])[] = [
  [/\/hyperformula\/es\/interpreter\/functionMetadata\/categories\/[\w-]+\.mjs$/, emptied("{}")],
  [/\/hyperformula\/es\/interpreter\/functionMetadata\/buildFunctionDescriptions\.mjs$/, emptied("() => undefined")],
  [/\/hyperformula\/es\/interpreter\/plugin\/3rdparty\/bessel\/bessel\.mjs$/, emptied("() => Number.NaN")],
  [/\/hyperformula\/es\/i18n\/languages\/enGB\.mjs$/, withNamesOnce],
  [/\/hyperformula\/es\/license\/handsontable-license-key-parser\/readLicense\.mjs$/, withoutKeys],
  [/\/chevrotain\/lib_esm\/src\/parse\/grammar\/checks\.js$/, withoutChecks("validateGrammar")],
  [/\/chevrotain\/lib_esm\/src\/parse\/errors_public\.js$/, withoutWords],
  [/\/chevrotain\/lib_esm\/src\/parse\/cst\/cst_visitor\.js$/, emptied("() => undefined")],
  [
    /\/chevrotain\/lib_esm\/src\/parse\/cst\/cst\.js$/,
    withoutChecks("setNodeLocationOnlyOffset", "setNodeLocationFull", "addTerminalToCst", "addNoneTerminalToCst"),
  ],
  [
    /\/chevrotain\/lib_esm\/src\/scan\/lexer\.js$/,
    withoutChecks("validatePatterns", "performRuntimeChecks", "performWarningRuntimeChecks"),
  ],
];

const ITS_COPYRIGHT = `/**\n * @license\n * ${COPYRIGHT}\n */\n`;

/** Leaves out of the engine what is named above. */
export function lightEngine(): Plugin {
  return {
    name: "light-engine",
    apply: "build",
    ...noticeOf(noticeFor(aboutLibrary()), (id) => id.includes("/hyperformula/")),
    transform(code, id) {
      const path = id.split("?")[0] ?? "";
      const change = CHANGES.find(([pattern]) => pattern.test(path))?.[1];
      const changed = change?.(code, id) ?? code;
      const light = path.includes("/hyperformula/es/") ? changed.replace(ITS_COPYRIGHT, "") : changed;
      return light === code ? undefined : { code: light, map: null };
    },
  };
}
