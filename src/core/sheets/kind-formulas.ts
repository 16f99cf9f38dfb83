// Formula text of the Route sheet that depends on the kind of a step, written from the table of the kinds.
import type { StepKindRules } from "./kinds/kind";
import { kindsWhere, STEP_KIND_RULES, type StepKind } from "./step-kinds";

export const FIRING_KINDS = kindsWhere(({ entered }) => entered === "firing");
export const WORK = kindsWhere(({ entered }) => entered !== "firing");
export const USING_MATERIAL = kindsWhere(({ material }) => material);
export const PRECIOUS = kindsWhere(({ material }) => material?.isPrecious);
export const MAKING = kindsWhere(({ isMaking }) => isMaking);
export const USING_MOULDS = kindsWhere(({ usesMould }) => usesMould);

const each = (kinds: readonly StepKind[]) => kinds.map((kind) => `{kind}="${kind}"`);

/** A condition: the step is of one of some kinds. */
export function isOneOf(kinds: readonly StepKind[]): string {
  const [only, ...others] = each(kinds);
  if (only === undefined) return "FALSE";
  return others.length === 0 ? only : `OR(${each(kinds).join(",")})`;
}

/** A condition: the step is of none of some kinds. */
export function isNoneOf(kinds: readonly StepKind[]): string {
  return kinds.length === 1 ? `{kind}<>"${kinds[0]}"` : `NOT(${isOneOf(kinds)})`;
}

/** A formula that is blank but for some kinds. */
export const ofKinds = (kinds: readonly StepKind[], value: string) => `=IF(OR(${each(kinds).join(",")}),${value},"")`;

/** What the Route sums up over the steps of some kinds. */
export const totalOfKinds = (kinds: readonly StepKind[], column: string) =>
  sumOf(kinds.map((kind) => `TOTAL_BY("${kind}",{route:kind},{route:${column}})`));

const sumOf = (terms: readonly string[]) => (terms.length === 1 ? `${terms[0]}` : `(${["0", ...terms].join("+")})`);

/** Kinds that stand for the same expression, in the order of the table; kinds without one are left out. */
function byExpression(of: (rules: StepKindRules) => string | undefined): readonly (readonly [string, StepKind[]])[] {
  const groups = new Map<string, StepKind[]>();
  for (const kind of kindsWhere((rules) => of(rules) !== undefined)) {
    const expression = of(STEP_KIND_RULES[kind]) ?? "";
    groups.set(expression, [...(groups.get(expression) ?? []), kind]);
  }
  return [...groups];
}

/** An expression by kind, `otherwise` for those that have none. */
export const byKind = (of: (rules: StepKindRules) => string | undefined, otherwise: string) =>
  byExpression(of).reduceRight((rest, [expression, kinds]) => `IF(${isOneOf(kinds)},${expression},${rest})`, otherwise);

/** An expression by kind for steps that are all of kinds that have one. */
export function switchKind(of: (rules: StepKindRules) => string | undefined): string {
  const groups = byExpression(of);
  const cases = groups.slice(0, -1).flatMap(([expression, kinds]) => kinds.map((kind) => `"${kind}",${expression}`));
  return `SWITCH({kind},${[...cases, groups.at(-1)?.[0] ?? '""'].join(",")})`;
}
