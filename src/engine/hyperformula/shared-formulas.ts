// A filled column holds one formula, and the engine would read it anew for every row: cut it up, look it up, sort the ends
// of its ranges, and keep a tree of its own for each cell. Here a formula that reads the same in every row is handed over
// with a mark, is read at the first row, and all rows share the tree.
import type { Parsed, Parser } from "./library";
import type { EnginePatch } from "./patch";

const MARK = "=\u0001";
const END = "\u0002";

const read = new Map<string, Parsed>();
let marks = 0;
/** Whether marks are understood: without the patch nothing is marked. */
let isReading = false;

/** Marks for the formulas of one engine. Two texts may share a mark if they differ in nothing but their own row. */
export class FormulaMarks {
  private readonly given = new Map<string, string>();

  /** A formula's text with its mark; `name` tells formulas apart. */
  mark(name: string, text: string): string {
    if (!isReading) return text;
    let mark = this.given.get(name);
    if (mark === undefined) {
      marks += 1;
      mark = `${MARK}${marks}${END}`;
      this.given.set(name, mark);
    }
    return mark + text.slice(1);
  }

  /** Forgets all marks: what formulas mean has changed, or the engine is closed. */
  clear(): void {
    for (const mark of this.given.values()) read.delete(mark);
    this.given.clear();
  }
}

/** Whether a formula begins as if it were marked: no formula of a maker does, and it must not pass for another's. */
export function looksMarked(formula: string): boolean {
  return formula.startsWith(MARK);
}

/** A text as it was before it was marked. */
export function unmarked(text: string): string {
  return looksMarked(text) ? `=${text.slice(text.indexOf(END) + 1)}` : text;
}

export const SHARED_FORMULAS: EnginePatch = {
  name: "shared-formulas",
  buys: "a formula that reads alike in every row is read once, and its tree is shared",
  replaces: { parser: ["parse"] },
  uses: {},
  apply({ parser }) {
    readMarkedOnce(parser);
    isReading = true;
  },
};

/** Makes every parser that has this prototype read marked formulas once. */
function readMarkedOnce(prototype: Parser): void {
  const { parse } = prototype;
  prototype.parse = function parseMarked(this: Parser, text, at) {
    if (!looksMarked(text)) return parse.call(this, text, at);
    const end = text.indexOf(END) + 1;
    const mark = text.slice(0, end);
    const known = read.get(mark);
    if (known) return known;
    const parsed = parse.call(this, `=${text.slice(end)}`, at);
    if (parsed.errors.length === 0) read.set(mark, parsed);
    return parsed;
  };
}
