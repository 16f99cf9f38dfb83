// Look-ups into whole columns, and a firing's share: answered from tables hashed once per change (see ../hyperformula/hashed-tables.ts).
import { ok } from "../../core/problem";
import type { FunctionDeclaration } from "./declare";

const key = { name: "key", what: "what to look for", type: "any" } as const;
const keys = { name: "keys", what: "the column of names", type: "range" } as const;
const values = { name: "values", what: "the column of values beside it", type: "range" } as const;

export const TABLE_FUNCTIONS: readonly FunctionDeclaration[] = [
  {
    name: "PICK",
    family: "Tables",
    summary: "The value that stands beside a name.",
    parameters: [key, keys, values],
    unit: "as the values",
    examples: [{ formula: `PICK("glaze",{"slip";"glaze"},{3;8})`, gives: 8 }],
    source: "own definition",
  },
  {
    name: "TOTAL_BY",
    family: "Tables",
    summary: "The sum of the values that stand beside a name, wherever it occurs.",
    parameters: [key, keys, values],
    unit: "as the values",
    examples: [{ formula: `TOTAL_BY("G1",{"G1";"G2";"G1"},{2;5;3})`, gives: 5 }],
    source: "own definition",
  },
  {
    name: "COUNT_BY",
    family: "Tables",
    summary: "How often a name occurs.",
    parameters: [key, keys],
    unit: "",
    examples: [{ formula: `COUNT_BY("G1",{"G1";"G2";"G1"})`, gives: 2 }],
    source: "own definition",
  },
  {
    name: "REPEATED",
    family: "Tables",
    summary: "The first name that stands twice in a list of names.",
    parameters: [{ name: "names", what: "the names, with a bar between them: G1|G2|G1", type: "text" }],
    unit: "",
    examples: [
      { formula: `REPEATED("G1|G2|G1")`, gives: "G1" },
      { formula: `REPEATED("G1||G2|")`, gives: "" },
    ],
    source: "own definition",
    run: (names) => {
      const filled = String(names)
        .split("|")
        .filter((name) => name !== "");
      return ok(filled.find((name, at) => filled.indexOf(name) < at) ?? "");
    },
  },
  {
    name: "SIZES_BY",
    family: "Tables",
    summary: "The sizes of the pieces that stand beside a name, the tallest first: foot, height and how many.",
    parameters: [
      key,
      keys,
      { name: "feet", what: "the column of shelf areas beside it", type: "range", unit: "cm²" },
      { name: "heights", what: "the column of heights beside it", type: "range", unit: "cm" },
    ],
    unit: "",
    examples: [{ formula: `SIZES_BY("G1",{"G1";"G2";"G1"},{180;90;180},{36;12;36})`, gives: "180 36 2" }],
    source: "own definition",
  },
  {
    name: "FIRING_SHARE",
    family: "Cones and kilns",
    summary: "What one piece bears of a firing: the firing's cost × its weight ÷ the weight of all pieces in the load.",
    parameters: [
      { name: "firing", what: "the firing's name on the Firings sheet", type: "any" },
      { name: "weight", what: "1, kilograms or cm², as the firing is shared", type: "number", unit: "any", min: 0 },
    ],
    unit: "¤",
    examples: [],
    source: "design rule 2: cost shared over the pieces really in the load; one piece alone bears it all",
    reads: [
      { kind: "column", sheet: "firings", column: "id" },
      { kind: "column", sheet: "firings", column: "cost" },
      { kind: "column", sheet: "firings", column: "weight" },
    ],
  },
];
