// Stock carried below cost over successive balance days, by the books' own list of stock: judged anew each day, and under
// ASC 330 with what was written down when a year closed kept as written down by hand, as the page keeps it.
import { listInventory } from "../../src/accounts/inventory";
import type { Ledger } from "../../src/accounts/ledger";
import type { StockRule } from "../../src/core/sheets/stage-columns";
import { must } from "../accounts/results";

/** One piece in progress on a balance day: its cost so far, and what it will fetch; money to two decimals. */
export interface StockDay {
  readonly day: string;
  readonly cost: number;
  readonly fetches: number | undefined;
  /** Written down by hand and not taken back, up to that day; 0 if left out. */
  readonly byHand?: number;
  readonly closesYear: boolean;
}

/** What it is carried at on each day, and what was written down and taken back since the one before. */
export function carriedOver(days: readonly StockDay[], rule: StockRule) {
  let [kept, before] = [0, 0];
  return days.map(({ day, cost, fetches, byHand = 0, closesYear }) => {
    const pieces = [{ piece: "1", minor: Math.round(cost * 100) }];
    const ledger = { digits: 2, good: [], seconds: [], inProgress: pieces } as unknown as Ledger;
    const amount = Math.max(byHand, kept / 100);
    const worth = new Map(fetches === undefined ? [] : [["1", fetches]]);
    const { carriedMinor, writeDowns } = must(listInventory(ledger, worth, [], new Map([["1", { amount }]])));
    const moved = writeDowns.inProgress - before;
    before = writeDowns.inProgress;
    if (rule === "ASC 330" && closesYear) kept = writeDowns.inProgress;
    const [down, back] = [Math.max(0, moved), Math.max(0, -moved)];
    return { day, carried: carriedMinor / 100, writtenDown: before / 100, down: down / 100, back: back / 100 };
  });
}
