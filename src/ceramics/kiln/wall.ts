// One wall, from the chamber to the room, and its present state. The state is heat held, not temperature: what a slice
// gains is exactly what its faces let in and out, so the energy balance closes whatever the step.
import type { Surface } from "./geometry";
import { intervalOf, readTable, TABLE_POINTS, tabulate } from "./table";
import { cutWall, type MaterialLayer } from "./wall-grid";
import { conductivityAt, wallEnthalpyAt } from "./wall-materials";

/** What a wall is made with, beside its layers and surface. */
export interface WallOptions {
  readonly roomC: number;
  /** Loss of the shell in W/m²K against its temperature. */
  readonly shell: Float64Array;
  /** Multiplies conductivity; 1 is the table's value. */
  readonly wallLossFactor?: number;
  /** Multiplies the heat the wall holds; 1 is the table's value. */
  readonly storedHeatFactor?: number;
  /** How many times finer than usual the slices are cut. */
  readonly finer?: number;
}

/** A wall and its present state; the arrays are made once and then overwritten. */
export interface Wall {
  readonly roomC: number;
  readonly shell: Float64Array;
  readonly shellM2: number;
  /** Heat (J/kg) and conductivity (W/m K) curves of all layers, end to end, and where each slice's curve begins. */
  readonly heat: Float64Array;
  readonly conductivity: Float64Array;
  readonly curveStart: Int32Array;
  /** The curve point just below each slice's temperature. */
  readonly pointBelow: Int32Array;
  readonly massKg: Float64Array;
  /** Half thickness over area on either side of each slice's middle, 1/m: over conductivity, it is a resistance. */
  readonly inwardPerM: Float64Array;
  readonly outwardPerM: Float64Array;
  /** The first slice of each layer, and the hottest that the layer's hot face has been, °C. */
  readonly layerStart: Int32Array;
  readonly hottestC: Float64Array;
  readonly celsius: Float64Array;
  readonly joulesPerKg: Float64Array;
  /** Heat capacity of each slice, J/K, and conductance of each face from the chamber to the room, W/K. */
  readonly joulesPerDegree: Float64Array;
  readonly wattsPerDegree: Float64Array;
  /** The sweep's line for each slice: its temperature = `base` + `slope` × that of its inner neighbour. */
  readonly base: Float64Array;
  readonly slope: Float64Array;
  shellC: number;
  /** Heat into the hot face in W = `inflowSlope` × chamber temperature − `inflowBase`. */
  inflowSlope: number;
  inflowBase: number;
  /** Heat through the hot face and off the shell in the last step, W. */
  inflowW: number;
  shellLossW: number;
}

/** Makes a wall at room temperature from layers, hot face first. */
export function createWall(layers: readonly MaterialLayer[], surface: Surface, options: WallOptions): Wall {
  const slices = cutWall(layers, surface, options.finer);
  const lossFactor = options.wallLossFactor ?? 1;
  const heatFactor = options.storedHeatFactor ?? 1;
  const density = layers.map(({ material }) => material.densityKgPerM3);
  const thicknessM = layers.reduce((sum, layer) => sum + layer.thicknessMm, 0) / 1000;
  const count = slices.length;
  const wall: Wall = {
    roomC: options.roomC,
    shell: options.shell,
    shellM2: surface.insideM2 + surface.growthM * thicknessM,
    heat: endToEnd(layers.map(({ material }) => tabulate((celsius) => wallEnthalpyAt(material, celsius)))),
    conductivity: endToEnd(layers.map(({ material }) => tabulate((celsius) => conductivityAt(material, celsius)))),
    curveStart: Int32Array.from(slices, (slice) => slice.layer * TABLE_POINTS),
    pointBelow: new Int32Array(count),
    massKg: Float64Array.from(slices, (slice) => slice.volumeM3 * (density[slice.layer] ?? 0) * heatFactor),
    inwardPerM: Float64Array.from(slices, (slice) => slice.inwardPerM / lossFactor),
    outwardPerM: Float64Array.from(slices, (slice) => slice.outwardPerM / lossFactor),
    layerStart: Int32Array.from(layers, (_, layer) => slices.findIndex((slice) => slice.layer === layer)),
    hottestC: new Float64Array(layers.length),
    celsius: new Float64Array(count),
    joulesPerKg: new Float64Array(count),
    joulesPerDegree: new Float64Array(count),
    wattsPerDegree: new Float64Array(count + 1),
    base: new Float64Array(count + 1),
    slope: new Float64Array(count + 1),
    shellC: options.roomC,
    inflowSlope: 0,
    inflowBase: 0,
    inflowW: 0,
    shellLossW: 0,
  };
  coolWall(wall);
  return wall;
}

function endToEnd(curves: readonly Float64Array[]): Float64Array {
  const joined = new Float64Array(curves.length * TABLE_POINTS);
  curves.forEach((curve, layer) => {
    joined.set(curve, layer * TABLE_POINTS);
  });
  return joined;
}

/** Puts a wall back to room temperature. */
export function coolWall(wall: Wall): void {
  wall.celsius.fill(wall.roomC);
  wall.shellC = wall.roomC;
  wall.hottestC.fill(wall.roomC);
  readHeat(wall);
}

/** Makes the heat of every slice agree with its temperature. */
export function readHeat(wall: Wall): void {
  const { celsius, joulesPerKg, pointBelow } = wall;
  for (let i = 0; i < celsius.length; i++) {
    const now = celsius[i] as number;
    joulesPerKg[i] = heatAt(wall, i, now);
    pointBelow[i] = (wall.curveStart[i] as number) + intervalOf(now);
  }
}

/** Remembers the hottest that each layer's hot face has been: the chamber's for the first, between two slices for others. */
export function noteHottest(wall: Wall, chamberC: number): void {
  const { layerStart, hottestC, celsius } = wall;
  for (let layer = 0; layer < layerStart.length; layer++) {
    const outer = layerStart[layer] as number;
    const faceC = outer === 0 ? chamberC : betweenSlices(wall, outer - 1, celsius[outer - 1] as number);
    if (faceC > (hottestC[layer] as number)) hottestC[layer] = faceC;
  }
}

/** The temperature where a slice meets the next one outward: heat passes both halves alike. */
function betweenSlices(wall: Wall, inner: number, innerC: number): number {
  const outerC = wall.celsius[inner + 1] as number;
  const before = (wall.outwardPerM[inner] as number) / conductivityIn(wall, inner);
  const behind = (wall.inwardPerM[inner + 1] as number) / conductivityIn(wall, inner + 1);
  return innerC - ((innerC - outerC) * before) / (before + behind);
}

function conductivityIn(wall: Wall, slice: number): number {
  const start = wall.curveStart[slice] as number;
  return readTable(wall.conductivity.subarray(start, start + TABLE_POINTS), wall.celsius[slice] as number);
}

function heatAt(wall: Wall, slice: number, celsius: number): number {
  const start = wall.curveStart[slice] as number;
  return readTable(wall.heat.subarray(start, start + TABLE_POINTS), celsius);
}

/** Gives the heat a wall holds above room temperature, in joules, calculated from its temperatures alone. */
export function wallHeldJoules(wall: Wall): number {
  let held = 0;
  for (let i = 0; i < wall.celsius.length; i++) {
    const gained = heatAt(wall, i, wall.celsius[i] as number) - heatAt(wall, i, wall.roomC);
    held += (wall.massKg[i] as number) * gained;
  }
  return held;
}
