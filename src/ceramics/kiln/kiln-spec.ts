// A kiln as its maker describes it, and the checks that come before any calculation.
import { fail, ok, type Problem, problem, type Result } from "../../core/problem";
import { type NumberRule, outOfRange, problemsOf } from "./check";
import { type Chamber, chamberLitres } from "./geometry";
import { usualVent, VENT_LITRES_PER_SECOND } from "./vent";
import { isWallMaterialName, WALL_MATERIALS, type WallMaterialName } from "./wall-materials";

/** A layer of a wall. */
export interface WallLayer {
  readonly material: WallMaterialName;
  readonly thicknessMm: number;
}

/** A kiln. Layers run from the hot face outward. */
export interface KilnSpec {
  readonly name: string;
  readonly chamber: Chamber;
  readonly wall: readonly WallLayer[];
  /** As the wall, when nothing is said. */
  readonly lid?: readonly WallLayer[];
  /** As the wall, when nothing is said. */
  readonly floor?: readonly WallLayer[];
  readonly ratedKw: number;
  readonly roomC?: number;
  /** Room air that passes through the closed kiln. */
  readonly ventLitresPerSecond?: number;
  readonly shellEmissivity?: number;
  /** From calibration; multiplies the conductivity of the walls. */
  readonly wallLossFactor?: number;
  /** From calibration; multiplies the heat the walls hold. */
  readonly storedHeatFactor?: number;
}

/** A kiln that has passed its checks, with nothing left unsaid. */
export type CheckedKiln = Required<KilnSpec>;

/** What is taken where a kiln says nothing. */
const KILN_DEFAULTS = {
  roomC: 20,
  /** Stainless jacket 0.2–0.4, from memory. */
  shellEmissivity: 0.3,
  wallLossFactor: 1,
  storedHeatFactor: 1,
} as const;

/** The bounds of both calibration factors. */
export const FACTOR_BOUNDS = { min: 0.3, max: 3 } as const;

/** Fills in what a kiln leaves unsaid. */
function completeKiln(spec: KilnSpec): CheckedKiln {
  const vent = usualVent(chamberLitres(spec.chamber));
  // A chamber that is no number has its own problem.
  const ventLitresPerSecond = Number.isFinite(vent) ? vent : 0;
  return { ...KILN_DEFAULTS, ventLitresPerSecond, lid: spec.wall, floor: spec.wall, ...spec };
}

/** Checks a kiln and fills in what it leaves unsaid; each problem names its field. */
export function checkKiln(spec: KilnSpec): Result<CheckedKiln> {
  const kiln = completeKiln(spec);
  const problems = [
    ...chamberProblems(kiln),
    ...layerProblems(kiln.wall, `${kiln.name}, wall`),
    ...(spec.lid === undefined ? [] : layerProblems(kiln.lid, `${kiln.name}, lid`)),
    ...(spec.floor === undefined ? [] : layerProblems(kiln.floor, `${kiln.name}, floor`)),
    ...numberProblems(kiln),
  ];
  return problems.length > 0 ? fail(...problems) : ok(kiln);
}

function chamberProblems({ name, chamber }: CheckedKiln): readonly Problem[] {
  const rule = (what: string): NumberRule => ({ where: `${name}, ${what}`, unit: "mm", min: 50, max: 5000 });
  const height = [chamber.heightMm, rule("chamber height")] as const;
  if (chamber.kind === "round") return problemsOf([[chamber.diameterMm, rule("chamber diameter")], height]);
  if (chamber.kind === "rectangular") {
    return problemsOf([[chamber.widthMm, rule("chamber width")], [chamber.depthMm, rule("chamber depth")], height]);
  }
  const found = (chamber as { readonly kind?: unknown }).kind;
  return [problem({ code: "kiln.shape", where: `${name}, chamber shape`, found, allowed: "round or rectangular" })];
}

function layerProblems(layers: readonly WallLayer[], where: string): readonly Problem[] {
  if (layers.length === 0) {
    const fix = "Give at least the hot-face brick and its thickness.";
    return [problem({ code: "kiln.no-layers", where, found: "", allowed: "one layer or more", fix })];
  }
  return layers.flatMap((layer, i) => {
    const field = `${where}, layer ${i + 1}`;
    const rule = { where: `${field}, thickness`, unit: "mm", min: 0, max: 500, aboveMin: true };
    const found = problemsOf([[layer.thicknessMm, rule]]);
    if (!isWallMaterialName(layer.material)) {
      const allowed = `one of ${Object.keys(WALL_MATERIALS).join(", ")}`;
      found.unshift(problem({ code: "kiln.material", where: `${field}, material`, found: layer.material, allowed }));
    }
    return found;
  });
}

function numberProblems(kiln: CheckedKiln): readonly Problem[] {
  const where = (what: string) => `${kiln.name}, ${what}`;
  const factor = (what: string) => ({ where: where(what), unit: "", ...FACTOR_BOUNDS });
  const { min, max } = VENT_LITRES_PER_SECOND;
  return problemsOf([
    [kiln.ratedKw, { where: where("rated power"), unit: "kW", min: 0, max: 2000, aboveMin: true }],
    [kiln.roomC, { where: where("room temperature"), unit: "°C", min: 0, max: 45 }],
    [kiln.ventLitresPerSecond, ventRule(kiln.name, min, max)],
    [kiln.shellEmissivity, { where: where("shell emissivity"), unit: "", min: 0, max: 1 }],
    [kiln.wallLossFactor, factor("wall loss factor")],
    [kiln.storedHeatFactor, factor("stored heat factor")],
  ]);
}

function ventRule(where: string, min: number, max: number): NumberRule {
  return { where: `${where}, vent`, unit: "litres a second", min, max };
}

/** Gives the problem of a vent flow outside its range, or nothing. */
export function ventProblem(litresPerSecond: number, where: string): Problem | undefined {
  const { min, max } = VENT_LITRES_PER_SECOND;
  return outOfRange(litresPerSecond, ventRule(where, min, max));
}
