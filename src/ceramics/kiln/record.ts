// The minute-by-minute record of a firing, written as it runs.

/** A firing longer than this is refused. */
export const LONGEST_HOURS = 200;

/** A record under way; the arrays are longer than what has been written. */
export interface FiringRecord {
  readonly stepSeconds: number;
  /** Steps of full length gone by; the clock is kept in them so that minutes fall exactly on steps. */
  marks: number;
  seconds: number;
  peakW: number;
  /** At minutes 0, 1, 2 … */
  readonly temperatureC: Float64Array;
  /** Mean over each minute. */
  readonly powerKw: Float64Array;
}

/** Makes an empty record for steps of some seconds, a whole number of which make a minute. */
export function createRecord(stepSeconds: number, startC: number): FiringRecord {
  const minutes = LONGEST_HOURS * 60 + 2;
  const record: FiringRecord = {
    stepSeconds,
    marks: 0,
    seconds: 0,
    peakW: 0,
    temperatureC: new Float64Array(minutes),
    powerKw: new Float64Array(minutes),
  };
  record.temperatureC[0] = startC;
  return record;
}

/** Gives the seconds left until the next mark. */
export function secondsToMark(record: FiringRecord): number {
  return (record.marks + 1) * record.stepSeconds - record.seconds;
}

/** Writes a step that does not pass the next mark. */
export function writeStep(record: FiringRecord, powerW: number, seconds: number, celsius: number): void {
  const minute = Math.floor((record.marks * record.stepSeconds) / 60);
  record.powerKw[minute] = (record.powerKw[minute] as number) + (powerW * seconds) / 60_000;
  record.temperatureC[minute + 1] = celsius;
  record.peakW = Math.max(record.peakW, powerW);
  const mark = (record.marks + 1) * record.stepSeconds;
  record.seconds += seconds;
  if (mark - record.seconds < 1e-6) {
    record.seconds = mark;
    record.marks++;
  }
}
