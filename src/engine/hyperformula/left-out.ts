// Functions of the engine that can be made to run for hours, or to fill the memory, by one large number, and that no costing
// needs. They are taken out of it, so that an edition from elsewhere can't bring the calculation to a stand.
import type { ArgumentLimits } from "./library";
import type { EnginePatch } from "./patch";

export const LEFT_OUT: readonly string[] = [
  ...["POISSON", "POISSON.DIST", "POISSONDIST", "NEGBINOM.DIST", "NEGBINOMDIST", "HYPGEOM.DIST", "HYPGEOMDIST"],
  ...["CHISQ.DIST", "CHISQ.DIST.RT", "CHISQ.INV", "CHISQ.INV.RT", "CHIDIST", "CHIDISTRT", "CHIINV", "CHIINVRT"],
  ...["GAMMA.DIST", "GAMMADIST", "GAMMA.INV", "GAMMAINV", "BESSELI", "BESSELJ", "BESSELK", "BESSELY"],
  ...["CUMIPMT", "CUMPRINC", "DB", "MULTINOMIAL", "SEQUENCE", "REPT"],
  ...["MMULT", "MAXPOOL", "MEDIANPOOL", "TRANSPOSE", "ARRAYFORMULA"],
];

/** More days than there are in the engine's calendar. */
const MOST_DAYS = 3_000_000;
const DAY = { maxValue: MOST_DAYS };
const DAYS = { minValue: -MOST_DAYS, maxValue: MOST_DAYS };

/** Limits for arguments, by their index, of functions that search on for ever where a number is too large to count in ones. */
const LIMITED: Readonly<Record<string, readonly ArgumentLimits[]>> = {
  WORKDAY: [DAY, DAYS],
  "WORKDAY.INTL": [DAY, DAYS],
};

export const LEFT_OUT_FUNCTIONS: EnginePatch = {
  name: "left-out",
  buys: "safety: functions that one large number keeps busy for ever are not there, or take no such number",
  replaces: {},
  uses: {},
  removes: LEFT_OUT,
  limits: LIMITED,
  apply() {},
};
