// Which steps of a document formulas go through. It is read from the route and the columns on Pieces, not from the table of
// the kinds: the engine's worker needs it, and has no use for all the rest there is to know of a kind.
import { MAKING_KINDS } from "../document/sheet-keys";
import type { Column, Row, Workbook } from "../document/workbook";
import type { EachStep, EachSteps } from "../formula/each-step";

const known = new WeakMap<readonly Row[], { readonly columns: readonly Column[]; readonly steps: EachSteps }>();

/** The steps of a document for formulas, remembered as long as its route and its columns are the same. */
export function eachSteps({ sheets: { route, pieces } }: Workbook): EachSteps {
  const held = known.get(route.rows);
  if (held?.columns === pieces.columns) return held.steps;
  const group = (id: string) => pieces.columns.filter(({ step }) => step === id);
  const steps = (holds: (cells: Row["cells"]) => boolean) =>
    route.rows.filter(({ cells }) => holds(cells)).map(({ id }) => stepOf(id, group(id)));
  const [all, firings] = [steps(() => true), steps(({ kind }) => kind === "firing")];
  const found: EachSteps = {
    EACH_STEP: all,
    EACH_STEP_BACK: all.toReversed(),
    EACH_FIRING: firings,
    EACH_FIRST_FIRING: firings.slice(0, 1),
    EACH_MAKING: steps(({ kind }) => MAKING_KINDS.some((one) => one === kind)),
    EACH_AS_NEEDED: steps(({ who }) => who === "as needed"),
  };
  known.set(route.rows, { columns: pieces.columns, steps: found });
  return found;
}

/** What is entered for a step stands first among the columns of its group that start blank. */
function stepOf(id: string, group: readonly Column[]): EachStep {
  const entry = group.find(({ kind, formula }) => kind === "input" && formula === undefined);
  return { id, columns: group.map(({ key }) => key), entry: entry?.key ?? `${id}.entry` };
}
