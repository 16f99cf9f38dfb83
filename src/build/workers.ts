// How the builds start workers. In the source every client has one form: `new Worker(new URL("./worker.ts", import.meta.url), …)`.
import type { Plugin } from "vite";

const WORKER = /new Worker\(\s*new URL\("(\.\/[\w./-]+)", import\.meta\.url\),\s*(\{[^}]*\})\s*,?\s*\)/g;

/** Rewrites each start of a worker: `query` says how its script is imported, `start` what takes the place of the form. */
function rewriteWorkers(name: string, query: string, start: (script: string, options: string) => string): Plugin {
  return {
    name,
    apply: "build",
    enforce: "pre",
    transform(code, id) {
      if (!/\/src\/.*\.ts$/.test(id) || !code.includes("new Worker(")) return undefined;
      const imports: string[] = [];
      const rest = code.replace(WORKER, "");
      if (rest.includes("new Worker(")) throw new Error(`${id}: a worker in a form that the build does not know`);
      const changed = code.replace(WORKER, (_whole, path: string, options: string) => {
        const script = `workerScript${imports.length}`;
        imports.push(`import ${script} from "${path}?worker&${query}";`);
        return start(script, options);
      });
      return { code: `${imports.join("\n")}\n${changed}`, map: null };
    },
  };
}

/** Workers stand in the page, as the single file needs it. */
export function inlineWorkers(): Plugin {
  return rewriteWorkers("inline-workers", "inline", (script) => `new ${script}()`);
}

/**
 * Starts the script of a worker, and keeps what the page says until it runs. Its file is imported by a call: Firefox asks the
 * service worker for those, and only the network for what a blob imports at its head (seen in 153).
 */
const START = `const early = [];
const keep = (event) => {
  event.stopImmediatePropagation();
  early.push(event);
};
addEventListener("message", keep);
import(SCRIPT).then(() => {
  removeEventListener("message", keep);
  for (const { data, ports } of early) dispatchEvent(new MessageEvent("message", { data, ports }));
}).catch((error) => setTimeout(() => { throw error; }));`;
const [BEFORE, AFTER] = START.replaceAll(/\n\s*/g, "")
  .split("SCRIPT")
  .map((part) => JSON.stringify(part));

/**
 * Workers start in a blob that imports their script. A worker from a file has the policy that its host sends with the file,
 * and none from a host of plain files; one from a blob has the policy of the page.
 */
export function workersUnderPolicy(): Plugin {
  return rewriteWorkers(
    "workers-under-policy",
    "url",
    (script, options) =>
      `new Worker(URL.createObjectURL(new Blob([${BEFORE}, JSON.stringify(${script}), ${AFTER}], { type: "text/javascript" })), ${options})`,
  );
}
