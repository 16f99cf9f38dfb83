// Look-ups of a single key need no table of the others, and find the same.
import { expect, test } from "vitest";
import { functionNamed } from "../../../src/engine/functions/index";
import { lookUp, Tables } from "../../../src/whatif/compile/declared";
import { type Scalar, scalarError } from "../../../src/whatif/compile/scalar";
import { randomFrom } from "../../tools/faults/page.mjs";

test("a total of one key is what a table of all keys gives", () => {
  const declaration = functionNamed("TOTAL_BY");
  if (!declaration) throw new Error("no TOTAL_BY");
  const random = randomFrom(7);
  const oneOf = (list: readonly Scalar[]) => list[Math.floor(random() * list.length)] ?? null;
  const names: readonly Scalar[] = ["G1", "g1", "G2", "", 1, true, null];
  for (let round = 0; round < 400; round += 1) {
    const listOf = (from: readonly Scalar[]) => Array.from({ length: 12 }, () => oneOf(from));
    const isFaulty = round % 4 === 0;
    const keys = listOf(isFaulty ? [...names, ...names, scalarError("NA", "no key")] : names);
    const values = listOf([1, 2.5, -3, "text", null, ...(isFaulty ? [scalarError("NUM", "no sum")] : [])]);
    const key = oneOf(names);
    const found = (["one key", "several keys"] as const).map((asked) =>
      lookUp(declaration, [key, keys, values], new Tables(asked)),
    );
    expect(found[0]).toEqual(found[1]);
  }
});
