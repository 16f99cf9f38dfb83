// Which states of a browser's registration are a newer version that waits. Engines show the first worker of all differently.
import { expect, it } from "vitest";
import { isUpdate } from "../../src/ui/shell/update";

const worker = (state: ServiceWorkerState) => ({ state }) as ServiceWorker;
const first = worker("installed");

it.each([
  ["the first worker is being installed", { active: null, waiting: null }, false],
  ["the first worker is installed and not yet in use", { active: null, waiting: first }, false],
  ["the first worker is shown as waiting and in use at once", { active: first, waiting: first }, false],
  ["the first worker is in use", { active: worker("activated"), waiting: null }, false],
  ["a second one waits", { active: worker("activated"), waiting: worker("installed") }, true],
  ["a second one waits while the first is coming into use", { active: worker("activating"), waiting: first }, true],
  ["a second one is coming into use", { active: worker("activated"), waiting: worker("activating") }, false],
] as const)("%s", (_what, registration, expected) => {
  expect(isUpdate(registration)).toBe(expected);
});
