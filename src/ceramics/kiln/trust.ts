// How far a calculated firing may be trusted. The figures are judgement: bricks of one class differ by a third in
// conductivity, and the leak of air is seldom known. Only meter readings narrow them.

/** How far to trust a calculated kWh. */
export interface Trust {
  /** Plus or minus, %. */
  readonly percent: number;
  readonly text: string;
}

const UNCALIBRATED_PERCENT = 40;
const ONE_READING_PERCENT = 20;
const TWO_READINGS_PERCENT = 15;
/** However well readings agree: a meter, a load and a room are never quite the same again. */
const BEST_PERCENT = 3;
const FACTORS = 2;

/** Trust in a kiln that has no meter reading. */
export const UNCALIBRATED: Trust = {
  percent: UNCALIBRATED_PERCENT,
  text: "not fitted to your meter: ±40 %. Read the meter before and after one firing and enter the difference.",
};

/**
 * Gives the trust in a fit to meter readings, from its errors in parts of one: from three readings on the 95 % prediction
 * interval of one more firing at the readings' mean leverage, t · s · √(1 + p/n), p = 2 factors, s over n − p degrees of
 * freedom (NIST/SEMATECH e-Handbook 4.5.1.2); no more than without calibration, no less than what firings vary by anyway.
 */
export function trustIn(errors: readonly number[], isAtBound: boolean): Trust {
  if (errors.length === 0) return UNCALIBRATED;
  if (isAtBound) {
    const text =
      "±40 %: the readings lie too far from what the kiln's measures give. Check its measures, layers and power.";
    return { percent: UNCALIBRATED_PERCENT, text };
  }
  if (errors.length === 1) {
    const text = `one reading, wall loss fitted: ±${ONE_READING_PERCENT} %, nearer for firings like the one that was read.`;
    return { percent: ONE_READING_PERCENT, text };
  }
  if (errors.length === 2) {
    const text = `two readings, two factors fitted: ±${TWO_READINGS_PERCENT} %. A third would show how well they fit.`;
    return { percent: TWO_READINGS_PERCENT, text };
  }
  const freedom = errors.length - FACTORS;
  const squares = errors.reduce((sum, error) => sum + error ** 2, 0);
  const spread = Math.sqrt(squares / freedom);
  const interval = 100 * studentT975(freedom) * spread * Math.sqrt(1 + FACTORS / errors.length);
  const percent = Math.ceil(Math.min(UNCALIBRATED_PERCENT, Math.max(BEST_PERCENT, interval - 1e-9)));
  const text = `${errors.length} readings, two factors fitted: ±${percent} %, where 19 of 20 further firings like these should lie.`;
  return { percent, text };
}

// NIST/SEMATECH e-Handbook of Statistical Methods 1.3.6.7.2, column 0.975, for 1 to 30 degrees of freedom.
const T_975 = [
  ...[12.706, 4.303, 3.182, 2.776, 2.571, 2.447, 2.365, 2.306, 2.262, 2.228],
  ...[2.201, 2.179, 2.16, 2.145, 2.131, 2.12, 2.11, 2.101, 2.093, 2.086],
  ...[2.08, 2.074, 2.069, 2.064, 2.06, 2.056, 2.052, 2.048, 2.045, 2.042],
];

/** Gives how many standard deviations 95 % of Student's t lie within, to two digits beyond 30 degrees of freedom. */
export function studentT975(freedom: number): number {
  return T_975[freedom - 1] ?? 1.96 + 2.45 / freedom;
}
