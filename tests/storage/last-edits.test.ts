import { describe, expect, it } from "vitest";
import { createLastEdits, editsSince, type HeldEdit } from "../../src/storage/last-edits";

function fakeStorage(most = Number.POSITIVE_INFINITY): Storage {
  const held = new Map<string, string>();
  return {
    getItem: (name: string) => held.get(name) ?? null,
    setItem: (name: string, text: string) => {
      if (text.length > most) throw new DOMException("no room", "QuotaExceededError");
      held.set(name, text);
    },
    removeItem: (name: string) => held.delete(name),
  } as unknown as Storage;
}

const stamp = (sessionId: string, edits: number) => ({ sitting: sessionId, edits });
const edit = (
  sessionId: string,
  edits: number,
  after = edits === 1 ? undefined : stamp(sessionId, edits - 1),
): HeldEdit => ({
  stamp: stamp(sessionId, edits),
  after,
  change: {
    label: `edit ${edits}`,
    operations: [{ kind: "cell", sheet: "pieces", row: "p1", column: "note", was: undefined, is: `n${edits}` }],
  },
});

describe("the last edits", () => {
  it("are read back as they were held, and gone once dropped", () => {
    const storage = fakeStorage();
    const last = createLastEdits(() => storage);
    expect(last.read("a")).toEqual([]);
    expect(last.hold("a", [edit("s", 1), edit("s", 2)])).toBe(true);
    expect(last.read("b")).toEqual([]);
    // Written as JSON: what was blank before has no `was`.
    expect(last.read("a")).toEqual(JSON.parse(JSON.stringify([edit("s", 1), edit("s", 2)])));
    last.drop("a");
    expect(last.read("a")).toEqual([]);
  });

  it("have no place where the browser gives none, and say so without a throw", () => {
    for (const storage of [
      () => undefined,
      () => {
        throw new DOMException("denied", "SecurityError");
      },
      () => fakeStorage(10),
    ]) {
      const last = createLastEdits(storage);
      expect(last.hold("a", [edit("s", 1)])).toBe(false);
      expect(last.read("a")).toEqual([]);
      last.drop("a");
    }
  });

  it("that would fill the place are left to the database", () => {
    const storage = fakeStorage();
    const huge = { ...edit("s", 1), change: { label: "x".repeat(2_000_001), operations: [] } };
    expect(createLastEdits(() => storage).hold("a", [huge])).toBe(false);
  });

  it("that make no sense are taken for none", () => {
    const storage = fakeStorage();
    const last = createLastEdits(() => storage);
    for (const text of [
      "",
      "{",
      "7",
      '[{"stamp":1}]',
      '[{"stamp":{"sitting":"s","edits":1},"change":{}}]',
      '{"__proto__":[]}',
    ]) {
      storage.setItem("saggar last edits a", text);
      expect(last.read("a")).toEqual([]);
    }
  });
});

describe("edits since what is stored", () => {
  const held = [edit("s", 1), edit("s", 2), edit("s", 3)];

  it("are those after its stamp, in order", () => {
    expect(editsSince(held, undefined)).toEqual(held);
    expect(editsSince(held, stamp("s", 1))).toEqual(held.slice(1));
    expect(editsSince(held, stamp("s", 3))).toEqual([]);
  });

  it("are none where the edition went on from elsewhere", () => {
    expect(editsSince(held, stamp("t", 1))).toEqual([]);
    expect(editsSince([edit("s", 5, stamp("t", 9))], stamp("t", 9))).toHaveLength(1);
  });

  it("end where one is missing", () => {
    expect(editsSince([edit("s", 1), edit("s", 3)], undefined)).toHaveLength(1);
  });
});
