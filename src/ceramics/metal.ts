// Precious-metal lustre: how much preparation is drawn, and how much metal ends up on the piece.
import { fail, ok, type Problem, problem, type Result } from "../core/problem";
import { aboveZero, checked, fromZero, part, partBelowOne } from "./checks";

/** The metals of lustres whose densities are known here. */
export type LustreMetal = "gold" | "silver" | "platinum" | "palladium";

/** Densities in g/cm³ (Perth Mint). */
export const metalDensityGPerCm3: Readonly<Record<LustreMetal, number>> = {
  gold: 19.32,
  silver: 10.5,
  platinum: 21.45,
  palladium: 12.02,
};

const nmPerCm = 1e7;
const pureCarat = 24;

/** Grams of preparation drawn from the vial: area in cm² × coats × laydown of one coat in g/cm² ÷ (1 − waste), where waste is the fraction drawn that never reaches the piece. */
export function lustreGrams(
  areaCm2: number,
  coats: number,
  laydownGPerCm2: number,
  wasteFraction: number,
): Result<number> {
  return checked(
    [
      fromZero("area", areaCm2, "cm²"),
      fromZero("coats", coats),
      fromZero("laydown", laydownGPerCm2, "g/cm² for one coat"),
      partBelowOne("waste", wasteFraction),
    ],
    () => (areaCm2 * coats * laydownGPerCm2) / (1 - wasteFraction),
    "grams of preparation",
  );
}

/** Grams of metal in a fired film: area in cm², thickness in nm, and the metal by name or by its density in g/cm³. */
export function filmGrams(areaCm2: number, filmNm: number, metal: string | number): Result<number> {
  const density = metalDensity(metal);
  const given = [fromZero("area", areaCm2, "cm²"), fromZero("film", filmNm, "nm")];
  if (!density.ok) return checked([...given, ...density.problems], () => Number.NaN, "grams of metal");
  return checked(given, () => areaCm2 * (filmNm / nmPerCm) * density.value, "grams of metal");
}

/** Grams of fine metal in a preparation: grams × the alloy's fraction by weight × carat ÷ 24. */
export function fineMetal(grams: number, fraction: number, carat: number): Result<number> {
  return checked(
    [fromZero("grams", grams, "g"), part("metal fraction", fraction), caratProblem(carat)],
    () => (grams * fraction * carat) / pureCarat,
    "grams of fine metal",
  );
}

function metalDensity(metal: string | number): Result<number> {
  if (typeof metal === "number") {
    const bad = aboveZero("metal", metal, "g/cm³ (its density), or a metal's name");
    return bad ? fail(bad) : ok(metal);
  }
  const name = metal.trim().toLowerCase();
  const known = Object.entries(metalDensityGPerCm3).find(([one]) => one === name);
  if (known) return ok(known[1]);
  return fail(
    problem({
      code: "metal.unknown",
      where: "metal",
      found: metal,
      allowed: `${Object.keys(metalDensityGPerCm3).join(", ")}, or a density in g/cm³`,
    }),
  );
}

function caratProblem(carat: number): Problem | undefined {
  if (carat > 0 && carat <= pureCarat) return undefined;
  return problem({
    code: Number.isFinite(carat) ? "number.range" : "number.missing",
    where: "carat",
    found: carat,
    allowed: "a number above 0 and up to 24",
    fix: "24 carat is pure, 22 carat is 22 parts in 24.",
  });
}
