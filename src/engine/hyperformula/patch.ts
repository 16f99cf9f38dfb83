// What a patch of the library says of itself, and the check that the library still has what it touches.
import { type ArgumentLimits, KNOWN_VERSION, type Library, type Parts } from "./library";

/** Members of the library's parts, by name. */
export type Members = { readonly [P in keyof Parts]?: readonly (keyof Parts[P] & string)[] };

/** One thing changed in the library. */
export interface EnginePatch {
  /** The name of its file, and of its switch. */
  readonly name: string;
  /** What it is for, in a line. */
  readonly buys: string;
  /** Methods it replaces, on the prototypes of the parts. */
  readonly replaces: Members;
  /** What else of the inside it needs as it is. */
  readonly uses: Members;
  /** Functions it takes out. */
  readonly removes?: readonly string[];
  /** Functions it limits, with limits by the argument's index. */
  readonly limits?: Readonly<Record<string, readonly ArgumentLimits[]>>;
  /** Replaces the members; the parts given are prototypes. */
  apply(prototypes: Parts): void;
}

/**
 * Applies patches to a library; nothing is replaced unless the library is the known version and has all that is touched.
 * Throws an error that names the patch and the member otherwise: the library was updated, and this folder was not.
 */
export function applyPatches(library: Library, patches: readonly EnginePatch[]): void {
  if (library.version !== KNOWN_VERSION)
    throw new Error(
      `hyperformula is ${library.version}, and its patches are for ${KNOWN_VERSION}. Pin it, or go through src/engine/hyperformula.`,
    );
  const missing = patches.flatMap((patch) => missingOf(library, patch));
  if (missing.length > 0)
    throw new Error(`hyperformula ${library.version} lacks what its patches touch: ${missing.join("; ")}.`);
  const prototypes = prototypesOf(library.parts);
  for (const { removes = [], limits = {}, apply } of patches) {
    for (const name of removes) library.removeFunction(name);
    for (const [name, given] of Object.entries(limits)) library.limitFunction(name, given);
    apply(prototypes);
  }
}

function missingOf({ parts, hasFunction, argumentCount }: Library, patch: EnginePatch): string[] {
  const { name, replaces, uses, removes = [], limits = {} } = patch;
  const lacking = [
    ...membersOf(replaces).filter(([part, member]) => !Object.hasOwn(Object.getPrototypeOf(parts[part]), member)),
    ...membersOf(uses).filter(([part, member]) => !(member in parts[part])),
  ].map(([part, member]) => `${part}.${member}`);
  const functions = [
    ...removes.filter((one) => !hasFunction(one)),
    ...Object.keys(limits).filter((one) => argumentCount(one) < (limits[one]?.length ?? 0)),
  ];
  return [...lacking, ...functions].map((what) => `${what} (${name})`);
}

/** Part and member, one by one. */
export function membersOf(members: Members): (readonly [part: keyof Parts, member: string])[] {
  return Object.entries(members).flatMap(([part, names]) =>
    names.map((name): [keyof Parts, string] => [part as keyof Parts, name]),
  );
}

/** The prototypes of all parts. */
export function prototypesOf(parts: Parts): Parts {
  return Object.fromEntries(Object.entries(parts).map(([name, part]) => [name, Object.getPrototypeOf(part)])) as Record<
    keyof Parts,
    never
  >;
}
