import { test } from "vitest";
import { demoEdition } from "../../src/app/demo/demo";
import { againstPlan } from "../../src/app/settle/against-plan";
import { settle } from "../../src/app/settle/settle";
import { planOnSheets } from "../../src/core/record/kept-plan";
import { must } from "../accounts/results";
import { evaluate } from "../tools/evaluate";

test("demo", () => {
  const book = demoEdition();
  const read = evaluate(book) as never;
  const plan = planOnSheets(book, read, "2026-09-07", "run began");
  if (!plan) throw new Error("none");
  console.log(JSON.stringify(plan).length);
  const settled = must(settle(book, read, { date: "2026-11-25", reference: "M" }));
  for (const end of ["so far", "once sold"] as const) {
    const found = must(againstPlan(book, read, settled, plan, end));
    console.log(end, found.plannedMinor, found.realMinor);
    for (const { cause, minor, parts } of found.causes) {
      console.log(cause, minor);
      for (const p of parts) if (p.minor) console.log("   ", p.of, p.planned?.toFixed(3), p.real?.toFixed(3), p.minor);
    }
  }
});
