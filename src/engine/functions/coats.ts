import { coatGrams, shrink, slipDryGramsPerLitre } from "../../ceramics/coats";
import { type FunctionDeclaration, numbers } from "./declare";

export const COAT_FUNCTIONS: readonly FunctionDeclaration[] = [
  {
    name: "COAT_GRAMS",
    family: "Coats and slip",
    summary: "Dry grams of glaze or slip used to coat an area, overspray included.",
    parameters: [
      { name: "area", what: "area to be coated", type: "number", unit: "cm²", min: 0 },
      { name: "coats", what: "number of coats", type: "number", min: 0 },
      { name: "laydown", what: "dry grams that stay on a cm² in one coat", type: "number", unit: "g/cm²", min: 0 },
      { name: "transfer", what: "share of what is sprayed that lands", type: "number", above: 0, max: 1, default: 1 },
    ],
    unit: "g",
    examples: [{ formula: "COAT_GRAMS(1000,2,0.05,0.65)", gives: 153.846153846154, within: 1e-12 }],
    source:
      "area × coats × laydown ÷ transfer; transfer efficiency as defined by SCAQMD (100 g at 65 % is 153.8 g sprayed)",
    run: numbers(coatGrams),
  },
  {
    name: "SLIP_DRY",
    family: "Coats and slip",
    summary: "Dry solids in a litre of slip or glaze, by Brongniart's formula.",
    parameters: [
      { name: "litre_weight", what: "weight of a litre", type: "number", unit: "g", min: 1000 },
      {
        name: "solids_density",
        what: "density of the dry solids relative to water",
        type: "number",
        above: 1,
        default: 2.6,
      },
    ],
    unit: "g/L",
    examples: [{ formula: "SLIP_DRY(1750,2.5)", gives: 1250 }],
    source: "Brongniart, Traité des arts céramiques (1854), p. 249; worked value from L. Altmann, potters.org 13664",
    run: numbers(slipDryGramsPerLitre),
  },
  {
    name: "SHRINK",
    family: "Coats and slip",
    summary: "Fired length of a wet length: drying shrinkage first, firing shrinkage on the dry length.",
    parameters: [
      { name: "length", what: "length when wet", type: "number", unit: "any", min: 0 },
      { name: "drying", what: "linear drying shrinkage", type: "number", min: 0, below: 1 },
      {
        name: "firing",
        what: "linear firing shrinkage, on the dry length",
        type: "number",
        min: 0,
        below: 1,
        default: 0,
      },
    ],
    unit: "as the length",
    examples: [{ formula: "SHRINK(100,0.0625,0.0666)", gives: 87.50625, within: 1e-12 }],
    source: "ASTM C326 definitions; firing shrinkage on dry length",
    run: numbers(shrink),
  },
];
