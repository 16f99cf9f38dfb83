// Formulas that go through the steps of the route. Straight inside a function `EACH_STEP(…)` stands for what it is given once
// for each step, in the order of the route, with `*` for the step: SUM(EACH_STEP({*.cost})) is what a piece has cost at all
// its steps, and MAX(EACH_STEP({route[*]:loss})) the largest loss expected. A text behind it stands between the steps, as in
// CONCATENATE(EACH_FIRING({*.load},", ")). So no formula grows with the route.
import type { Reference } from "./reference";
import { allNodes, type Expression, type ExpressionOf, insideOf, mapTree } from "./tree";

/** The words that go through steps: all of them, those of a kind, or those that are done as needed. */
export const EACH_WORDS = [
  "EACH_STEP",
  "EACH_STEP_BACK",
  "EACH_FIRING",
  "EACH_FIRST_FIRING",
  "EACH_MAKING",
  "EACH_AS_NEEDED",
] as const;

export type EachWord = (typeof EACH_WORDS)[number];

/** A step as formulas go through it: its id, the columns of its group on Pieces, and which of them says that it was done. */
export interface EachStep {
  readonly id: string;
  readonly columns: readonly string[];
  readonly entry: string;
}

/** The steps that each word goes through, in this order. */
export type EachSteps = Readonly<Record<EachWord, readonly EachStep[]>>;

/** The column of a step whose entry says that it was done, whatever it is called at a step of its kind: `{*.entry}`. */
const ENTRY = ".entry";

/** Whether a formula may hold such a word, or name a step by `*`: a quick look at its text. */
export function mayGoThroughSteps(formula: string): boolean {
  return /\beach_|\*[.\]]/i.test(formula);
}

function isEach(node: Expression): node is ExpressionOf<"call"> & { readonly name: EachWord } {
  return node.kind === "call" && (EACH_WORDS as readonly string[]).includes(node.name);
}

const namesStep = (node: Expression) => node.kind === "reference" && referenceText(node.to).includes("*");

const referenceText = (to: Reference) => (to.kind === "cell" ? `${to.row} ${to.column}` : to.column);

/** A word that does not stand straight inside a function, or a `*` that stands in none of them. */
export function strayStep(tree: Expression): Expression | undefined {
  if (isEach(tree) || namesStep(tree)) return tree;
  for (const inner of insideOf(tree)) {
    const isInPlace = tree.kind === "call" && isEach(inner) && !inner.bracketed;
    const stray = isInPlace ? strayIn(inner) : strayStep(inner);
    if (stray) return stray;
  }
  return undefined;
}

/** Inside such a word `*` may stand anywhere. */
function strayIn(each: ExpressionOf<"call">): Expression | undefined {
  return each.given.flatMap(allNodes).find(isEach);
}

/**
 * The tree with every such word replaced by what it stands for. A step that has no column of that sort is left out. Where no
 * step is left, a choice is its default, and of nothing at all any function gives 0.
 */
export function goThroughSteps(tree: Expression, steps: EachSteps): Expression {
  return mapTree(tree, (node) => {
    if (node.kind !== "call" || !node.given.some(isEach)) return node;
    const given = node.given.flatMap((one) => (isEach(one) ? atAll(steps[one.name], one) : [one]));
    const [first, otherwise] = given;
    if (first === undefined) return { kind: "number", value: 0, start: node.start, end: node.end };
    return node.name === "SWITCH" && given.length === 2 && otherwise ? otherwise : { ...node, given };
  });
}

function atAll(steps: readonly EachStep[], { given }: ExpressionOf<"call">): readonly Expression[] {
  const found = steps.flatMap((step) => at(step, given));
  return given.length > 1 && given.at(-1)?.kind === "text" ? found.slice(0, -1) : found;
}

/** What stands for one step. */
function at(step: EachStep, given: readonly Expression[]): readonly Expression[] {
  let isWhole = true;
  const replaced = given.map((one) =>
    mapTree(one, (node) => {
      if (node.kind !== "reference" || !namesStep(node)) return { ...node, step: step.id };
      const to = referenceAt(step, node.to);
      if (to.column !== node.to.column && !step.columns.includes(to.column)) isWhole = false;
      return { ...node, to, step: step.id };
    }),
  );
  return isWhole ? replaced : [];
}

function referenceAt(step: EachStep, to: Reference): Reference {
  const column = !to.column.startsWith("*")
    ? to.column
    : to.column === `*${ENTRY}`
      ? step.entry
      : step.id + to.column.slice(1);
  return to.kind === "cell" && to.row === "*" ? { ...to, row: step.id, column } : { ...to, column };
}
