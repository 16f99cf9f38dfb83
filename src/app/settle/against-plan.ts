// The kept plan against what came of it: the two margins, the causes between them, and what stands in the way.
import { CAUSES, type Cause } from "../../accounts/plan-causes";
import type { MarginEnd } from "../../accounts/plan-records";
import { planVariances } from "../../accounts/plan-variances";
import { type RoundedVariances, roundVariances } from "../../accounts/variance-rounding";
import type { Change } from "../../core/document/change";
import type { SheetKey, Workbook } from "../../core/document/workbook";
import { fail, ok, problem, type Result } from "../../core/problem";
import { hasBegun, heldPlan, type KeptPlan, keepPlan, planOnSheets } from "../../core/record/kept-plan";
import { commit } from "../commands/commands";
import type { Session } from "../edition/session";
import type { ReadCell } from "./cell-reader";
import { plannedRun, realRun } from "./plan-run";
import type { Settled } from "./settle";
import { numberAt } from "./story";

/** The line of Results that each real margin is. */
export const END_LINES: Readonly<Record<MarginEnd, string>> = { "so far": "earned", "once sold": "pays" };

/** A plan against the settled edition, in whole minor units. */
export function againstPlan(
  book: Workbook,
  read: ReadCell,
  settled: Settled,
  plan: KeptPlan,
  end: MarginEnd,
): Result<RoundedVariances> {
  const real = realRun(book, read, settled);
  const found = planVariances(plannedRun(plan), real, end);
  const margin = read("results", END_LINES[end], "value");
  const brought = real.sales.reduce((sum, { net }) => sum + net, 0);
  const size = settled.costs.totals.putInTotal + brought + Math.abs(found.planned);
  return roundVariances(found, typeof margin === "number" ? margin : Number.NaN, size, settled.ledger.digits);
}

/** The three causes that moved most; what is still to come is no cause of what was done. */
export function largestCauses({ causes }: RoundedVariances, most = 3): readonly Cause[] {
  return causes
    .filter(({ cause, minor }) => CAUSES[cause] !== "still to come" && minor !== 0)
    .toSorted((a, b) => Math.abs(b.minor) - Math.abs(a.minor))
    .slice(0, most)
    .map(({ cause }) => cause);
}

/** What of the difference is not made yet, in minor units. */
export const notMadeYet = ({ causes }: RoundedVariances): number =>
  causes.reduce((sum, { cause, minor }) => (CAUSES[cause] === "still to come" ? sum + minor : sum), 0);

/** Whether a plan is kept, or could be, and the plan of the day the run began where another was kept since. */
export interface PlansKept {
  readonly hasBegun: boolean;
  readonly plan: KeptPlan | undefined;
  readonly first: KeptPlan | undefined;
}

export function plansKept(book: Workbook): PlansKept {
  const { plans } = book.lists;
  return { hasBegun: hasBegun(book), plan: heldPlan(book), first: plans.length > 1 ? plans[0] : undefined };
}

/** The change that keeps what the sheets plan now as the plan; refused while they do not say what it leaves. */
function keepPlanNow(session: Session): Result<Change> {
  const book = session.book.value;
  const read = (sheet: SheetKey, row: string, column: string) => session.value({ sheet, row, column });
  const why = heldPlan(book) ? "kept anew" : "kept afterwards";
  const plan = planOnSheets(book, read, session.now(), why);
  const cell = { sheet: "edition", row: "plan_pays", column: "value" } as const;
  if (!plan || numberAt(session, cell) === undefined)
    return fail(
      problem({
        code: "plan.unknown",
        where: "Edition, Plan leaves",
        found: session.value(cell) ?? "",
        allowed: "a number, before it can be kept as the plan",
        fix: "Wait until it is calculated, or mend what it names.",
      }),
    );
  return ok({ label: heldPlan(book) ? "Plan kept anew" : "Plan kept", operations: [keepPlan(book, plan)] });
}

/** Keeps what the sheets plan now, as one step. */
export const keepPlanAnew = (session: Session): boolean => commit(session, keepPlanNow(session));
