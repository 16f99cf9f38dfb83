// The plain way to calculate a firing: rated power, hours, and the share of the time the elements are on.
import { fail, ok, type Result } from "../../core/problem";
import { problemsOf } from "./check";

/** Gives rated power (kW) × hours × duty (0–1) in kWh. */
export function dutyKwh(ratedKw: number, hours: number, duty: number): Result<number> {
  const problems = problemsOf([
    [ratedKw, { where: "rated power", unit: "kW", min: 0, max: 2000, aboveMin: true }],
    [hours, { where: "hours", unit: "hours", min: 0, max: 1000 }],
    [duty, { where: "duty", unit: "", min: 0, max: 1, fix: "Give it as a part of one: half the time is 0.5." }],
  ]);
  return problems.length > 0 ? fail(...problems) : ok(ratedKw * hours * duty);
}
