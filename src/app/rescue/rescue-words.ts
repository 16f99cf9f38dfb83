// The recommendation in a sentence, with its reason; and shares as they are said.
import type { WeighedWay } from "../../accounts/decide";
import { showNumber } from "../edition/format";
import { moneyText } from "../edition/money-text";
import type { Session } from "../edition/session";
import type { RescueTable } from "./rescue";

/** A share as a percentage, for reading. */
export function sayShare(session: Session, share: number): string {
  return `${showNumber(share * 100, 0, 0, session.formats.locale)}\u202f%`;
}

/** From which chance on a rescue pays, in words. */
export function sayBreakEven(session: Session, way: WeighedWay): string {
  const { decision } = way;
  if (!decision) return "";
  const { breakEven } = decision;
  if (breakEven.kind === "always") return "whatever the chance";
  return breakEven.kind === "never" ? "at no chance" : `from a chance of ${sayShare(session, breakEven.chance)} on`;
}

/** Which way to go, and why. */
export function recommendation(session: Session, table: RescueTable): string {
  const { choice, bestLeaving, bestRescue } = table.weighed;
  const money = (amount: number) => moneyText(session, amount);
  const leave = `“${bestLeaving.title}”, which brings ${money(bestLeaving.expected)}`;
  if (choice === bestRescue) {
    const { title, expected, gain, best, worst } = choice;
    return `${title}: it is expected to bring ${money(expected)} from now on, ${money(gain)} more than ${leave}. It pays ${sayBreakEven(session, choice)}, and you say ${sayShare(session, chanceOf(table, choice))}; at best it brings ${money(best)}, at worst ${money(worst)}.`;
  }
  if (!bestRescue)
    return `${bestLeaving.title}: it brings ${money(bestLeaving.expected)}, and no rescue is weighed beside it.`;
  const { title, expected, gain } = bestRescue;
  const less = gain < 0 ? `${money(-gain)} less` : "no more";
  return `${bestLeaving.title}: it brings ${money(bestLeaving.expected)} from now on. The best rescue, “${title}”, is expected to bring ${money(expected)}, ${less}; it would pay ${sayBreakEven(session, bestRescue)}, and you say ${sayShare(session, chanceOf(table, bestRescue))}.`;
}

const chanceOf = (table: RescueTable, way: WeighedWay) =>
  table.columns.find(({ recipe }) => recipe.id === way.id)?.chance ?? 0;
