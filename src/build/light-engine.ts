// What the engine carries and this workbook never reaches is left out of what is built:
// - a description of every function, a fifth of its size, for an interface of the engine's own: the help comes from our tables
//   (“the key set decides which ids carry an authored description”, functionMetadata/index.mjs);
// - the checks of a grammar by the reader it is built on, made at every start: the grammar is the engine's own and does not
//   change (chevrotain);
// - the tables behind Bessel functions, which src/engine/hyperformula/left-out.ts takes out of the engine anyway.
// Functions and their names are not touched.
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

const noticeFor = ({ version, license }: About) =>
  `HyperFormula ${version}, changed for Saggar in November 2026: descriptions of functions, tables of Bessel functions and checks of the grammar are left out (src/build/light-engine.ts), and it is patched as it starts (src/engine/hyperformula). ${license}: licences/hyperformula.txt and licences/saggar-GPL-3.0.txt.`;

const DESCRIPTIONS = /\/hyperformula\/es\/interpreter\/functionMetadata\/categories\/[\w-]+\.mjs$/;
const BESSEL = /\/hyperformula\/es\/interpreter\/plugin\/3rdparty\/bessel\/bessel\.mjs$/;
const GRAMMAR_CHECKS = /\/chevrotain\/lib_esm\/src\/parse\/grammar\/checks\.js$/;
const CHECK = /export function validateGrammar\([\s\S]*?\n\}\n/;

function withoutDescriptions(code: string, id: string): string {
  const names = [...code.matchAll(/export const (\w+) = \{/g)].map((match) => match[1]);
  if (names.length === 0) throw new Error(`no descriptions in ${id}: the engine has changed`);
  return names.map((name) => `export const ${name} = {};`).join("\n");
}

function withoutTables(code: string, id: string): string {
  const names = [...code.matchAll(/export (?:const|function|let|var) (\w+)/g)].map((match) => match[1]);
  if (names.length === 0) throw new Error(`no functions in ${id}: the engine has changed`);
  return names.map((name) => `export const ${name} = () => Number.NaN;`).join("\n");
}

function withoutCheck(code: string, id: string): string {
  if (!CHECK.test(code)) throw new Error(`no check of a grammar in ${id}: the engine's reader has changed`);
  return code.replace(CHECK, "export function validateGrammar() { return []; }\n");
}

/** Empties the engine's catalogue of descriptions, the tables of functions that are left out, and the checks of its grammar. */
export function lightEngine(): Plugin {
  return {
    name: "light-engine",
    apply: "build",
    ...noticeOf(noticeFor(aboutLibrary()), (id) => id.includes("/hyperformula/")),
    transform(code, id) {
      const path = id.split("?")[0] ?? "";
      if (DESCRIPTIONS.test(path)) return { code: withoutDescriptions(code, id), map: null };
      if (BESSEL.test(path)) return { code: withoutTables(code, id), map: null };
      if (GRAMMAR_CHECKS.test(path)) return { code: withoutCheck(code, id), map: null };
      return undefined;
    },
  };
}
