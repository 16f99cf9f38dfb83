// Bricks and fibres a kiln wall is laid of. The heat column of the heat atlas does not say whether it is a true or a
// mean value; its shape, and the oxides' own enthalpies, suit a mean from 0 °C, and it is read so (5–10 % either way).

/** Names of the wall materials. */
export type WallMaterialName = "brick-1260" | "brick-1400" | "brick-1540" | "fireclay" | "mullite" | "fibre" | "board";

/** A property pair at one temperature. */
interface MaterialPoint {
  readonly celsius: number;
  readonly conductivityWPerMK: number;
  /** Mean heat from 0 °C, J/kg K. */
  readonly meanHeatJPerKgK: number;
}

/** One class of brick or fibre. */
export interface WallMaterial {
  readonly title: string;
  readonly densityKgPerM3: number;
  /** Classification temperature: above it the material shrinks and wears sooner. It can be fired above, and is. */
  readonly maxUseC: number;
  /**
   * Rising by temperature; read straight between the points and on along the end slopes. How far that may be trusted is
   * judgement: as the table up to `DATA_C`, ±15 % in conductivity 300 °C beyond, where radiation in the pores bends it up.
   */
  readonly points: readonly MaterialPoint[];
  readonly source: string;
}

const HEAT_ATLAS =
  "VDI Heat Atlas, 2nd ed., as coded in CalebBell/ht ht/insulation.py (commit f9ff144); class limit from the name";
const HEAT_ATLAS_LIMIT_FROM_MEMORY =
  "VDI Heat Atlas, 2nd ed., as coded in CalebBell/ht ht/insulation.py (commit f9ff144); limit from memory";
const FROM_MEMORY = "from memory of common data sheets; check yours";

function atlasPoints(conductivity: readonly number[], meanHeat: readonly number[]): readonly MaterialPoint[] {
  return [400, 600, 800, 1000, 1200].map((celsius, i) => ({
    celsius,
    conductivityWPerMK: conductivity[i] ?? Number.NaN,
    meanHeatJPerKgK: meanHeat[i] ?? Number.NaN,
  }));
}

/** The wall materials as data, by name. */
export const WALL_MATERIALS: Readonly<Record<WallMaterialName, WallMaterial>> = {
  "brick-1260": {
    title: "Insulating firebrick, 1260 °C class (group 23)",
    densityKgPerM3: 490,
    maxUseC: 1260,
    points: atlasPoints([0.14, 0.16, 0.18, 0.2, 0.22], [942, 979, 1002, 1017, 1033]),
    source: HEAT_ATLAS,
  },
  "brick-1400": {
    title: "Insulating firebrick, 1400 °C class (group 26)",
    densityKgPerM3: 790,
    maxUseC: 1400,
    points: atlasPoints([0.27, 0.3, 0.32, 0.34, 0.36], [954, 994, 1018, 1034, 1050]),
    source: HEAT_ATLAS,
  },
  "brick-1540": {
    title: "Insulating firebrick, 1540 °C class",
    densityKgPerM3: 890,
    maxUseC: 1540,
    points: atlasPoints([0.32, 0.35, 0.38, 0.41, 0.43], [979, 1026, 1054, 1075, 1096]),
    source: HEAT_ATLAS,
  },
  fireclay: {
    title: "Dense fireclay brick",
    densityKgPerM3: 2150,
    maxUseC: 1300,
    points: atlasPoints([1.05, 1.1, 1.15, 1.18, 1.22], [956, 997, 1021, 1037, 1054]),
    source: HEAT_ATLAS_LIMIT_FROM_MEMORY,
  },
  mullite: {
    title: "Dense mullite brick",
    densityKgPerM3: 2540,
    maxUseC: 1600,
    points: atlasPoints([1.45, 1.52, 1.58, 1.63, 1.67], [987, 1035, 1065, 1087, 1109]),
    source: HEAT_ATLAS_LIMIT_FROM_MEMORY,
  },
  fibre: {
    title: "Ceramic fibre blanket, 128 kg/m³",
    densityKgPerM3: 128,
    maxUseC: 1260,
    points: [
      { celsius: 0, conductivityWPerMK: 0.035, meanHeatJPerKgK: 800 },
      { celsius: 200, conductivityWPerMK: 0.06, meanHeatJPerKgK: 900 },
      { celsius: 400, conductivityWPerMK: 0.1, meanHeatJPerKgK: 980 },
      { celsius: 600, conductivityWPerMK: 0.15, meanHeatJPerKgK: 1030 },
      { celsius: 800, conductivityWPerMK: 0.21, meanHeatJPerKgK: 1065 },
      { celsius: 1000, conductivityWPerMK: 0.29, meanHeatJPerKgK: 1090 },
      { celsius: 1200, conductivityWPerMK: 0.4, meanHeatJPerKgK: 1110 },
    ],
    source: FROM_MEMORY,
  },
  board: {
    title: "Calcium silicate backing board, 240 kg/m³",
    densityKgPerM3: 240,
    maxUseC: 1000,
    points: [
      { celsius: 0, conductivityWPerMK: 0.055, meanHeatJPerKgK: 800 },
      { celsius: 200, conductivityWPerMK: 0.068, meanHeatJPerKgK: 880 },
      { celsius: 400, conductivityWPerMK: 0.085, meanHeatJPerKgK: 940 },
      { celsius: 600, conductivityWPerMK: 0.105, meanHeatJPerKgK: 980 },
      { celsius: 800, conductivityWPerMK: 0.13, meanHeatJPerKgK: 1005 },
      { celsius: 1000, conductivityWPerMK: 0.16, meanHeatJPerKgK: 1025 },
    ],
    source: FROM_MEMORY,
  },
};

/** The hottest point of each material's data, °C. */
export const DATA_C = Object.fromEntries(
  Object.entries(WALL_MATERIALS).map(([name, { points }]) => [name, points.at(-1)?.celsius ?? 0]),
) as Readonly<Record<WallMaterialName, number>>;

/** Tells whether a text names a wall material. */
export function isWallMaterialName(name: string): name is WallMaterialName {
  return Object.hasOwn(WALL_MATERIALS, name);
}

function readPoints(material: WallMaterial, celsius: number, read: (point: MaterialPoint) => number): number {
  const { points } = material;
  const after = points.findIndex((point) => point.celsius >= celsius);
  const upper = Math.max(1, after < 0 ? points.length - 1 : after);
  const high = points[upper];
  const low = points[upper - 1];
  if (high === undefined || low === undefined) return points[0] === undefined ? Number.NaN : read(points[0]);
  const share = (celsius - low.celsius) / (high.celsius - low.celsius);
  return read(low) + (read(high) - read(low)) * share;
}

/** Gives the conductivity of a wall material in W/m K at a temperature in °C. */
export function conductivityAt(material: WallMaterial, celsius: number): number {
  return readPoints(material, celsius, (point) => point.conductivityWPerMK);
}

/** Gives the heat a wall material holds above 0 °C, in J/kg, at a temperature in °C. */
export function wallEnthalpyAt(material: WallMaterial, celsius: number): number {
  return celsius * readPoints(material, celsius, (point) => point.meanHeatJPerKgK);
}
