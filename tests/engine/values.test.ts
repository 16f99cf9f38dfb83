import { describe, expect, test } from "vitest";
import { applyChange } from "../../src/core/document/change";
import { removeRows } from "../../src/core/document/edits";
import type { Result } from "../../src/core/problem";
import { addPieces } from "../../src/core/record/piece-edits";
import { removeStep } from "../../src/core/steps/step-edits";
import { cellListOf, Others } from "../../src/engine/cell-lists";
import { connectEngine, type Reply, type Request, type WorkerPort } from "../../src/engine/client";
import { Engine } from "../../src/engine/engine";
import { ValueStore } from "../../src/engine/value-store";
import { isCellError, type Patch, type Value } from "../../src/engine/values";
import { smallEdition, typed } from "../tools/small-edition";

function must<T>(result: Result<T>): T {
  if (!result.ok) throw new Error(result.problems[0]?.message);
  return result.value;
}

/** Values of the first column of pieces. */
function patchOf(rows: readonly number[], values: readonly Value[]): Patch {
  const others = new Others();
  const list = cellListOf(rows, (at) => values[at] ?? null, others);
  return { columns: [{ sheet: "pieces", column: 0, values: list }], others: others.list };
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
    const first = smallEdition().sheets.pieces.columns[0]?.key ?? "";
    const shown = () => ["p1", "p2", "p3"].map((row) => store.get("pieces", row, first));
    store.accept(patchOf([0, 2], ["a", 7]));
    expect(shown()).toEqual(["a", undefined, 7]);
    store.accept(patchOf([2, 1], [null, "a"]));
    expect(shown()).toEqual(["a", "a", null]);
    store.accept(patchOf([0], [0.5]));
    expect(shown()).toEqual([0.5, "a", null]);
  });

  test("a pending value lies over what is held, until it is lifted", () => {
    const store = new ValueStore(smallEdition());
    const first = smallEdition().sheets.pieces.columns[0]?.key ?? "";
    const shown = () => ["p1", "p2", "p3"].map((row) => store.get("pieces", row, first));
    expect(store.accept(patchOf([0, 1, 2], [1, "a", 3]))).toBe(true);
    store.showPending(patchOf([0, 1], [10, "b"]));
    expect(shown()).toEqual([10, "b", 3]);
    // A snapshot holds what the engine has said, never what is pending.
    expect([...(store.snapshot(smallEdition()).columns[0]?.values.numbers ?? [])]).toEqual([1, Number.NaN, 3]);
    expect(store.accept(patchOf([0, 1], [10, "b"]))).toBe(false);
    expect(store.dropPending()).toBeUndefined();
    expect(shown()).toEqual([10, "b", 3]);
  });

  test("says when the engine differs from pending values, or says more", () => {
    const store = new ValueStore(smallEdition());
    const first = smallEdition().sheets.pieces.columns[0]?.key ?? "";
    store.accept(patchOf([0, 1, 2], [1, 2, 3]));
    store.showPending(patchOf([0, 1], [10, 20]));
    expect(store.accept(patchOf([0, 1], [10, 21]))).toBe(false);
    expect(store.get("pieces", "p2", first)).toBe(20);
    expect(store.dropPending()).toBeDefined();
    expect(store.get("pieces", "p2", first)).toBe(21);
    store.showPending(patchOf([0], [11]));
    expect(store.accept(patchOf([0, 2], [11, 4]))).toBe(true);
    expect(store.dropPending()).toMatchObject({ cell: { row: "p3" }, pending: undefined, engine: 4 });
    // What it says again is no news.
    store.showPending(patchOf([0], [12]));
    expect(store.accept(patchOf([0, 2], [12, 4]))).toBe(false);
  });

  test("a pending value that becomes another kind of value is told apart", () => {
    const store = new ValueStore(smallEdition());
    store.accept(patchOf([0], [1]));
    store.showPending(patchOf([0], ["1"]));
    store.accept(patchOf([0], [1]));
    expect(store.dropPending()).toBeDefined();
    store.showPending(patchOf([0], [-0]));
    store.accept(patchOf([0], [0]));
    expect(store.dropPending()).toBeDefined();
  });

  test("makes room for rows that come after it was made", () => {
    const store = new ValueStore(smallEdition());
    const change = must(addPieces(smallEdition(), 60));
    store.follow(change);
    store.accept(patchOf([0, 40], [1, 2]));
    store.accept(patchOf([62], ["last"]));
    const first = smallEdition().sheets.pieces.columns[0]?.key ?? "";
    expect(["p1", "p41", "p63"].map((row) => store.get("pieces", row, first))).toEqual([1, 2, "last"]);
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

  test("isCellError tells errors from every other value", () => {
    expect([1, "x", true, null, undefined, ""].some(isCellError)).toBe(false);
    expect(isCellError({ title: "no number", message: "" })).toBe(true);
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
    expect(asked.map(({ kind }) => kind)).toEqual(["open", "apply"]);
    answer({ kind: "answer", id: asked[0]?.id ?? 0, answer: [] });
    answer({ kind: "failure", id: asked[1]?.id ?? 0, failure: "broken" });
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
    expect(() => answer({ kind: "answer", id: 77, answer: [] })).not.toThrow();
  });
});
