// What stands in the kiln, and the heat it takes on the way up.
import type { Problem } from "../../core/problem";
import { outOfRange, problemsOf } from "./check";
import { type Body, bodyKjPerKg, CORDIERITE_BODY, STONEWARE_BODY } from "./enthalpy";
import { tabulate } from "./table";
import { boundWaterKjPerKg, DEHYDROXYLATION_KJ_PER_KG, freeWaterKjPerKg, WATER_IN_KAOLINITE } from "./water";

/** What one firing heats. */
export interface Load {
  /** Dry ware as it goes in, the bound water of raw clay included. */
  readonly wareKg: number;
  /** Shelves, props and saggars. */
  readonly furnitureKg: number;
  /** Water left in the ware and on it. */
  readonly freeWaterKg: number;
  /** Clay mineral in raw ware; nothing once it has been fired. About half the weight of a raw body. */
  readonly kaoliniteKg: number;
  readonly dehydroxylationKjPerKg?: number;
  readonly wareBody?: Body;
  readonly furnitureBody?: Body;
}

/** Heat in joules above room temperature, against the temperature of the chamber. */
export interface LoadCurves {
  readonly ware: Float64Array;
  readonly furniture: Float64Array;
  /** Ware and furniture together. */
  readonly solids: Float64Array;
  /** Taken once, on the first way up, and not given back. */
  readonly water: Float64Array;
}

function bodyProblems(body: Body | undefined, where: string): readonly Problem[] {
  if (body === undefined) return [];
  const share = (part: string) => ({ where: `${where}, ${part}`, unit: "parts by weight", min: 0, max: 1000 });
  const total = { where: `${where}, all parts`, unit: "parts by weight", min: 0, max: 3000, aboveMin: true };
  return problemsOf([
    [body.silica, share("silica")],
    [body.alumina, share("alumina")],
    [body.other, share("other")],
    [body.silica + body.alumina + body.other, total],
  ]);
}

/** Gives the problems of a load, each naming its field; none when it is sound. */
export function loadProblems(load: Load): readonly Problem[] {
  const weight = (what: string) => ({ where: `load, ${what}`, unit: "kg", min: 0, max: 100_000 });
  const { usual, min, max } = DEHYDROXYLATION_KJ_PER_KG;
  const found = problemsOf([
    [load.wareKg, weight("ware")],
    [load.furnitureKg, weight("furniture")],
    [load.freeWaterKg, weight("free water")],
    [load.dehydroxylationKjPerKg ?? usual, { where: "load, heat of bound water", unit: "kJ/kg", min, max }],
  ]);
  const clay = outOfRange(load.kaoliniteKg, {
    ...weight("clay mineral"),
    max: load.wareKg >= 0 ? load.wareKg : weight("clay mineral").max,
    fix: "The clay mineral is a part of the ware, so it can't weigh more.",
  });
  if (clay !== undefined) found.push(clay);
  return [...found, ...bodyProblems(load.wareBody, "ware body"), ...bodyProblems(load.furnitureBody, "furniture body")];
}

/** Gives the heat curves of a checked load, from room temperature in °C. */
export function loadCurves(load: Load, roomC: number): LoadCurves {
  const wareBody = load.wareBody ?? STONEWARE_BODY;
  const furnitureBody = load.furnitureBody ?? CORDIERITE_BODY;
  const dehydroxylation = load.dehydroxylationKjPerKg ?? DEHYDROXYLATION_KJ_PER_KG.usual;
  // The bound water is left out here: its heat is taken when it goes, at the temperature at which it goes.
  const solidWareKg = load.wareKg - WATER_IN_KAOLINITE * load.kaoliniteKg;
  const wareAtRoom = bodyKjPerKg(wareBody, roomC);
  const furnitureAtRoom = bodyKjPerKg(furnitureBody, roomC);
  const ware = tabulate((celsius) => 1000 * solidWareKg * (bodyKjPerKg(wareBody, celsius) - wareAtRoom));
  const furniture = tabulate(
    (celsius) => 1000 * load.furnitureKg * (bodyKjPerKg(furnitureBody, celsius) - furnitureAtRoom),
  );
  const solids = ware.map((joules, i) => joules + (furniture[i] ?? 0));
  const water = tabulate(
    (celsius) =>
      1000 *
      (load.freeWaterKg * freeWaterKjPerKg(roomC, celsius) +
        load.kaoliniteKg * boundWaterKjPerKg(roomC, celsius, dehydroxylation)),
  );
  return { ware, furniture, solids, water };
}
