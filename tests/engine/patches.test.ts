// The library is patched on its inside, which may be another in the next version: whatever a patch touches must be there,
// or it is said which patch misses what, before anything is replaced.
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import packageJson from "../../package.json";
import { installedLibrary, KNOWN_VERSION, type Library, type Parts } from "../../src/engine/hyperformula/library";
import { applyPatches, type EnginePatch, membersOf, prototypesOf } from "../../src/engine/hyperformula/patch";
import { PATCHES, prepareEngine } from "../../src/engine/hyperformula/patches";
import { MESSAGES } from "../../src/engine/hyperformula/words";

const FOLDER = "src/engine/hyperformula";
const installed = installedLibrary();

type Member = readonly [part: keyof Parts, member: string];

/** The library with copies of its parts, of which one member may be missing. */
function copied(missing?: Member): Library {
  const parts = Object.fromEntries(
    Object.entries(installed.parts).map(([name, part]) => {
      const prototype = Object.getPrototypeOf(part);
      const [own, shared] = [part, prototype].map((one) => Object.getOwnPropertyDescriptors(one));
      if (missing && name === missing[0])
        for (const list of [own, shared]) Reflect.deleteProperty(list ?? {}, missing[1]);
      const copy = Object.create(Object.getPrototypeOf(prototype), shared ?? {});
      return [name, Object.create(copy, own ?? {})];
    }),
  );
  return { ...installed, parts: parts as unknown as Parts, removeFunction() {}, limitFunction() {} };
}

/** Members of all prototypes that are not what they were. */
function replacedIn({ parts }: Library): string[] {
  const now = prototypesOf(parts);
  return Object.entries(prototypesOf(installed.parts)).flatMap(([part, before]) =>
    Object.entries(Object.getOwnPropertyDescriptors(before)).flatMap(([member, { value }]) =>
      Object.getOwnPropertyDescriptor(now[part as keyof Parts], member)?.value === value ? [] : [`${part}.${member}`],
    ),
  );
}

const names = (members: EnginePatch["replaces"]) => membersOf(members).map(([part, member]) => `${part}.${member}`);

describe("the library", () => {
  test("is the version that the patches are for, and pinned", () => {
    expect(installed.version).toBe(KNOWN_VERSION);
    expect(packageJson.dependencies.hyperformula).toBe(KNOWN_VERSION);
  });

  test("of another version is refused", () => {
    const other = { ...copied(), version: "3.6.0" };
    expect(() => applyPatches(other, PATCHES)).toThrow("hyperformula is 3.6.0, and its patches are for 3.5.0");
    expect(replacedIn(other)).toEqual([]);
  });

  test("has everything that the patches touch", () => {
    expect(() => applyPatches(copied(), PATCHES)).not.toThrow();
  });

  test("says of errors what the engine tells them apart by", () => {
    const said = readFileSync("node_modules/hyperformula/es/error-message.mjs", "utf8");
    for (const message of Object.values(MESSAGES)) expect(said).toContain(`'${message}'`);
  });
});

describe.each(PATCHES.map((patch) => [patch.name, patch] as const))("%s", (name, patch) => {
  test("replaces what it says and nothing else", () => {
    const library = copied();
    applyPatches(library, [patch]);
    expect(replacedIn(library).toSorted()).toEqual(names(patch.replaces).toSorted());
  });

  test("is refused by name where the library lacks what it touches, and no patch is applied", () => {
    for (const member of [...membersOf(patch.replaces), ...membersOf(patch.uses)]) {
      const library = copied(member);
      const missing = `${member.join(".")} (${name})`;
      expect(() => applyPatches(library, PATCHES), missing).toThrow(missing);
      expect(replacedIn(library).filter((one) => one !== member.join("."))).toEqual([]);
    }
  });

  test("is refused where the library lacks a function, or an argument, that it limits or takes out", () => {
    for (const missing of patch.removes ?? []) {
      const library = { ...copied(), hasFunction: (one: string) => one !== missing };
      expect(() => applyPatches(library, PATCHES)).toThrow(`${missing} (${name})`);
    }
    for (const missing of Object.keys(patch.limits ?? {})) {
      const library = { ...copied(), argumentCount: (one: string) => (one === missing ? 1 : 9) };
      expect(() => applyPatches(library, PATCHES)).toThrow(`${missing} (${name})`);
    }
  });

  test("stands in a file of its name and in the folder's table", () => {
    expect(existsSync(`${FOLDER}/${name}.ts`)).toBe(true);
    const line = readFileSync(`${FOLDER}/README.md`, "utf8")
      .split("\n")
      .find((one) => one.startsWith(`| \`${name}\``));
    expect(line).toContain(patch.buys);
    for (const member of names(patch.replaces)) expect(line).toContain(`\`${member}\``);
  });
});

describe("the folder", () => {
  const sources = readdirSync("src", { recursive: true, encoding: "utf8" })
    .filter((path) => /\.tsx?$/.test(path))
    .map((path) => ({ path: join("src", path), text: readFileSync(join("src", path), "utf8") }))
    .filter(({ path }) => !path.startsWith(FOLDER));

  test("is entered by its door, or for its words", () => {
    const others = sources.flatMap(({ path, text }) =>
      [...text.matchAll(/from "([^"]*\/hyperformula\/(?!index"|words")[^"]*)"/g)].map(
        (match) => `${path}: ${match[1]}`,
      ),
    );
    expect(others).toEqual([]);
  });

  test("alone looks inside the library: the engine calls it as anybody may", () => {
    const calling = sources.filter(({ text }) => /^import (?!type)[^;]*"hyperformula"/m.test(text));
    expect(calling.map(({ path }) => path)).toEqual(["src/engine/engine.ts"]);
    const casting = sources.filter(({ path, text }) => path.startsWith("src/engine") && text.includes("as unknown as"));
    expect(casting.map(({ path }) => path)).toEqual([]);
  });

  test("knows the names of its switches", () => {
    expect(() => prepareEngine(["nothing"])).toThrow("No patch is called nothing.");
  });
});
