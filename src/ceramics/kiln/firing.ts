// The result of one firing, as plain data.

import type { HotLayer } from "./limits";

/** Where the heat of a firing is at the end of its programme, kWh; the parts add up to the energy used. */
export interface HeatSplit {
  readonly ware: number;
  readonly furniture: number;
  readonly wallStored: number;
  readonly shell: number;
  readonly vent: number;
  readonly water: number;
}

/** What a firing takes. */
export interface Firing {
  readonly kwh: number;
  readonly meanKw: number;
  readonly peakKw: number;
  /** From cold to the end of the programme. */
  readonly heatingHours: number;
  /** Chamber at minutes 0, 1, 2 …; the last is the end of the programme, which may fall within a minute. */
  readonly temperatureC: Float64Array;
  /** Mean over each minute, so that the sum over 60 is the energy in kWh. */
  readonly powerKw: Float64Array;
  /** For each ramp, by how many minutes the kiln ran late. */
  readonly lateMinutes: readonly number[];
  readonly heat: HeatSplit;
  /** Heat the ware and its water had taken by the hottest moment, kWh. */
  readonly usefulKwh: number;
  /** Energy in less heat stored and lost, relative to energy in; a check on the calculation. */
  readonly balanceError: number;
  /** Layers that got hotter than their class, by the end of the cooling where that is calculated. */
  readonly hotLayers: readonly HotLayer[];
  /** Minutes after the end of the programme, elements off and lid shut, and the chamber then; empty if not asked for. */
  readonly coolingMinutes: Float64Array;
  readonly coolingC: Float64Array;
}
