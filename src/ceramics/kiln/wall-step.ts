// Heat through one wall in a step: finite volumes, implicit in time, so that no step is too long. `readWall` reads
// conductivity and heat capacity at the present temperatures. `sweepWall` works from the shell inward until one straight
// line is left: heat into the hot face against chamber temperature. The caller settles the chamber with it, and `moveWall`
// carries the answer back out.
import { readTable, TABLE_POINTS, TABLE_STEP_C } from "./table";
import { readHeat, type Wall } from "./wall";

const POINTS_PER_DEGREE = 1 / TABLE_STEP_C;

/** Reads heat capacities and conductances at the present temperatures; needed once before the sweeps of a step. */
export function readWall(wall: Wall): void {
  const { celsius, heat, conductivity, massKg, joulesPerDegree, wattsPerDegree } = wall;
  const count = celsius.length;
  let resistanceBehind = 0;
  for (let i = 0; i < count; i++) {
    const point = wall.pointBelow[i] as number;
    const along = (celsius[i] as number) * POINTS_PER_DEGREE - (point - (wall.curveStart[i] as number));
    const coolConductivity = conductivity[point] as number;
    const present = coolConductivity + ((conductivity[point + 1] as number) - coolConductivity) * along;
    const heatStep = (heat[point + 1] as number) - (heat[point] as number);
    joulesPerDegree[i] = (massKg[i] as number) * heatStep * POINTS_PER_DEGREE;
    const resistivity = 1 / present;
    wattsPerDegree[i] = 1 / (resistanceBehind + resistivity * (wall.inwardPerM[i] as number));
    resistanceBehind = resistivity * (wall.outwardPerM[i] as number);
  }
  const film = readTable(wall.shell, wall.shellC) * wall.shellM2;
  wattsPerDegree[count] = 1 / (resistanceBehind + 1 / film);
}

/** Works from the shell inward for a step of some seconds and leaves the line of inflow against chamber temperature. */
export function sweepWall(wall: Wall, seconds: number): void {
  const { celsius, joulesPerDegree, wattsPerDegree, base, slope } = wall;
  const count = celsius.length;
  const perSecond = 1 / seconds;
  base[count] = wall.roomC;
  slope[count] = 0;
  let outerBase = wall.roomC;
  let outerSlope = 0;
  for (let i = count - 1; i >= 0; i--) {
    const inertia = (joulesPerDegree[i] as number) * perSecond;
    const outward = wattsPerDegree[i + 1] as number;
    const inward = wattsPerDegree[i] as number;
    const share = 1 / (inertia + inward + outward * (1 - outerSlope));
    outerBase = (inertia * (celsius[i] as number) + outward * outerBase) * share;
    outerSlope = inward * share;
    base[i] = outerBase;
    slope[i] = outerSlope;
  }
  const face = wattsPerDegree[0] as number;
  wall.inflowSlope = face * (1 - outerSlope);
  wall.inflowBase = face * outerBase;
}

/** Ends a step: the chamber has come to a temperature in °C, and every slice gains what its faces let in and out. */
export function moveWall(wall: Wall, chamberC: number, seconds: number): void {
  const { joulesPerKg, massKg, wattsPerDegree, base, slope } = wall;
  const count = joulesPerKg.length;
  wall.inflowW = wall.inflowSlope * chamberC - wall.inflowBase;
  let hereC = (base[0] as number) + (slope[0] as number) * chamberC;
  let flowIn = wall.inflowW;
  for (let i = 0; i < count; i++) {
    const outerC = (base[i + 1] as number) + (slope[i + 1] as number) * hereC;
    const flowOut = (wattsPerDegree[i + 1] as number) * (hereC - outerC);
    joulesPerKg[i] = (joulesPerKg[i] as number) + ((flowIn - flowOut) * seconds) / (massKg[i] as number);
    hereC = outerC;
    flowIn = flowOut;
  }
  readTemperatures(wall);
  readShell(wall, flowIn);
}

/** Makes the temperature of every slice agree with its heat, looking from where it was. */
function readTemperatures(wall: Wall): void {
  const { celsius, joulesPerKg, heat, curveStart, pointBelow } = wall;
  for (let i = 0; i < celsius.length; i++) {
    const held = joulesPerKg[i] as number;
    const start = curveStart[i] as number;
    let point = pointBelow[i] as number;
    while (point > start && held < (heat[point] as number)) point--;
    while (point < start + TABLE_POINTS - 2 && held > (heat[point + 1] as number)) point++;
    const low = heat[point] as number;
    const along = (held - low) / ((heat[point + 1] as number) - low);
    celsius[i] = (point - start + along) * TABLE_STEP_C;
    pointBelow[i] = point;
  }
}

function readShell(wall: Wall, lossW: number): void {
  wall.shellLossW = lossW;
  wall.shellC = wall.roomC + lossW / (readTable(wall.shell, wall.shellC) * wall.shellM2);
}

/** Brings a wall to the steady state it reaches in the end beside a chamber kept at a temperature in °C. */
export function settleWall(wall: Wall, chamberC: number): void {
  const { celsius, base, slope } = wall;
  for (let round = 0; round < 60; round++) {
    const before = wall.inflowW;
    readWall(wall);
    sweepWall(wall, Number.POSITIVE_INFINITY);
    let innerC = chamberC;
    for (let i = 0; i < celsius.length; i++) {
      innerC = (base[i] as number) + (slope[i] as number) * innerC;
      celsius[i] = innerC;
    }
    readHeat(wall);
    wall.inflowW = wall.inflowSlope * chamberC - wall.inflowBase;
    readShell(wall, wall.inflowW);
    if (round > 2 && Math.abs(wall.inflowW - before) <= 1e-10 * Math.abs(wall.inflowW)) break;
  }
}
