// Slip, glaze and engobe by area and coat; casting slip by weight; shrinkage from wet to fired.
import { type Problem, problem, type Result } from "../core/problem";
import { aboveZero, between, checked, fromZero, partAboveZero, partBelowOne } from "./checks";

// g/cm³: wider than any clay, frit or oxide, so that only a slip of the pen falls outside.
const lightestSolids = 1.5;
const heaviestSolids = 10;

/** Grams that stay on a piece: area in cm², number of coats, laydown of one coat in g/cm². */
export function coatGramsOnPiece(areaCm2: number, coats: number, laydownGPerCm2: number): Result<number> {
  return checked(
    coatProblems(areaCm2, coats, laydownGPerCm2),
    () => areaCm2 * coats * laydownGPerCm2,
    "grams on the piece",
  );
}

/** Grams used up to lay the coats, overspray and drips included: what stays on the piece ÷ transfer, where transfer is the fraction used that stays. */
export function coatGrams(areaCm2: number, coats: number, laydownGPerCm2: number, transfer: number): Result<number> {
  return checked(
    [...coatProblems(areaCm2, coats, laydownGPerCm2), partAboveZero("transfer", transfer)],
    () => (areaCm2 * coats * laydownGPerCm2) / transfer,
    "grams used",
  );
}

/** Laydown in g/cm² of a layer so many mm thick and of that density in g/cm³. */
export function laydownFromThickness(thicknessMm: number, densityGPerCm3: number): Result<number> {
  return checked(
    [fromZero("thickness", thicknessMm, "mm"), aboveZero("density", densityGPerCm3, "g/cm³")],
    () => (thicknessMm / 10) * densityGPerCm3,
    "laydown",
  );
}

/** Grams of dry solids in a litre of slip, from the weight of a litre in g and the solids' density in g/cm³ (Brongniart 1854). */
export function slipDryGramsPerLitre(litreWeightG: number, solidsDensityGPerCm3: number): Result<number> {
  return checked(
    slipProblems(litreWeightG, solidsDensityGPerCm3),
    () => ((litreWeightG - 1000) * solidsDensityGPerCm3) / (solidsDensityGPerCm3 - 1),
    "dry grams in a litre",
  );
}

/** Grams of water in a litre of slip: its weight less its dry solids (Brongniart 1854). */
export function slipWaterGramsPerLitre(litreWeightG: number, solidsDensityGPerCm3: number): Result<number> {
  return checked(
    slipProblems(litreWeightG, solidsDensityGPerCm3),
    () => (1000 * solidsDensityGPerCm3 - litreWeightG) / (solidsDensityGPerCm3 - 1),
    "water in a litre",
  );
}

/** Fired length from the wet length; drying shrinkage is a fraction of the wet length, firing shrinkage of the dry length. */
export function shrink(wetLength: number, drying: number, firing: number): Result<number> {
  return checked(
    [fromZero("length", wetLength), ...shrinkProblems(drying, firing)],
    () => wetLength * (1 - drying) * (1 - firing),
    "fired length",
  );
}

/** Linear shrinkage from wet to fired, a fraction of the wet length: 1 − (1 − drying)(1 − firing), less than their sum. */
export function totalShrink(drying: number, firing: number): Result<number> {
  return checked(shrinkProblems(drying, firing), () => drying + firing - drying * firing, "total shrinkage");
}

/** Linear shrinkage measured on a test bar: the fraction of its length before that is gone after. */
export function measuredShrink(lengthBefore: number, lengthAfter: number): Result<number> {
  const grown = lengthAfter > lengthBefore ? longerAfter(lengthBefore, lengthAfter) : undefined;
  return checked(
    [aboveZero("length before", lengthBefore), aboveZero("length after", lengthAfter) ?? grown],
    () => (lengthBefore - lengthAfter) / lengthBefore,
    "shrinkage",
  );
}

/** Fraction of an area that linear shrinkage takes: 1 − (1 − s)². */
export function areaShrink(linear: number): Result<number> {
  return checked([partBelowOne("shrinkage", linear)], () => linear * (2 - linear), "area shrinkage");
}

/** Fraction of a volume that linear shrinkage takes: 1 − (1 − s)³. */
export function volumeShrink(linear: number): Result<number> {
  return checked([partBelowOne("shrinkage", linear)], () => 1 - (1 - linear) ** 3, "volume shrinkage");
}

/** How many times larger than the fired piece the mould must be: 1 ÷ (1 − s). */
export function mouldScale(linear: number): Result<number> {
  return checked([partBelowOne("shrinkage", linear)], () => 1 / (1 - linear), "mould scale");
}

function coatProblems(areaCm2: number, coats: number, laydownGPerCm2: number): readonly (Problem | undefined)[] {
  return [
    fromZero("area", areaCm2, "cm²"),
    fromZero("coats", coats),
    fromZero("laydown", laydownGPerCm2, "g/cm² for one coat"),
  ];
}

function slipProblems(litreWeightG: number, solidsDensityGPerCm3: number): readonly (Problem | undefined)[] {
  const density = between("solids density", solidsDensityGPerCm3, lightestSolids, heaviestSolids, "g/cm³");
  const most = density ? 1000 * heaviestSolids : 1000 * solidsDensityGPerCm3;
  const fix = "A litre weighs 1000 g as water and 1000 × the density as solid.";
  return [density, between("litre weight", litreWeightG, 1000, most, "g", fix)];
}

function shrinkProblems(drying: number, firing: number): readonly (Problem | undefined)[] {
  return [partBelowOne("drying shrinkage", drying), partBelowOne("firing shrinkage", firing)];
}

function longerAfter(lengthBefore: number, lengthAfter: number): Problem {
  return problem({
    code: "number.range",
    where: "length after",
    found: lengthAfter,
    allowed: `at most the length before, ${lengthBefore}`,
    fix: "Are the two lengths the wrong way round?",
  });
}
