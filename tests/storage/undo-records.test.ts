// How much of what was done is kept: the steps nearest to now, by number and by size.
import { describe, expect, it } from "vitest";
import type { Change } from "../../src/core/document/change";
import { undoWrite } from "../../src/storage/undo-records";

const at = (minute: number) => new Date(Date.UTC(2026, 10, 25, 8, minute)).toISOString();
const step = (minute: number, size = 10): Change => ({ label: "x".repeat(size), operations: [], at: at(minute) });
const steps = (count: number, size?: number) => Array.from({ length: count }, (_, minute) => step(minute, size));

describe("what is kept of the undo stack", () => {
  it("is all of it where there is room, and says nothing of a limit", () => {
    const { index, put } = undoWrite("a", { done: steps(3), undone: steps(2) }, undefined, 0);
    expect([index.done.length, index.undone.length, put.length, "cut" in index]).toEqual([3, 2, 5, false]);
  });

  it("is the newest where there are too many steps, and says up to when the rest was done", () => {
    const { index } = undoWrite("a", { done: steps(700), undone: [] }, undefined, 0);
    expect([index.done.length, index.cut]).toEqual([500, at(199)]);
  });

  it("is the newest where they are too large: what stands before a step that does not fit goes with it", () => {
    const done = [step(0), step(1, 3_000_000), ...steps(2)];
    expect(undoWrite("a", { done, undone: [] }, undefined, 0).index).toMatchObject({ cut: at(1) });
    const pastes = undoWrite("a", { done: steps(30, 100_000), undone: [] }, undefined, 0);
    expect([pastes.index.done.length, pastes.index.cut]).toEqual([19, at(10)]);
  });

  it("keeps what can be redone first, since the way back leads over it", () => {
    const undone = steps(400);
    const { index } = undoWrite("a", { done: steps(300), undone }, undefined, 0);
    expect([index.undone.length, index.done.length]).toEqual([400, 100]);
  });

  it("knows of a step that another revision holds nothing", () => {
    const done = steps(4);
    const first = undoWrite("a", { done, undone: [] }, undefined, 0);
    const next = undoWrite("a", { done: done.slice(1), undone: [] }, first.known, 1);
    expect([next.isAnew, next.put.length, next.gone.length]).toEqual([false, 0, 1]);
    for (const [id, revision] of [["a", 2] as const, ["b", 1] as const]) {
      const other = undoWrite(id, { done, undone: [] }, first.known, revision);
      expect([other.isAnew, other.put.length]).toEqual([true, 4]);
    }
  });
});
