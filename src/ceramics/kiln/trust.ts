// How far a reckoned firing may be trusted. The figures are judgement: bricks of one class differ by a third in
// conductivity, and the leak of air is seldom known. Only meter readings narrow them.

/** How far to trust a reckoned kWh. */
export interface Trust {
  /** Plus or minus, %. */
  readonly percent: number;
  readonly text: string;
}

const UNCALIBRATED_PERCENT = 40;
const ONE_READING_PERCENT = 20;
const TWO_READINGS_PERCENT = 15;
const BEST_PERCENT = 10;

/** Trust in a kiln that has no meter reading. */
export const UNCALIBRATED: Trust = {
  percent: UNCALIBRATED_PERCENT,
  text: "uncalibrated: ±40 %. Read the meter before and after one firing and enter the difference.",
};

/** Gives the trust in a fit to meter readings, from its errors in parts of one. */
export function trustIn(errors: readonly number[], isAtBound: boolean): Trust {
  if (errors.length === 0) return UNCALIBRATED;
  if (isAtBound) {
    const text =
      "±40 %: the readings ask for more than the model can bend. Check the kiln's measures, layers and power.";
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
  const squares = errors.reduce((sum, error) => sum + error ** 2, 0);
  const spread = 200 * Math.sqrt(squares / (errors.length - 2));
  const percent = Math.ceil(Math.min(UNCALIBRATED_PERCENT, Math.max(BEST_PERCENT, spread)));
  return {
    percent,
    text: `${errors.length} readings, two factors fitted: ±${percent} %, twice the spread of the errors.`,
  };
}
