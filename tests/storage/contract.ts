// What every home of editions promises. Run against memory, a stand-in database in Node and the real one in a browser.
import { describe, expect, it } from "vitest";
import { checksumOf } from "../../src/core/checksum";
import type { Change } from "../../src/core/document/change";
import { EMPTY_HISTORY } from "../../src/core/document/history";
import { FORMAT_VERSION } from "../../src/core/document/workbook";
import { writeDocument } from "../../src/core/document/write-document";
import type { Problem, Result } from "../../src/core/problem";
import { type CopyStore, copyKey, newestSound } from "../../src/storage/copies";
import { type EditionStore, NOT_YET_STORED } from "../../src/storage/edition-store";
import { type CsvShape, type PreferenceStore, withShape } from "../../src/storage/preferences";
import { smallEdition } from "./small-edition";

type StoreName = "summaries" | "documents" | "preferences" | "notes" | "copies" | "steps";

export interface Home {
  readonly editions: EditionStore;
  readonly copies: CopyStore;
  readonly preferences: PreferenceStore;
  /** The same home as another tab sees it. */
  readonly inAnotherTab: () => Promise<{ editions: EditionStore; preferences: PreferenceStore }>;
  /** Puts anything into the records behind the store's back. */
  readonly plant: (store: StoreName, id: string, record: unknown) => Promise<void>;
  readonly end: () => Promise<void>;
}

export function valueFrom<T>(result: Result<T>): T {
  if (!result.ok) throw new Error(result.problems.map((found) => found.message).join("\n"));
  return result.value;
}

export function problemsOf(result: Result<unknown>): readonly Problem[] {
  if (result.ok) throw new Error(`expected a problem, got ${JSON.stringify(result.value)}`);
  return result.problems;
}

const codes = (result: Result<unknown>) => problemsOf(result).map((found) => found.code);
const at = (minute: number) => `2026-11-25T08:${String(minute).padStart(2, "0")}:00.000Z`;
const content = (title: string, minute = 0, pieces = 4) => ({
  book: smallEdition(pieces, title),
  updatedAt: at(minute),
});

const recordOf = (step: Change) => ({ text: JSON.stringify(step), sum: checksumOf(JSON.stringify(step)) });

/** The promises that `openHome` has to keep; it gives an empty home each time. */
export function describeStore(name: string, openHome: () => Promise<Home>): void {
  const inHome = (title: string, check: (home: Home) => Promise<void>) =>
    it(title, async () => {
      const home = await openHome();
      try {
        await check(home);
      } finally {
        await home.end();
      }
    });

  describe(`${name}: editions`, () => {
    inHome("lists nothing at first", async ({ editions }) => {
      expect(valueFrom(await editions.list())).toEqual([]);
    });

    inHome("gives back what was written, with revision 1", async ({ editions }) => {
      const { book } = content("Marram");
      const values = { "pieces p1 own": 12.34, blank: null };
      expect(valueFrom(await editions.write("a", { book, updatedAt: at(1), values }, NOT_YET_STORED))).toBe(1);
      expect(valueFrom(await editions.read("a"))).toEqual({ id: "a", book, updatedAt: at(1), revision: 1, values });
    });

    inHome("leaves values out where none were written", async ({ editions }) => {
      await editions.write("a", { ...content("Marram"), values: [1] }, 0);
      await editions.write("a", content("Marram"), 1);
      expect("values" in valueFrom(await editions.read("a"))).toBe(false);
    });

    inHome("lists the newest first, with title, count and revision", async ({ editions }) => {
      await editions.write("a", content("Old", 1, 2), 0);
      await editions.write("b", content("New", 9, 3), 0);
      await editions.write("c", content("Between", 5, 1), 0);
      await editions.write("c", content("Between again", 6, 1), 1);
      expect(valueFrom(await editions.list())).toEqual([
        { id: "b", title: "New", updatedAt: at(9), revision: 1, pieces: 3 },
        { id: "c", title: "Between again", updatedAt: at(6), revision: 2, pieces: 1 },
        { id: "a", title: "Old", updatedAt: at(1), revision: 1, pieces: 2 },
      ]);
    });

    inHome("refuses a stale revision and keeps what is stored", async ({ editions, inAnotherTab }) => {
      const other = (await inAnotherTab()).editions;
      await editions.write("a", content("First"), 0);
      valueFrom(await other.write("a", content("Theirs", 2), 1));
      const refused = await editions.write("a", content("Mine", 3), 1);
      expect(codes(refused)).toEqual(["store.changed"]);
      expect(problemsOf(refused)[0]?.message).toContain("changed in another tab");
      expect(problemsOf(refused)[0]?.message).toContain("file");
      expect(valueFrom(await editions.read("a")).book.meta.title).toBe("Theirs");
      expect(valueFrom(await editions.write("a", content("Mine", 3), 2))).toBe(3);
    });

    inHome("lets only one of two writes at the same moment win", async ({ editions, inAnotherTab }) => {
      const other = (await inAnotherTab()).editions;
      await editions.write("a", content("First"), 0);
      const results = await Promise.all([
        editions.write("a", content("Mine"), 1),
        other.write("a", content("Theirs"), 1),
      ]);
      expect(results.filter((result) => result.ok)).toHaveLength(1);
      const winner = results[0]?.ok ? "Mine" : "Theirs";
      const stored = valueFrom(await editions.read("a"));
      expect([stored.book.meta.title, stored.revision]).toEqual([winner, 2]);
    });

    inHome("refuses to write anew over an edition that is there", async ({ editions }) => {
      await editions.write("a", content("First"), 0);
      expect(codes(await editions.write("a", content("Second"), 0))).toEqual(["store.taken"]);
      expect(valueFrom(await editions.read("a")).book.meta.title).toBe("First");
    });

    inHome("removes, and then refuses an edit of what was removed", async ({ editions, inAnotherTab }) => {
      await editions.write("a", content("First"), 0);
      await editions.write("b", content("Other"), 0);
      valueFrom(await (await inAnotherTab()).editions.remove("a"));
      expect(valueFrom(await editions.list()).map((summary) => summary.id)).toEqual(["b"]);
      expect(codes(await editions.read("a"))).toEqual(["store.none"]);
      expect(codes(await editions.readText("a"))).toEqual(["store.none"]);
      expect(codes(await editions.write("a", content("Mine"), 1))).toEqual(["store.removed"]);
      expect(valueFrom(await editions.remove("a"))).toBeUndefined();
    });

    inHome(
      "is put where the maker says, which no write changes but that of one deleted",
      async ({ editions, plant }) => {
        const since = at(9);
        await editions.write("a", content("First"), 0);
        await editions.write("b", content("Other"), 0);
        const marks = async () => valueFrom(await editions.list()).map(({ id, mark }) => [id, mark?.as]);
        valueFrom(await editions.mark("a", { as: "template", since }));
        valueFrom(await editions.mark("b", { as: "deleted", since }));
        expect((await marks()).sort()).toEqual([
          ["a", "template"],
          ["b", "deleted"],
        ]);
        expect(valueFrom(await editions.write("a", content("First", 1), 1))).toBe(2);
        expect(valueFrom(await editions.write("b", content("Other", 1), 1))).toBe(2);
        expect((await marks()).sort()).toEqual([
          ["a", "template"],
          ["b", undefined],
        ]);
        valueFrom(await editions.mark("a", undefined));
        expect((await marks()).every(([, as]) => as === undefined)).toBe(true);
        expect(codes(await editions.mark("c", { as: "archived", since }))).toEqual(["store.none"]);
        await plant("summaries", "x", { title: 7 });
        expect(codes(await editions.mark("x", undefined))).toEqual(["store.corrupt"]);
      },
    );

    inHome("does not see later changes of the values it was given", async ({ editions }) => {
      const values = { own: 1 };
      await editions.write("a", { ...content("First"), values }, 0);
      values.own = 2;
      expect(valueFrom(await editions.read("a")).values).toEqual({ own: 1 });
    });

    inHome("says so when the values can't be stored, and keeps the old record", async ({ editions }) => {
      await editions.write("a", content("First"), 0);
      const refused = await editions.write("a", { ...content("Second"), values: () => 1 }, 1);
      expect(codes(refused)).toEqual(["store.failed"]);
      expect(valueFrom(await editions.read("a"))).toMatchObject({ revision: 1, book: { meta: { title: "First" } } });
    });
  });

  describe(`${name}: what was done`, () => {
    const step = (note: string, minute: number): Change => ({
      label: `Typed ${note}`,
      operations: [{ kind: "cell", sheet: "pieces", row: "p1", column: "note", was: undefined, is: note }],
      at: at(minute),
    });
    const [one, two, three] = [step("one", 1), step("two", 2), step("three", 3)];
    const undoOf = async ({ editions }: Pick<Home, "editions">) => valueFrom(await editions.read("a")).undo;

    inHome("is read with the document, step by step as it was written", async (home) => {
      const { editions, inAnotherTab } = home;
      await editions.write("a", { ...content("Marram"), undo: EMPTY_HISTORY }, 0);
      expect(await undoOf(home)).toEqual(EMPTY_HISTORY);
      await editions.write("a", { ...content("Marram"), undo: { done: [one, two], undone: [] } }, 1);
      await editions.write("a", { ...content("Marram"), undo: { done: [one, two, three], undone: [] } }, 2);
      await editions.write("a", { ...content("Marram"), undo: { done: [one], undone: [three, two], cut: at(0) } }, 3);
      expect(await undoOf(home)).toEqual({ done: [one], undone: [three, two], cut: at(0) });
      // Another tab writes steps it read, and then this one, which does not know of those, is refused.
      const other = { editions: (await inAnotherTab()).editions };
      const read = (await undoOf(other)) ?? EMPTY_HISTORY;
      const again = { done: [...read.done, two], undone: [] };
      valueFrom(await other.editions.write("a", { ...content("Theirs"), undo: again }, 4));
      expect(codes(await editions.write("a", { ...content("Mine"), undo: EMPTY_HISTORY }, 4))).toEqual([
        "store.changed",
      ]);
      expect(await undoOf(other)).toEqual(again);
      valueFrom(await editions.write("a", { ...content("Mine"), undo: { done: [three], undone: [one] } }, 5));
      expect(await undoOf(home)).toEqual({ done: [three], undone: [one] });
    });

    inHome("is none where a program wrote that keeps none, or after the edition was removed", async (home) => {
      await home.editions.write("a", { ...content("Marram"), undo: { done: [one], undone: [] } }, 0);
      await home.editions.write("a", content("Marram"), 1);
      expect(await undoOf(home)).toBeUndefined();
      await home.editions.write("a", { ...content("Marram"), undo: { done: [one], undone: [] } }, 2);
      await home.editions.remove("a");
      await home.editions.write("a", { ...content("Marram"), undo: { done: [two], undone: [] } }, 0);
      expect(await undoOf(home)).toEqual({ done: [two], undone: [] });
    });

    for (const [what, record] of [
      ["is damaged", { text: JSON.stringify(two), sum: 7 }],
      ["makes no sense", { text: "{}", sum: checksumOf("{}") }],
      ["is missing", undefined],
      ["names what is not there", recordOf({ ...two, operations: [{ ...two.operations[0], row: "p99" } as never] })],
    ] as const)
      inHome(`can't be undone any more where a step of it ${what}, and the document is read`, async (home) => {
        await home.editions.write("a", { ...content("Marram", 4), undo: { done: [one, two], undone: [] } }, 0);
        await home.plant("steps", copyKey("a", "1"), record);
        const read = valueFrom(await home.editions.read("a"));
        expect(read.book.meta.title).toBe("Marram");
        expect(read.undo).toEqual({ done: [], undone: [], cut: at(4) });
        await home.editions.write("a", { ...content("Marram", 5), undo: { done: [three], undone: [] } }, 1);
        expect(await undoOf(home)).toEqual({ done: [three], undone: [] });
      });
  });

  describe(`${name}: damaged records`, () => {
    const goodSummary = { title: "Broken", updatedAt: at(3), revision: 4, pieces: 2 };

    for (const [what, text] of [
      ["breaks off", writeDocument(smallEdition()).slice(0, 500)],
      ["is of another kind", '{"kind":"shopping list"}'],
      ["breaks the rules of a sheet", writeDocument(smallEdition()).replace('"standard"', '"gigantic"')],
    ] as const)
      inHome(`reports a document that ${what}, and gives its text`, async ({ editions, plant }) => {
        await plant("summaries", "x", goodSummary);
        await plant("documents", "x", { text, revision: 4 });
        const refused = problemsOf(await editions.read("x"));
        expect(refused[0]?.code).toBe("store.corrupt");
        expect(refused.length).toBeGreaterThan(1);
        expect(valueFrom(await editions.readText("x"))).toBe(text);
      });

    inHome("lists what it can't make sense of with its problem, beside the rest", async ({ editions, plant }) => {
      await editions.write("good", content("Good", 5), 0);
      await plant("summaries", "x", { title: 7 });
      await plant("documents", "x", { text: "anything", revision: 1 });
      await plant("summaries", "alone", goodSummary);
      await plant("documents", "orphan", { text: "left over", revision: 1 });
      await plant("summaries", "nil", null);
      await plant("documents", "nil", null);
      const list = valueFrom(await editions.list());
      expect(list[0]).toMatchObject({ id: "good", revision: 1 });
      expect(list[0]).not.toHaveProperty("problem");
      const damaged = list.filter((summary) => summary.problem?.code === "store.corrupt");
      expect(damaged.map((summary) => summary.id).sort()).toEqual(["alone", "nil", "orphan", "x"]);
      expect(valueFrom(await editions.readText("orphan"))).toBe("left over");
      expect(valueFrom(await editions.readText("nil"))).toBe("null");
    });

    inHome("never writes over a damaged record, but removes it when asked", async ({ editions, plant }) => {
      await plant("summaries", "x", { title: 7 });
      await plant("documents", "x", { text: "rescue me", revision: 1 });
      await plant("documents", "orphan", { text: "rescue me too", revision: 1 });
      expect(codes(await editions.write("x", content("New"), 0))).toEqual(["store.taken"]);
      expect(codes(await editions.write("x", content("New"), 1))).toEqual(["store.corrupt"]);
      expect(codes(await editions.write("orphan", content("New"), 0))).toEqual(["store.taken"]);
      expect(valueFrom(await editions.readText("x"))).toBe("rescue me");
      expect(valueFrom(await editions.readText("orphan"))).toBe("rescue me too");
      valueFrom(await editions.remove("x"));
      expect(valueFrom(await editions.list()).map((summary) => summary.id)).toEqual(["orphan"]);
    });

    inHome("does not give values of another revision", async ({ editions, plant }) => {
      await plant("summaries", "x", goodSummary);
      await plant("documents", "x", { text: writeDocument(smallEdition()), revision: 3, values: [1] });
      expect("values" in valueFrom(await editions.read("x"))).toBe(false);
    });

    inHome("does not give values that an earlier program's columns and lines had", async ({ editions, plant }) => {
      const text = writeDocument(smallEdition());
      await plant("summaries", "x", goodSummary);
      await plant("documents", "x", { text, revision: 4, values: [1] });
      expect(valueFrom(await editions.read("x")).values).toEqual([1]);
      const earlier = text.replace(/"sheetsVersion":\d+/, '"sheetsVersion":0');
      await plant("documents", "x", { text: earlier, revision: 4, values: [1] });
      expect("values" in valueFrom(await editions.read("x"))).toBe(false);
    });
  });

  describe(`${name}: what a newer program has written`, () => {
    const newer = { title: "Later", updatedAt: at(9), revision: 4, pieces: 1, format: FORMAT_VERSION + 1 };
    const text = JSON.stringify({ kind: "saggar edition", formatVersion: FORMAT_VERSION + 1, tables: [] });

    inHome("is listed, never called damaged, and never written over", async ({ editions, copies, plant }) => {
      await plant("summaries", "a", newer);
      await plant("documents", "a", { text, sum: checksumOf(text), revision: 4 });
      const [listed] = valueFrom(await editions.list());
      expect(listed).toMatchObject({ id: "a", title: "Later", problem: { code: "store.newer" } });
      expect(listed?.problem?.message).toContain("Reload this page");
      expect(codes(await editions.read("a"))).toEqual(["store.newer"]);
      expect(codes(await editions.stamp("a"))).toEqual(["store.newer"]);
      for (const revision of [NOT_YET_STORED, 3, 4, 5])
        expect(codes(await editions.write("a", content("Mine"), revision))).toEqual(["store.newer"]);
      expect(valueFrom(await editions.readText("a"))).toBe(text);
      expect(valueFrom(await copies.list("a"))).toEqual([]);
    });

    inHome("is known by its document and its copies too, and whatever else a record has", async (home) => {
      await home.plant("summaries", "a", { ...newer, format: undefined });
      await home.plant("documents", "a", { text, sum: checksumOf(text), revision: 4 });
      expect(codes(await home.editions.read("a"))).toEqual(["store.newer", "file.newer"]);
      await home.plant("summaries", "b", { format: FORMAT_VERSION + 1, parts: 7 });
      expect(codes(await home.editions.write("b", content("Mine"), 1))).toEqual(["store.newer"]);
      await home.plant("copies", copyKey("a", at(1)), { text, sum: checksumOf(text) });
      expect(codes(await home.copies.read("a", at(1)))).toEqual(["store.newer", "file.newer"]);
    });

    inHome("is told apart from what this program writes", async ({ editions }) => {
      await editions.write("a", content("Mine"), NOT_YET_STORED);
      expect(valueFrom(await editions.write("a", content("Mine"), 1))).toBe(2);
    });
  });

  describe(`${name}: stamps`, () => {
    inHome("come with the edition and without it, and are left out where none was written", async ({ editions }) => {
      const edit = { sitting: "s", edits: 7 };
      await editions.write("a", { ...content("First", 1), edit }, 0);
      expect(valueFrom(await editions.read("a")).edit).toEqual(edit);
      expect(valueFrom(await editions.stamp("a"))).toEqual({ revision: 1, updatedAt: at(1), edit });
      await editions.write("a", content("Second", 2), 1);
      expect(valueFrom(await editions.stamp("a"))).toEqual({ revision: 2, updatedAt: at(2) });
      expect(codes(await editions.stamp("b"))).toEqual(["store.none"]);
    });
  });

  describe(`${name}: a record that rotted`, () => {
    inHome("is told by its checksum though it still reads as an edition", async ({ editions, plant }) => {
      const good = writeDocument(smallEdition(4, "Marram"));
      await plant("summaries", "x", { title: "Marram", updatedAt: at(3), revision: 4, pieces: 4 });
      await plant("documents", "x", {
        text: good.replace('"title":"Marram"', '"title":"Mairam"'),
        revision: 4,
        sum: checksumOf(good),
      });
      expect(codes(await editions.read("x"))[0]).toBe("store.corrupt");
      await plant("documents", "x", { text: good, revision: 4, sum: checksumOf(good) });
      expect(valueFrom(await editions.read("x")).book.meta.title).toBe("Marram");
    });
  });

  describe(`${name}: copies`, () => {
    const late = (hour: number) => `2026-11-26T${hour}:00:00.000Z`;
    const times = async (copies: CopyStore, id = "a") => valueFrom(await copies.list(id)).map(({ takenAt }) => takenAt);

    inHome("of what is written over are put by, not at every write", async ({ editions, copies }) => {
      await editions.write("a", content("One", 0), 0);
      expect(await times(copies)).toEqual([]);
      await editions.write("a", content("Two", 1), 1);
      expect(await times(copies)).toEqual([at(0)]);
      await editions.write("a", content("Three", 2), 2);
      await editions.write("a", content("Four", 11), 3);
      expect(await times(copies)).toEqual([at(0)]);
      await editions.write("a", content("Five", 12), 4);
      expect(await times(copies)).toEqual([at(11), at(0)]);
      expect(valueFrom(await copies.read("a", at(11))).meta.title).toBe("Four");
      expect(valueFrom(await copies.list("a"))[0]).toMatchObject({ title: "Four", pieces: 4 });
      expect(await times(copies, "b")).toEqual([]);
    });

    inHome("are none where a write was refused", async ({ editions, copies }) => {
      await editions.write("a", content("One", 0), 0);
      await editions.write("a", content("Two", 30), 7);
      expect(await times(copies)).toEqual([]);
    });

    inHome("grow fewer with age", async ({ editions, copies }) => {
      let revision = 0;
      for (const minute of [0, 15, 30, 45, 59]) {
        await editions.write("a", content(`${minute}`, minute), revision);
        revision += 1;
      }
      expect(await times(copies)).toEqual([at(45), at(30), at(15), at(0)]);
      await editions.write("a", { book: smallEdition(1, "Next day"), updatedAt: late(18) }, revision);
      expect(await times(copies)).toEqual([at(59)]);
    });

    inHome("with a name are kept on purpose and never grow fewer", async ({ editions, copies }) => {
      await editions.write("a", content("One", 0), 0);
      const named = { book: smallEdition(2, "Before the glaze"), takenAt: at(3), name: "Before" };
      valueFrom(await copies.keep("a", named));
      valueFrom(await copies.keep("a", { ...named, takenAt: at(4), name: "Again" }));
      await editions.write("a", { book: smallEdition(1), updatedAt: late(20) }, 1);
      const list = valueFrom(await copies.list("a"));
      expect(list.map(({ name, takenAt }) => [name, takenAt])).toEqual([
        ["Again", at(4)],
        ["Before", at(3)],
        [undefined, at(0)],
      ]);
      expect(list[1]).toMatchObject({ title: "Before the glaze", pieces: 2 });
      expect(valueFrom(await copies.read("a", at(3)))).toEqual(named.book);
      valueFrom(await copies.remove("a", [at(4), "never"]));
      expect(await times(copies)).toEqual([at(3), at(0)]);
      expect(codes(await copies.read("a", at(4)))).toEqual(["store.none"]);
    });

    inHome("go with their edition, and only with it", async ({ editions, copies }) => {
      for (const id of ["a", "ab"]) {
        await editions.write(id, content("One", 0), 0);
        await editions.write(id, content("Two", 1), 1);
      }
      await editions.remove("a");
      expect([await times(copies, "a"), await times(copies, "ab")]).toEqual([[], [at(0)]]);
      expect(codes(await copies.read("a", at(0)))).toEqual(["store.none"]);
    });

    inHome("that are damaged are told, and an older sound one is found", async ({ copies, plant }) => {
      for (const minute of [1, 2, 3])
        await copies.keep("a", { book: smallEdition(1, `${minute}`), takenAt: at(minute), name: "x" });
      await plant("copies", copyKey("a", at(3)), { text: "{}", sum: 0 });
      await plant("copies", copyKey("a", at(2)), null);
      await plant("notes", copyKey("a", at(9)), { title: 7 });
      expect(codes(await copies.read("a", at(3)))).toEqual(["store.corrupt"]);
      expect(codes(await copies.read("a", at(2)))).toEqual(["store.corrupt"]);
      expect((await newestSound(copies, "a"))?.title).toBe("1");
      expect(await newestSound(copies, "none")).toBeUndefined();
    });
  });

  describe(`${name}: preferences`, () => {
    inHome("remembers, forgets, and shares with the other tab", async ({ preferences, inAnotherTab }) => {
      expect(valueFrom(await preferences.get("lastEdition"))).toBeUndefined();
      valueFrom(await preferences.set("lastEdition", "a"));
      valueFrom(await preferences.set("decimal", ","));
      const other = (await inAnotherTab()).preferences;
      expect(valueFrom(await other.get("lastEdition"))).toBe("a");
      expect(valueFrom(await other.get("decimal"))).toBe(",");
      valueFrom(await other.set("lastEdition", undefined));
      expect(valueFrom(await preferences.get("lastEdition"))).toBeUndefined();
    });

    inHome("remembers where columns of CSV files went, for so many shapes", async ({ preferences, plant }) => {
      const shapes = Array.from({ length: 45 }, (_, at) => ({ shape: `s${at}`, columns: { mark: "note" } }));
      const kept = shapes.reduce(withShape, [] as readonly CsvShape[]);
      expect([kept.length, kept[0]?.shape, kept.at(-1)?.shape]).toEqual([40, "s5", "s44"]);
      expect(withShape(kept, { shape: "s9", columns: {} }).map(({ shape }) => shape)).toHaveLength(40);
      valueFrom(await preferences.set("csvShapes", kept));
      expect(valueFrom(await preferences.get("csvShapes"))).toEqual(kept);
      await plant("preferences", "csvShapes", [{ shape: "s", columns: { mark: 7 } }]);
      expect(valueFrom(await preferences.get("csvShapes"))).toBeUndefined();
    });

    inHome(
      "remembers the paper; a size or margin that is none is taken for not set",
      async ({ preferences, plant }) => {
        valueFrom(await preferences.set("paper", { size: "Letter", marginMm: 25 }));
        expect(valueFrom(await preferences.get("paper"))).toEqual({ size: "Letter", marginMm: 25 });
        for (const odd of [{ size: "A0", marginMm: 15 }, { size: "A4", marginMm: 3 }, "A4", null]) {
          await plant("preferences", "paper", odd);
          expect(valueFrom(await preferences.get("paper"))).toBeUndefined();
        }
      },
    );

    inHome("takes what it does not know for not set", async ({ preferences, plant }) => {
      await plant("preferences", "decimal", ";");
      await plant("preferences", "temperature", { scale: "K" });
      expect(valueFrom(await preferences.get("decimal"))).toBeUndefined();
      expect(valueFrom(await preferences.get("temperature"))).toBeUndefined();
    });
  });
}
