import { filmGrams, fineMetal, lustreGrams } from "../../ceramics/metal";
import { type FunctionDeclaration, numbers } from "./declare";

export const METAL_FUNCTIONS: readonly FunctionDeclaration[] = [
  {
    name: "LUSTRE_GRAMS",
    family: "Metal",
    summary: "Grams of lustre preparation drawn from the bottle to coat an area.",
    parameters: [
      { name: "area", what: "area to be coated", type: "number", unit: "cm²", min: 0 },
      { name: "coats", what: "number of coats", type: "number", min: 0 },
      {
        name: "laydown",
        what: "grams of preparation that stay on a cm² in one coat",
        type: "number",
        unit: "g/cm²",
        min: 0,
      },
      { name: "waste", what: "share left in brush, dish and bottle", type: "number", min: 0, below: 1, default: 0 },
    ],
    unit: "g",
    examples: [{ formula: "LUSTRE_GRAMS(100,2,0.00242,0.2)", gives: 0.605, within: 1e-12 }],
    source: "area × coats × laydown ÷ (1 − waste); common practice, no source",
    run: numbers(lustreGrams),
  },
  {
    name: "FILM_GRAMS",
    family: "Metal",
    summary: "Grams of pure metal in a film of a given thickness.",
    parameters: [
      { name: "area", what: "area of the film", type: "number", unit: "cm²", min: 0 },
      { name: "film_nm", what: "thickness", type: "number", unit: "nm", min: 0 },
      { name: "metal", what: "gold, silver, platinum, palladium, or a density in g/cm³", type: "any" },
    ],
    unit: "g",
    examples: [{ formula: `FILM_GRAMS(1,125,"gold")`, gives: 0.0002415, within: 1e-12 }],
    source: "area × thickness × density; bright gold about 125 nm: A. Papazian, Gold Bulletin, doi 10.1007/BF03214611",
    run: (area, film, metal) =>
      filmGrams(Number(area), Number(film), typeof metal === "number" ? metal : String(metal ?? "")),
  },
  {
    name: "FINE_METAL",
    family: "Metal",
    summary: "Grams of fine metal in a preparation.",
    parameters: [
      { name: "grams", what: "grams of preparation", type: "number", unit: "g", min: 0 },
      { name: "fraction", what: "share of metal in it, by weight", type: "number", min: 0, max: 1 },
      { name: "carat", what: "carat of that metal; 24 is pure", type: "number", min: 0, max: 24, default: 24 },
    ],
    unit: "g",
    examples: [{ formula: "FINE_METAL(100,0.1,22)", gives: 9.16666666666667, within: 1e-12 }],
    source: "grams × fraction × carat ÷ 24 (ISO 9202 fineness); 10 % of 22 carat is 9.17 %: common practice",
    run: numbers(fineMetal),
  },
];
