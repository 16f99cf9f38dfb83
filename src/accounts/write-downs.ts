// Stock carried below cost over successive balance days, by both standards.
//   IAS 2 §9, §33: at each day the lower of cost and net realisable value, judged anew; what was written down is taken back
//     when the net realisable value rises, up to cost.
//   ASC 330-10-35-1B, 35-14: the same measure, but what was carried at the close of a fiscal year is the cost from then on. A
//     write-down of an interim day may be taken back within its year (ASC 270-10-45-6).
import { fail, ok, type Problem, type Result } from "../core/problem";
import { need, needFromZero, needNumber } from "./checks";

/** The standard that stock written down follows. */
export type StockRule = "IAS 2" | "ASC 330";

/** One thing in stock as it stood on a balance day: its cost so far, and what it will fetch; money in any one unit. */
export interface StockDay {
  /** ISO 8601. */
  readonly day: string;
  /** Cost of it until then, as if nothing had ever been written down; what is added later raises it. */
  readonly cost: number;
  /** Net realisable value on that day; undefined where nobody has said. */
  readonly fetches: number | undefined;
  /** What the maker has written down by hand and not taken back, up to that day; 0 if left out. */
  readonly byHand?: number;
  /** Whether a fiscal year closes on that day. */
  readonly closesYear: boolean;
}

/** The same as it is carried: `carried` = `cost` − what is written down in all. */
export interface CarriedDay {
  readonly day: string;
  readonly carried: number;
  /** Written down in all, at the end of the day. */
  readonly writtenDown: number;
  /** Expense of the days since the one before: what is written down anew. */
  readonly down: number;
  /** What is taken back since the one before, as less expense. Never lifts it above cost. */
  readonly back: number;
}

/** The balances of each day; refused where days are out of order or an amount is no number from 0 up. */
export function carriedOver(days: readonly StockDay[], rule: StockRule): Result<readonly CarriedDay[]> {
  const problems = days.flatMap((one, at) => dayProblems(one, days[at - 1]));
  if (problems.length > 0) return fail(...problems);
  let [kept, before] = [0, 0];
  return ok(
    days.map(({ day, cost, fetches, byHand = 0, closesYear }): CarriedDay => {
      // What a closed year has written off stays off: it is no part of the cost any more.
      const basis = Math.max(0, cost - Math.max(kept, byHand));
      const carried = fetches === undefined ? basis : Math.min(basis, Math.max(0, fetches));
      const writtenDown = cost - carried;
      if (rule === "ASC 330" && closesYear) kept = writtenDown;
      const moved = writtenDown - before;
      before = writtenDown;
      return { day, carried, writtenDown, down: Math.max(0, moved), back: Math.max(0, -moved) };
    }),
  );
}

function dayProblems(one: StockDay, before: StockDay | undefined): readonly Problem[] {
  return [
    ...needFromZero(`${one.day}, cost`, one.cost),
    ...needFromZero(`${one.day}, written down by hand`, one.byHand ?? 0),
    ...needNumber(`${one.day}, what it fetches`, one.fetches ?? 0),
    ...need(before === undefined || before.day < one.day, "Balance days", one.day, "days in order, each once"),
  ];
}
