// The engine carries a description of every function, a fifth of its size, for an interface this workbook does not use:
// its help comes from its own tables. What is built leaves the descriptions out; functions and their names are not touched
// (hyperformula 3.5.0: “the key set decides which ids carry an authored description”, functionMetadata/index.mjs).
import type { Plugin } from "vite";

const DESCRIPTIONS = /\/hyperformula\/es\/interpreter\/functionMetadata\/categories\/[\w-]+\.mjs$/;

/** Empties the engine's catalogue of descriptions. */
export function withoutDescriptions(): Plugin {
  return {
    name: "without-descriptions",
    apply: "build",
    transform(code, id) {
      if (!DESCRIPTIONS.test(id.split("?")[0] ?? "")) return undefined;
      const names = [...code.matchAll(/export const (\w+) = \{/g)].map((match) => match[1]);
      if (names.length === 0) throw new Error(`no descriptions in ${id}: the engine has changed`);
      return { code: names.map((name) => `export const ${name} = {};`).join("\n"), map: null };
    },
  };
}
