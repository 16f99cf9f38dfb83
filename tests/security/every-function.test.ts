// No function of the sheet can hang the calculation, break it off, or give a number that is none.
// `SWEEP=thorough` tries a million calls instead of thirty thousand.
import { expect, it } from "vitest";
import { sweep } from "../tools/sweep/sweep";

const isThorough = process.env.SWEEP === "thorough";

it("every function ends, and gives a value or an error, whatever it is given", async () => {
  const report = await sweep(isThorough, 5000);
  if (isThorough) console.info(`${report.calls} calls of ${report.functions} functions`, report.slow);
  expect(report.functions).toBeGreaterThan(400);
  expect(report.endless).toEqual([]);
  expect(report.wrong).toEqual([]);
}, 3_600_000);
