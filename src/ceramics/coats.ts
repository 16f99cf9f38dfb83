// Slip, glaze and engobe by area and coat; casting slip by weight; shrinkage from wet to fired.
import type { Problem, Result } from "../core/problem";
import { between, checked, fromZero, partAboveZero, partBelowOne } from "./checks";

// g/cm³: wider than any clay, frit or oxide, so that only a slip of the pen falls outside.
const lightestSolids = 1.5;
const heaviestSolids = 10;

/** Grams used up to lay the coats, overspray and drips included: what stays on the piece ÷ transfer, where transfer is the fraction used that stays. */
export function coatGrams(areaCm2: number, coats: number, laydownGPerCm2: number, transfer: number): Result<number> {
  return checked(
    [...coatProblems(areaCm2, coats, laydownGPerCm2), partAboveZero("transfer", transfer)],
    () => (areaCm2 * coats * laydownGPerCm2) / transfer,
    "grams used",
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

/** Fired length from the wet length; drying shrinkage is a fraction of the wet length, firing shrinkage of the dry length. */
export function shrink(wetLength: number, drying: number, firing: number): Result<number> {
  return checked(
    [fromZero("length", wetLength), ...shrinkProblems(drying, firing)],
    () => wetLength * (1 - drying) * (1 - firing),
    "fired length",
  );
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
