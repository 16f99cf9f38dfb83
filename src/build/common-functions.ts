// The engine is three fifths of the first load, and most of its functions are called by no formula of an edition. The file that
// a first visit fetches has the common ones; `src/engine/worker/serve.ts` fetches the file with all where a formula calls another.
import type { Plugin } from "vite";

/** The library's groups of functions that the common engine has, by their names there. */
const COMMON = [
  ...["Abs", "Boolean", "Char", "ConditionalAggregation", "CountBlank", "Information", "Modulo"],
  ...["NumericAggregation", "Power", "Rounding", "SimpleArithmertic", "Sqrt", "Text"],
];

const ENTRY = /\/engine\/worker\/common-engine\.ts$/;
const GROUPS = /\/hyperformula\/es\/interpreter\/plugin\/index\.mjs$/;
const GROUP = /^export \{ (?:\w+ as )?(\w+)Plugin \} from "[^"]+";$/;

/** The library's list of groups without those that are not common. Throws an error where the list is not as it is known. */
export function withCommonGroups(code: string, id: string): string {
  const lines = code.split("\n").filter((line) => line.startsWith("export"));
  const groups = lines.map((line) => GROUP.exec(line)?.[1] ?? "");
  const missing = COMMON.filter((name) => !groups.includes(name));
  if (missing.length > 0 || groups.includes(""))
    throw new Error(`${id} does not list ${missing.join(", ") || "groups only"}: the engine has changed`);
  return lines.filter((_, at) => COMMON.includes(groups[at] ?? "")).join("\n");
}

/** Leaves the functions that are not common out of the worker that is built for them. */
export function commonFunctions(): Plugin {
  let isCommon = false;
  return {
    name: "common-functions",
    apply: "build",
    buildStart({ input }) {
      isCommon = Object.values(input).some((file) => ENTRY.test(file));
    },
    transform(code, id) {
      return isCommon && GROUPS.test(id.split("?")[0] ?? "")
        ? { code: withCommonGroups(code, id), map: null }
        : undefined;
    },
  };
}
