import { describe, expect, test } from "vitest";
import { applyChange } from "../../src/core/change";
import { removeRows } from "../../src/core/edits";
import { addPieces } from "../../src/core/piece-edits";
import type { Result } from "../../src/core/problem";
import { removeStep } from "../../src/core/step-edits";
import { connectEngine, type Reply, type Request, type WorkerPort } from "../../src/engine/client";
import { Engine } from "../../src/engine/engine";
import { isTrouble, ValueStore } from "../../src/engine/values";
import { smallEdition, typed } from "../tools/small-edition";

function must<T>(result: Result<T>): T {
  if (!result.ok) throw new Error(result.problems[0]?.message);
  return result.value;
}

describe("ValueStore", () => {
  test("knows nothing until it is told", () => {
    const store = new ValueStore(smallEdition());
    expect(store.get("pieces", "p1", "own")).toBeUndefined();
    expect(store.get("pieces", "p99", "own")).toBeUndefined();
    expect(store.get("pieces", "p1", "nope")).toBeUndefined();
  });

  test("takes over what moved and keeps the rest", () => {
    const store = new ValueStore(smallEdition());
    store.accept([{ sheet: "pieces", column: 0, places: Int32Array.of(0, 2), values: ["a", 7] }]);
    store.accept([{ sheet: "pieces", column: 0, places: Int32Array.of(2), values: [null] }]);
    const first = smallEdition().sheets.pieces.columns[0]?.key ?? "";
    expect(["p1", "p2", "p3"].map((row) => store.get("pieces", row, first))).toEqual(["a", undefined, null]);
  });

  test("a snapshot fits the book as it is opened afresh, whatever came and went before", () => {
    let book = smallEdition();
    const engine = new Engine(book);
    const store = new ValueStore(book);
    store.accept(engine.values());
    for (const make of [
      () => typed(book, [["pieces", "p4", "cast.slip", "900"]]),
      () => must(removeRows(book, "pieces", ["p1", "p2"], "")),
      () => must(removeStep(book, "glaze")),
      () => must(addPieces(book, 1)),
    ]) {
      const change = make();
      store.follow(change);
      book = applyChange(book, change);
      store.accept(engine.apply(change));
    }
    const afresh = new ValueStore(book);
    afresh.accept(store.snapshot(book));
    const rebuilt = new Engine(book);
    const values = new ValueStore(book);
    values.accept(rebuilt.values());
    for (const { id } of book.sheets.pieces.rows)
      for (const key of ["own", "outcome", "cast.cost", "full"])
        expect(afresh.get("pieces", id, key)).toEqual(values.get("pieces", id, key));
    for (const { id } of book.sheets.results.rows)
      expect(afresh.get("results", id, "value")).toEqual(values.get("results", id, "value"));
    engine.close();
    rebuilt.close();
  });

  test("isTrouble tells errors from every other value", () => {
    expect([1, "x", true, null, undefined, ""].some(isTrouble)).toBe(false);
    expect(isTrouble({ trouble: "no number", message: "" })).toBe(true);
  });
});

/** A worker that answers when it is told to. */
function fakeWorker() {
  const asked: Request[] = [];
  const port: WorkerPort = {
    postMessage: (request) => void asked.push(request),
    onmessage: null,
    onerror: null,
    terminate: () => void asked.splice(0),
  };
  const answer = (data: Reply) => port.onmessage?.({ data } as MessageEvent<Reply>);
  return { port, asked, answer };
}

describe("the page's end of the engine", () => {
  test("settles each request with its own answer", async () => {
    const { port, asked, answer } = fakeWorker();
    const client = connectEngine(() => port);
    const open = client.open(smallEdition());
    const apply = client.apply({ label: "", operations: [] });
    expect(asked.map(({ ask }) => ask)).toEqual(["open", "apply"]);
    answer({ id: asked[0]?.id ?? 0, answer: [] });
    answer({ id: asked[1]?.id ?? 0, failure: "broken" });
    await expect(open).resolves.toEqual([]);
    await expect(apply).rejects.toThrow("broken");
  });

  test("fails every open request when the worker fails or is closed", async () => {
    const { port } = fakeWorker();
    const client = connectEngine(() => port);
    const first = client.open(smallEdition());
    port.onerror?.({ message: "" } as ErrorEvent);
    await expect(first).rejects.toThrow("the engine did not start");
    const second = client.apply({ label: "", operations: [] });
    client.close();
    await expect(second).rejects.toThrow("the engine was closed");
  });

  test("an answer nobody waits for is passed over", () => {
    const { port, answer } = fakeWorker();
    connectEngine(() => port);
    expect(() => answer({ id: 77, answer: [] })).not.toThrow();
  });
});
