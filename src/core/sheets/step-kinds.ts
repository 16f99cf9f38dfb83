// What depends on the kind of a step, looked up: everything stands in the table in kinds/.
import { STEP_KINDS } from "../document/sheet-keys";
import type { Column, Row } from "../document/workbook";
import type { AmountColumn, AmountRules, StepKindRules } from "./kinds/kind";
import { STEP_KIND_RULES } from "./kinds/table";

export { STEP_KIND_RULES, STEP_KINDS };
export type StepKind = (typeof STEP_KINDS)[number];

/** Whether a text is a kind of step. */
export function isStepKind(text: unknown): text is StepKind {
  return typeof text === "string" && Object.hasOwn(STEP_KIND_RULES, text);
}

/** The rules of a step of the route; undefined for one of no known kind. */
export function rulesOf(step: Row): StepKindRules | undefined {
  const { kind } = step.cells;
  return isStepKind(kind) ? STEP_KIND_RULES[kind] : undefined;
}

/** Kinds whose rules hold something, in the order of the table. */
export const kindsWhere = (holds: (rules: StepKindRules) => unknown): readonly StepKind[] =>
  STEP_KINDS.filter((kind) => holds(STEP_KIND_RULES[kind]));

/** Whether pieces are fired at a step. */
export const isFiringStep = (step: Row) => rulesOf(step)?.entered === "firing";

/** The amount that is entered of a piece at a step of a kind; undefined for a firing. */
export const amountOf = ({ entered }: StepKindRules): AmountRules | undefined =>
  entered === "firing" ? undefined : entered;

/** The column of a step's group whose entry says that a piece has had the step. */
export const enteredColumn = ({ entered }: StepKindRules) => (entered === "firing" ? entered : entered.column);

/** Every amount that can be entered, once, in the order of the kinds. */
export const AMOUNTS: readonly AmountRules[] = [
  ...new Map(
    STEP_KINDS.flatMap((kind) => amountOf(STEP_KIND_RULES[kind]) ?? []).map((one) => [one.column, one]),
  ).values(),
];

/** Whether what is recorded is an amount. */
export const isAmount = (act: string): act is AmountColumn => AMOUNTS.some(({ column }) => column === act);

/** Route columns that kinds bring, once each, in the order of the kinds. */
export const KIND_INPUTS: readonly Column[] = [
  ...new Map(STEP_KINDS.flatMap((kind) => STEP_KIND_RULES[kind].inputs).map((column) => [column.key, column])).values(),
];

const OF_EVERY_STEP = ["title", "needed", "loss", "rest", "seen_entered", "seen_lost"];

const ROUTE_COLUMNS: ReadonlyMap<StepKind, readonly string[]> = new Map(
  STEP_KINDS.map((kind) => {
    const { shared, inputs } = STEP_KIND_RULES[kind];
    return [kind, [...OF_EVERY_STEP, ...shared, ...inputs.map(({ key }) => key)]];
  }),
);

/** The Route columns that mean something for a kind: those of every step, then those that say how it is done. */
export const routeColumns = (kind: StepKind): readonly string[] => ROUTE_COLUMNS.get(kind) ?? [];

/** The Route columns that what a piece costs follows from and that it can't have of its own. */
export function fixedColumns(kind: StepKind): readonly string[] {
  const rules = STEP_KIND_RULES[kind];
  const free = [...OF_EVERY_STEP, ...rules.ownOfPiece, amountOf(rules)?.usual];
  return routeColumns(kind).filter((key) => !free.includes(key));
}
