import { afterEach, it } from "vitest";
import { page, userEvent } from "vitest/browser";
import { cellOf, nextFrame, sampleModel, largeModel, startTrial, type Trial } from "./grid-sample";

let trial: Trial | undefined;
afterEach(() => { trial?.close(); trial = undefined; });
it("looks", async () => {
  trial = startTrial(largeModel(500,40));
  trial.grid.select({ row: "r10", column: "c5" });
  for (const k of ["{Control>}{Home}{/Control}","{PageDown}","{PageDown}","{PageUp}","{PageUp}","{PageUp}"]) { await userEvent.keyboard(k); console.log(k, JSON.stringify(trial.selected.at(-1)?.anchor)); await nextFrame(); await nextFrame(); }
  trial.close();
  console.log(trial.host.outerHTML);
  trial.host.removeAttribute("style");
  console.log(trial.host.outerHTML);
  trial = undefined;
});
