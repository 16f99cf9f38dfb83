import { describe, expect, it } from "vitest";
import { canRetry, problemOfError, storageProblem } from "../../src/storage/storage-problems";

describe("storage problems", () => {
  // Names from the IndexedDB and Web IDL standards; NS_ERROR_DOM_QUOTA_REACHED is Firefox's older one, from memory.
  for (const [name, code] of [
    ["QuotaExceededError", "store.full"],
    ["NS_ERROR_DOM_QUOTA_REACHED", "store.full"],
    ["InvalidStateError", "store.unavailable"],
    ["SecurityError", "store.denied"],
    ["VersionError", "store.newer"],
    ["AbortError", "store.failed"],
    ["DataCloneError", "store.failed"],
  ])
    it(`reads ${name} as ${code}`, () => {
      expect(problemOfError(new DOMException("…", name)).code).toBe(code);
    });

  it("takes anything for an error", () => {
    for (const thrown of [undefined, null, "text", 7, {}, { name: "" }, new Error("x"), new TypeError("y")])
      expect(problemOfError(thrown).code).toBe("store.failed");
  });

  it("says what is wrong and what to do in one plain message", () => {
    expect(storageProblem("full").message).toBe(
      "Storage of this browser: there is no room left. Save the edition as a file so that nothing is lost. Then free some space on this device, or remove editions that are no longer needed.",
    );
    expect(storageProblem("changed", "Marram").message).toBe(
      "Storage of this browser: the edition was changed in another tab (Marram). Save the edition as a file so that nothing is lost. Then load the other copy, or keep this one on purpose.",
    );
  });

  it("knows what waiting can't mend", () => {
    const final = ["changed", "closed", "corrupt", "newer", "removed", "taken"] as const;
    const passing = ["absent", "blocked", "denied", "failed", "full", "none", "silent", "unavailable"] as const;
    expect(final.map((failure) => canRetry(storageProblem(failure)))).toEqual(final.map(() => false));
    expect(passing.map((failure) => canRetry(storageProblem(failure)))).toEqual(passing.map(() => true));
  });
});
