// The bridge from the planned margin to the real one, as bars and in words.
import { CAUSES, type Cause } from "../../accounts/plan-causes";
import type { RoundedVariances } from "../../accounts/variance-rounding";
import type { BridgeBar } from "../../charts/bridge-plot";
import { fromMinorUnits } from "../../core/money";
import { moneyText } from "../edition/money-text";
import type { Session } from "../edition/session";
import { signedMoney } from "./cause-sentences";
import { CAUSE_WORDS } from "./cause-words";

/** Causes below this part of the largest amount share a bar. */
const SMALL = 0.01;

/** The bars in the order of the table; what is too small to be seen is put together before what is not made yet. */
export function bridgeBars(session: Session, found: RoundedVariances, endTitle: string): readonly BridgeBar[] {
  const { plannedMinor, realMinor, causes } = found;
  const size = Math.max(1, ...[plannedMinor, realMinor, ...causes.map(({ minor }) => minor)].map(Math.abs));
  const isToCome = (cause: Cause) => CAUSES[cause] === "still to come";
  const small = causes.filter(({ cause, minor }) => !isToCome(cause) && Math.abs(minor) < SMALL * size);
  const others = small.reduce((sum, { minor }) => sum + minor, 0);
  const steps = [
    ...causes
      .filter((one) => !isToCome(one.cause) && (small.length < 2 || !small.includes(one)))
      .map(({ cause, minor }) => ({ title: CAUSE_WORDS[cause].title, minor, isOpen: isToCome(cause) })),
    ...(small.length < 2 ? [] : [{ title: `${small.length} smaller causes`, minor: others, isOpen: false }]),
    ...causes
      .filter(({ cause }) => isToCome(cause))
      .map(({ cause, minor }) => ({ title: CAUSE_WORDS[cause].title, minor, isOpen: isToCome(cause) })),
  ];
  const amount = (minor: number) => fromMinorUnits(minor, session.digits);
  const margin = (title: string, minor: number): BridgeBar => ({
    ...{ title, from: 0, to: amount(minor), kind: "margin", label: moneyText(session, amount(minor)) },
  });
  let at = plannedMinor;
  const hanging = steps.map(({ title, minor, isOpen }): BridgeBar => {
    const from = at;
    at += minor;
    const kind = isOpen ? "to come" : minor < 0 ? "adverse" : "favourable";
    return { title, from: amount(from), to: amount(at), kind, label: signedMoney(session, minor) };
  });
  return [margin("Plan leaves", plannedMinor), ...hanging, margin(endTitle, realMinor)];
}

/** The same in words. */
export const bridgeWords = (bars: readonly BridgeBar[]): string =>
  `From plan to run: ${bars.map(({ title, label, kind }) => `${title} ${label}${kind === "margin" ? "" : ` ${kind}`}`).join("; ")}`;
