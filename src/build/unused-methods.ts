// A class keeps every method it was written with, since no bundler knows who asks an object for one. In a file that exports
// nothing, only names that are mentioned can be asked for, and only what can be reached mentions them; of the library's front
// only what our code mentions, or what is asked of the front itself.
import type { Plugin } from "vite";

/** What is read of a node of the tree (ESTree). */
interface Node {
  readonly type: string;
  readonly start: number;
  readonly end: number;
  readonly computed?: boolean;
  readonly key?: Node;
  readonly id?: Node | null;
  readonly object?: Node;
  readonly property?: Node;
  readonly name?: string;
  readonly value?: unknown;
}

/** Names mentioned in one stretch of code, and those of them that are asked of the front: `this.name` in it, `Front.name`. */
interface Mentions {
  readonly names: string[];
  readonly asked: string[];
}

interface Method extends Mentions {
  readonly name: string;
  readonly start: number;
  readonly end: number;
  readonly isOfFront: boolean;
}

/** Names by which the language itself calls. */
const CALLED_BY_LANGUAGE = ["constructor", "toString", "toJSON", "valueOf", "then", "next", "return", "throw"];
const WORD = /[\p{ID_Start}$_][\p{ID_Continue}$]*/gu;

const isNode = (value: unknown): value is Node => typeof value === "object" && value !== null && "type" in value;
const childrenOf = (node: object) => Object.values(node).flat().filter(isNode);

/** Where a node stands: what mentions are noted in, and whether it is inside the front. */
interface Scope {
  readonly around: Mentions;
  readonly isInFront: boolean;
}

/** The methods of a tree, and what is mentioned outside all of them. */
function read(tree: object, front: string): { readonly methods: readonly Method[]; readonly outside: Mentions } {
  const methods: Method[] = [];
  const outside: Mentions = { names: [], asked: [] };
  const visit = (node: Node, { around, isInFront }: Scope): void => {
    const { type, start, end, key } = node;
    let within = around;
    if (type === "MethodDefinition" && node.computed === false && key?.type === "Identifier") {
      const method = { name: key.name ?? "", start, end, isOfFront: isInFront, names: [], asked: [] };
      methods.push(method);
      within = method;
    }
    if (type === "Identifier") within.names.push(node.name ?? "");
    const text = type === "TemplateElement" ? (node.value as { readonly raw: string }).raw : node.value;
    if ((type === "Literal" || type === "TemplateElement") && typeof text === "string")
      within.names.push(...(text.match(WORD) ?? []));
    const { object, property } = node;
    if (
      property?.type === "Identifier" &&
      (object?.name === front || (isInFront && /^(This|Ident)/.test(object?.type ?? "")))
    )
      within.asked.push(property.name ?? "");
    const isClass = type === "ClassDeclaration" || type === "ClassExpression";
    // A method's own name is no mention of it.
    for (const child of childrenOf(node))
      if (within === around || child !== key)
        visit(child, { around: within, isInFront: isClass ? node.id?.name === front : isInFront });
  };
  for (const node of childrenOf(tree)) visit(node, { around: outside, isInFront: false });
  return { methods, outside };
}

/** The code without methods that nothing can call. `front` is the class that only our code calls, by the names `ours`. */
export function withoutUnusedMethods(code: string, tree: object, front: string, ours: ReadonlySet<string>): string {
  const { methods, outside } = read(tree, front);
  const names = new Set([...CALLED_BY_LANGUAGE, ...outside.names]);
  const asked = new Set([...CALLED_BY_LANGUAGE, ...ours, ...outside.asked]);
  let unused = methods;
  for (;;) {
    const reached = unused.filter(({ name, isOfFront }) => (isOfFront ? asked : names).has(name));
    if (reached.length === 0) break;
    unused = unused.filter((method) => !reached.includes(method));
    for (const method of reached) {
      for (const name of method.names) names.add(name);
      for (const name of method.asked) asked.add(name);
    }
  }
  let kept = "";
  let at = 0;
  for (const { start, end } of unused) {
    // One within another went with it.
    if (start < at) continue;
    kept += code.slice(at, start);
    at = end;
  }
  return kept + code.slice(at);
}

/** Takes unused methods out of the built files in which a library is, where they export nothing. */
export function unusedMethods(front: string, isOfLibrary: (id: string) => boolean): Plugin {
  return {
    name: "unused-methods",
    apply: "build",
    renderChunk(code, { modules, exports }) {
      if (exports.length > 0 || !Object.keys(modules).some(isOfLibrary)) return null;
      const ours = Object.entries(modules).flatMap(([id, module]) => (isOfLibrary(id) ? [] : [module.code ?? ""]));
      const words = new Set(ours.flatMap((text) => text.match(WORD) ?? []));
      return { code: withoutUnusedMethods(code, this.parse(code), front, words), map: null };
    },
  };
}
