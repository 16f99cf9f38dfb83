// Yields against published figures.
import { expect, test } from "vitest";
import { rolledYield } from "../../src/accounts/yields";
import { roundMoney } from "../../src/core/money";
import { must } from "../accounts/results";

test("rolled throughput yield of .95, .84 and .88 is .70224, published as .70 (published example; exact product)", () => {
  const rolled = must(rolledYield([0.95, 0.84, 0.88]));
  expect(roundMoney(rolled, 9)).toBe(0.70224);
  expect(roundMoney(rolled, 2)).toBe(0.7);
});
