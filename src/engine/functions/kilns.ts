import { coneTemperature } from "../../ceramics/cones";
import { ok } from "../../core/problem";
import { type FunctionDeclaration, numbers } from "./declare";

export const KILN_FUNCTIONS: readonly FunctionDeclaration[] = [
  {
    name: "CONE_TEMP",
    family: "Cones and kilns",
    summary: "Temperature at which a self-supporting cone bends, for a heating rate over the last 100 °C.",
    parameters: [
      { name: "cone", what: `cone number as text: "06" and "6" are different cones`, type: "any" },
      { name: "rate", what: "heating rate over the last 100 °C", type: "number", unit: "°C/h", above: 0, default: 60 },
    ],
    unit: "°C",
    examples: [
      { formula: `CONE_TEMP("6",60)`, gives: 1222 },
      { formula: `CONE_TEMP("06",150)`, gives: 1013 },
    ],
    source: "Orton, Temperature Equivalents for Pyrometric Cones, 2016: tests/fixtures/reference/cones.csv",
    run: (cone, rate) => coneTemperature(String(cone ?? ""), Number(rate)),
  },
  {
    name: "DUTY_KWH",
    family: "Cones and kilns",
    summary: "Energy of a firing from the plate on the kiln, the hours and the share of them the elements are on.",
    parameters: [
      { name: "kw", what: "rated power", type: "number", unit: "kW", above: 0, max: 1000 },
      { name: "hours", what: "hours from switching on to peak", type: "number", unit: "h", min: 0 },
      { name: "duty", what: "share of those hours the elements are on", type: "number", min: 0, max: 1, default: 0.5 },
    ],
    unit: "kWh",
    examples: [{ formula: "DUTY_KWH(5.5,8,0.6)", gives: 26.4, within: 1e-12 }],
    source: "rated kW × hours × duty; 26.4 kWh from the Potterycrafts guideline quoted at countryloveceramics.com",
    run: numbers((kw, hours, duty) => ok(kw * hours * duty)),
  },
];
