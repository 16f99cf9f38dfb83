// The whole kiln at one moment: a chamber at one temperature, the load with it, and the walls around it. The ware is
// taken to follow the chamber; the hot face of each wall is at chamber temperature, as elements sit in it.
import { HOTTEST_C } from "./constants";
import { chamberSurfaces, joinSurfaces, type Surface } from "./geometry";
import type { CheckedKiln, WallLayer } from "./kiln-spec";
import { type Load, type LoadCurves, loadCurves } from "./load";
import { shellCurve } from "./shell";
import { readTable, tableSlope } from "./table";
import { ventWattsPerDegree } from "./vent";
import { createWall, noteHottest, type Wall, wallHeldJoules } from "./wall";
import { WALL_MATERIALS } from "./wall-materials";
import { moveWall, readWall, sweepWall } from "./wall-step";

/** A kiln in mid-firing; overwritten as it goes. */
export interface KilnState {
  readonly roomC: number;
  readonly walls: readonly Wall[];
  readonly curves: LoadCurves;
  ventLitresPerSecond: number;
  chamberC: number;
  /** Heat already taken by water, J. */
  waterJ: number;
  /** Sums since the start, J. */
  suppliedJ: number;
  shellJ: number;
  ventJ: number;
  /** The line of heat into all walls against chamber temperature, for the step in hand. */
  inflowSlope: number;
  inflowBase: number;
  ventWattsPerDegree: number;
}

/** Makes the walls of a checked kiln at room temperature; parts with the same layers become one wall. */
export function createWalls(kiln: CheckedKiln, finer = 1): readonly Wall[] {
  const surfaces = chamberSurfaces(kiln.chamber);
  const parts: readonly (readonly [readonly WallLayer[], Surface])[] = [
    [kiln.wall, surfaces.side],
    [kiln.lid, surfaces.lid],
    [kiln.floor, surfaces.floor],
  ];
  const alike = new Map<string, { readonly layers: readonly WallLayer[]; readonly surfaces: Surface[] }>();
  for (const [layers, surface] of parts) {
    const key = layers.map((layer) => `${layer.material} ${layer.thicknessMm}`).join("|");
    const group = alike.get(key);
    if (group === undefined) alike.set(key, { layers, surfaces: [surface] });
    else group.surfaces.push(surface);
  }
  const shell = shellCurve(kiln.roomC, kiln.shellEmissivity, kiln.chamber.heightMm / 1000);
  return Array.from(alike.values(), ({ layers, surfaces: joined }) => {
    const laid = layers.map((layer) => ({ ...layer, material: WALL_MATERIALS[layer.material] }));
    const { roomC, wallLossFactor, storedHeatFactor } = kiln;
    return createWall(laid, joinSurfaces(joined), { roomC, shell, wallLossFactor, storedHeatFactor, finer });
  });
}

/** Makes a cold kiln with its load in it. */
export function createKilnState(kiln: CheckedKiln, load: Load, finer = 1): KilnState {
  return {
    roomC: kiln.roomC,
    walls: createWalls(kiln, finer),
    curves: loadCurves(load, kiln.roomC),
    ventLitresPerSecond: kiln.ventLitresPerSecond,
    chamberC: kiln.roomC,
    waterJ: 0,
    suppliedJ: 0,
    shellJ: 0,
    ventJ: 0,
    inflowSlope: 0,
    inflowBase: 0,
    ventWattsPerDegree: 0,
  };
}

/** Begins a step: reads what depends on the present temperatures. */
export function beginStep(state: KilnState): void {
  for (const wall of state.walls) readWall(wall);
  state.ventWattsPerDegree = ventWattsPerDegree(state.ventLitresPerSecond, state.chamberC);
}

/** Sets the length of the step in hand; may be called again with another. */
export function setStep(state: KilnState, seconds: number): void {
  state.inflowSlope = 0;
  state.inflowBase = 0;
  for (const wall of state.walls) {
    sweepWall(wall, seconds);
    state.inflowSlope += wall.inflowSlope;
    state.inflowBase += wall.inflowBase;
  }
}

/** Gives the power in W that brings the chamber to a temperature in °C within the step in hand. */
export function powerFor(state: KilnState, celsius: number, seconds: number): number {
  const { curves } = state;
  const solids = readTable(curves.solids, celsius) - readTable(curves.solids, state.chamberC);
  const water = Math.max(0, readTable(curves.water, celsius) - state.waterJ);
  const walls = state.inflowSlope * celsius - state.inflowBase;
  return (solids + water) / seconds + walls + state.ventWattsPerDegree * (celsius - state.roomC);
}

/** Gives the temperature in °C that a power in W brings the chamber to within the step in hand. */
export function temperatureUnder(state: KilnState, powerW: number, seconds: number): number {
  const { curves } = state;
  let low = 0;
  let high = HOTTEST_C;
  let celsius = state.chamberC;
  for (let round = 0; round < 60; round++) {
    const excess = powerFor(state, celsius, seconds) - powerW;
    if (excess > 0) high = celsius;
    else low = celsius;
    const drying = readTable(curves.water, celsius) >= state.waterJ ? tableSlope(curves.water, celsius) : 0;
    const load = (tableSlope(curves.solids, celsius) + drying) / seconds;
    let next = celsius - excess / (load + state.inflowSlope + state.ventWattsPerDegree);
    if (Math.abs(next - celsius) < 1e-10) return celsius;
    // The curves have corners; where Newton's step leaves the bracket, halve it.
    if (next <= low || next >= high) next = (low + high) / 2;
    celsius = next;
  }
  return celsius;
}

/** Ends the step in hand at a chamber temperature in °C and gives the power it took, W. */
export function endStep(state: KilnState, celsius: number, seconds: number): number {
  const powerW = powerFor(state, celsius, seconds);
  for (const wall of state.walls) {
    moveWall(wall, celsius, seconds);
    noteHottest(wall, celsius);
    state.shellJ += wall.shellLossW * seconds;
  }
  state.ventJ += state.ventWattsPerDegree * (celsius - state.roomC) * seconds;
  state.waterJ = Math.max(state.waterJ, readTable(state.curves.water, celsius));
  state.suppliedJ += powerW * seconds;
  state.chamberC = celsius;
  return powerW;
}

/** Gives the heat the walls hold above room temperature, J. */
export function heldByWallsJ(state: KilnState): number {
  return state.walls.reduce((sum, wall) => sum + wallHeldJoules(wall), 0);
}
