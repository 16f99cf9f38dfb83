// Unit tests share the modules they import, file after file, which halves their time. Those that replace a module, stub what
// is global, or need the formula library as it comes must not: each gets modules of its own.
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";

const NEEDS_ITS_OWN =
  /\bvi\.(?:mock|doMock|stubGlobal|resetModules)\(|from "(?:hyperformula|fake-indexeddb)|hyperformula\/patch/;

/** The test files that can't share modules, as paths from the top. */
export const ALONE = readdirSync("tests", { recursive: true, encoding: "utf8" })
  .filter((name) => name.endsWith(".test.ts") && !/^(?:browser|e2e|bench)[/\\]/.test(name))
  .map((name) => join("tests", name))
  .filter((path) => NEEDS_ITS_OWN.test(readFileSync(path, "utf8")));
