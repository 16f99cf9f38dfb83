// The demo as it comes out: what makes it, the rules of recording among them, need not be fetched to show it.
import { fileURLToPath } from "node:url";
import { type Plugin, runnerImport } from "vite";

const DEMO = fileURLToPath(new URL("../app/demo/demo.ts", import.meta.url));
const FORM = fileURLToPath(new URL("../core/document/stored-form.ts", import.meta.url));

/** Puts the made demo in the place of its making; what every edition has is put back as for any edition that is opened. */
export function readyDemo(): Plugin {
  return {
    name: "ready-demo",
    apply: "build",
    async transform(_code, id) {
      if (id !== DEMO) return undefined;
      const [demo, form] = await Promise.all([
        runnerImport<{ demoEdition(): unknown }>(DEMO),
        runnerImport<{ storedForm(book: unknown): unknown }>(FORM),
      ]);
      const stored = form.module.storedForm(demo.module.demoEdition());
      const code = `import { complete } from "../../core/document/complete";
const stored = ${JSON.stringify(JSON.stringify(stored))};
const { sheetsVersion } = JSON.parse(stored);
const read = () => complete(JSON.parse(stored), { isWhole: false, sheetsVersion }).book;
export { read as demoEdition };`;
      return { code, map: null };
    },
  };
}
