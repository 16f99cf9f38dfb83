// The rules of the layers, from src/layers.json: what the architecture test holds the source to, and what follows from them
// for the linter, the compiler and the guide.
import { readdirSync, readFileSync, statSync } from "node:fs";
import { join } from "node:path";

/** What a layer may use besides the language: nothing, what src/web.d.ts declares, or the whole page. */
type World = "language" | "web" | "page";

interface Layer {
  readonly about: string;
  /** The layers it may import. */
  readonly imports: readonly string[];
  readonly world: World;
}

interface Rules {
  readonly layers: Readonly<Record<string, Layer>>;
  /** The folders and files that alone may import a package. */
  readonly packages: Readonly<Record<string, readonly string[]>>;
}

export const { layers: LAYERS, packages: PACKAGES }: Rules = JSON.parse(readFileSync("src/layers.json", "utf8"));

/** Every source file under a folder, as paths from the top. */
export function filesUnder(folder: string): readonly string[] {
  return readdirSync(folder).flatMap((name) => {
    const path = join(folder, name);
    return statSync(path).isDirectory() ? filesUnder(path) : /\.tsx?$/.test(name) ? [path] : [];
  });
}

/** What a source file imports, in any form. */
export function importsOf(text: string): readonly string[] {
  return [...text.matchAll(/(?:from|import)\s*\(?\s*"([^"]+)"/g)].map((match) => match[1] ?? "");
}

const isIn = (path: string, layer: string) => path.startsWith(`src/${layer}/`);

/** The packages that a layer, or a part of it, may import. */
function packagesOf(layer: string): readonly string[] {
  return Object.keys(PACKAGES).filter((name) => PACKAGES[name]?.some((path) => isIn(path, layer)));
}

/** A pattern for any of the names; braces around a single one would match nothing. */
const oneOf = (names: readonly string[]) => (names.length === 1 ? `${names[0]}` : `{${names.join(",")}}`);

/** The linter's part of the rules: one override for each layer. */
export function lintOverrides(): readonly unknown[] {
  return Object.entries(LAYERS).map(([layer, { imports }]) => {
    const above = Object.keys(LAYERS).filter((name) => name !== layer && !imports.includes(name));
    const foreign = Object.keys(PACKAGES).filter((name) => !packagesOf(layer).includes(name));
    const patterns = [
      {
        group: [`**/${oneOf(above)}/**`],
        message: `src/${layer} imports only ${imports.join(", ") || "what is in it"}.`,
      },
      {
        group: [oneOf(foreign), `${oneOf(foreign)}/**`],
        message: `src/${layer} does not own this package: see src/layers.json.`,
      },
    ];
    const options = { patterns: patterns.slice(above.length === 0 ? 1 : 0) };
    const style = { noRestrictedImports: { level: "error", options } };
    return { includes: [`src/${layer}/**`], linter: { rules: { style } } };
  });
}

/** The guide's table of layers. */
export function layerTable(): string {
  const rows = Object.entries(LAYERS).map(([layer, { about, imports, world }]) => {
    const below = imports.length === 0 ? "nothing" : imports.length > 4 ? "all of the above" : imports.join(", ");
    return `| \`src/${layer}\` | ${about} | ${below} | ${packagesOf(layer).join(", ")} | ${WORLDS[world]} |`;
  });
  return [
    "| layer | what it is | may import | owns the package | compiles with |",
    "| --- | --- | --- | --- | --- |",
    ...rows,
  ].join("\n");
}

const WORLDS: Readonly<Record<World, string>> = {
  language: "the language",
  web: "`src/web.d.ts`",
  page: "the page",
};
