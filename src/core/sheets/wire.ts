// Formulas that depend on which steps there are. Called whenever a step comes or goes.
import { columnOf } from "../document/access";
import type { Operation } from "../document/change";
import type { Row, SheetKey, Workbook } from "../document/workbook";
import { doneColumnOf } from "../steps/piece-steps";
import { isFiringStep, rulesOf } from "./step-kinds";

const sum = (terms: readonly string[]) => (terms.length === 0 ? "=0" : `=${terms.join("+")}`);
const total = (terms: readonly string[]) => (terms.length === 0 ? "=0" : `=SUM(${terms.join(",")})`);

/** The wired formula of each column that has one, for a route. */
export function wiredFormulas(route: readonly Row[]): readonly { sheet: SheetKey; column: string; formula: string }[] {
  const firings = route.filter(isFiringStep).map((step) => step.id);
  const made = route.filter((step) => rulesOf(step)?.isMaking).map((step) => step.id);
  const first = firings[0];
  const counts = firings.map((id) => `COUNT_BY({id},{pieces:${id}.load})`);
  const totals = (column: string) => firings.map((id) => `TOTAL_BY({id},{pieces:${id}.load},{pieces:${column}})`);
  const sizes = firings.map((id) => `SIZES_BY({id},{pieces:${id}.load},{pieces:foot},{pieces:height})`);
  const reclaim = total(made.map((id) => `{${id}.material}`)).slice(1);
  return [
    { sheet: "pieces", column: "reached", formula: reached(route) },
    { sheet: "pieces", column: "lost_bare", formula: lostBare(route) },
    { sheet: "pieces", column: "own", formula: total(route.map((step) => `{${step.id}.cost}`)) },
    {
      sheet: "pieces",
      column: "reclaim",
      formula:
        first === undefined || made.length === 0
          ? "=0"
          : `=IF(OR({lost_at}="",{lost_order}>={route[${first}]:order}),0,reclaim*${reclaim})`,
    },
    { sheet: "pieces", column: "scrap", formula: scrapOf(first) },
    { sheet: "pieces", column: "passed_how", formula: passedHow(route) },
    { sheet: "pieces", column: "twice", formula: twiceIn(firings) },
    { sheet: "firings", column: "pieces", formula: sum(counts) },
    { sheet: "firings", column: "load_kg", formula: sum(totals("kg")) },
    { sheet: "firings", column: "load_cm2", formula: sum(totals("foot")) },
    { sheet: "firings", column: "sizes", formula: sizes.length === 0 ? `=""` : `=${sizes.join(`&";"&`)}` },
  ];
}

/** The firing that is entered at two firing steps of one piece. */
function twiceIn(firings: readonly string[]): string {
  return firings.length < 2 ? `=""` : `=REPEATED(${firings.map((id) => `{${id}.load}`).join(`&"|"&`)})`;
}

/** Scrap of a piece lost at its first firing or later; clay of one lost before comes back instead. */
function scrapOf(first: string | undefined): string {
  if (first === undefined) return "=0";
  return `=IF(OR({lost_at}="",{lost_order}<{route[${first}]:order}),0,scrap_value)`;
}

/** Good at once, or only after a step that some pieces need once more. */
function passedHow(route: readonly Row[]): string {
  const again = route.filter((step) => step.cells.who === "as needed").map((step) => `{${step.id}.cost}`);
  const count = again.length === 0 ? "0" : `COUNT(${again.join(",")})`;
  return `=IF({outcome}<>"good","",IF(${count}=0,"at once","after rework"))`;
}

/** The order of the last step a piece has had: the first, from the end of the route, with an entry. */
function reached(route: readonly Row[]): string {
  const backwards = [...route].reverse();
  const last = backwards[0];
  if (!last) return `=""`;
  const tried = backwards.flatMap((step) => {
    const entry = doneColumnOf(step);
    return entry === undefined ? [] : [`{${entry}}="",{route[${step.id}]:order}`];
  });
  const had = `SWITCH(FALSE,${tried.join(",")},"")`;
  return `=IF({lost_at}<>"","",IF({grade}="",${had},IF(${had}="","",{route[${last.id}]:order})))`;
}

function lostBare(route: readonly Row[]): string {
  if (route.length === 0) return `=""`;
  const costs = route.map((step) => `"${step.id}",{${step.id}.cost}`).join(",");
  return `=IF({lost_at}="","",IF(SWITCH({lost_at},${costs},"")="",{lost_at},""))`;
}

/** Operations that bring the wired columns of a workbook in line with a route. */
export function rewire(book: Workbook, route: readonly Row[]): Operation[] {
  return wiredFormulas(route).flatMap(({ sheet, column, formula }) => {
    const was = columnOf(book, sheet, column);
    return !was || was.formula === formula ? [] : [{ kind: "column", sheet, was, is: { ...was, formula } } as const];
  });
}
