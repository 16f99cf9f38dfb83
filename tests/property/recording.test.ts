// What must hold of recording whatever is recorded: the order of legal recordings changes no cost, and what is taken back
// is as if it had never been recorded, for cells nobody touched since.
import fc from "fast-check";
import { expect, test } from "vitest";
import { rowOf } from "../../src/core/document/access";
import { applyChange, invert } from "../../src/core/document/change";
import type { Workbook } from "../../src/core/document/workbook";
import { datedColumns } from "../../src/core/record/days";
import { planRecord, type Recording, record, recordChange } from "../../src/core/record/record-edits";
import { takeBack } from "../../src/core/record/run-log";
import { planExtraSteps, repeatOf } from "../../src/core/steps/extra-steps";
import { must } from "../accounts/results";
import { evaluate } from "../tools/evaluate";
import { smallEdition } from "../tools/small-edition";

const AT = "2026-03-01T10:00:00.000Z";
const book = smallEdition(6);
const IDS = book.sheets.pieces.rows.map(({ id }) => id);
const there = (name: string) => ({ kind: "there", name }) as const;

const piecesChosen = fc.uniqueArray(fc.constantFrom(...IDS), { minLength: 1, maxLength: 4 });
const stepChosen = fc.constantFrom("cast", "fettle", "bisque", "glaze", "firing", "band");
const firingChosen = fc.oneof(
  fc.constantFrom("F1", "F2").map(there),
  fc.constantFrom("N1", "N2", "N3").map((name) => ({ kind: "new", name, kiln: "Small" }) as const),
);

/** Any recording there is, whether or not it is in order. */
const anything: fc.Arbitrary<Recording> = fc.oneof(
  fc.record({
    kind: fc.constant("done" as const),
    step: stepChosen,
    firings: fc.record({ bisque: firingChosen, firing: firingChosen }, { requiredKeys: [] }),
  }),
  fc.record({
    kind: fc.constant("coats" as const),
    step: fc.constantFrom("glaze", "band"),
    amount: fc.integer({ min: 1, max: 4 }),
  }),
  fc.record({
    kind: fc.constant("minutes" as const),
    step: fc.constant("fettle"),
    amount: fc.integer({ min: 1, max: 30 }),
  }),
  fc.record({ kind: fc.constant("firing" as const), step: fc.constantFrom("bisque", "firing"), firing: firingChosen }),
  fc.record({ kind: fc.constant("lost" as const), step: stepChosen, reason: fc.constantFrom("", "cracked", "warped") }),
  fc.constant<Recording>({ kind: "not lost" }),
  fc.record({
    kind: fc.constant("passed" as const),
    grade: fc.constantFrom("good" as const, "second" as const, undefined),
  }),
  fc.record({ kind: fc.constant("tier" as const), tier: fc.constantFrom("standard" as const, "special" as const) }),
  fc.record({ kind: fc.constant("note" as const), note: fc.constantFrom("pinholes", "thin rim") }),
);
const recorded = fc.record({ pieces: piecesChosen, recording: anything, isExtra: fc.boolean() });
type Recorded = typeof recorded extends fc.Arbitrary<infer T> ? T : never;

/** The change of a recording, or of a coat more; nothing where it is refused. */
function changeOf(of: Workbook, { pieces, recording, isExtra }: Recorded) {
  const again = isExtra && recording.kind === "coats" ? repeatOf(of, "glaze") : undefined;
  const plan = again
    ? planExtraSteps(of, pieces, { kind: "extra", title: "Coat", steps: [again] })
    : planRecord(of, pieces, recording);
  return plan.ok ? recordChange(of, plan.value, AT) : { label: "", operations: [] };
}

const play = (of: Workbook, all: readonly Recorded[]) =>
  all.reduce((now, one) => applyChange(now, changeOf(now, one)), of);

test("every recording, and taking it back, is undone exactly", () => {
  fc.assert(
    fc.property(fc.array(recorded, { maxLength: 6 }), recorded, fc.nat(), (before, one, pick) => {
      const start = play(book, before);
      const change = changeOf(start, one);
      const after = applyChange(start, change);
      expect(applyChange(after, invert(change))).toEqual(start);
      const { log } = after.lists;
      const entry = log[pick % Math.max(1, log.length)];
      const taken = entry && takeBack(after, entry.id, AT);
      if (taken?.ok)
        expect(applyChange(applyChange(after, taken.value.change), invert(taken.value.change))).toEqual(after);
    }),
    { seed: 5101, numRuns: 120 },
  );
});

test("taken back at once, it is as if it had never been recorded", () => {
  fc.assert(
    fc.property(fc.array(recorded, { maxLength: 6 }), recorded, (before, one) => {
      const start = play(book, before);
      const after = applyChange(start, changeOf(start, one));
      const entry = after.lists.log[start.lists.log.length];
      if (!entry) return;
      const taken = must(takeBack(after, entry.id, AT));
      expect(taken.left).toEqual([]);
      expect(applyChange(after, taken.change).sheets).toEqual(start.sheets);
    }),
    { seed: 5102, numRuns: 150 },
  );
});

test("record, later records, take back: cells nobody touched since are as they were, all others as they are", () => {
  fc.assert(
    fc.property(
      fc.array(recorded, { maxLength: 4 }),
      recorded,
      fc.array(recorded, { maxLength: 5 }),
      (before, one, later) => {
        const start = play(book, before);
        const first = applyChange(start, changeOf(start, one));
        const entry = first.lists.log[start.lists.log.length];
        if (!entry) return;
        const after = play(first, later);
        const touched = new Set(
          after.lists.log
            .slice(first.lists.log.length)
            .flatMap(({ writes }) => writes.map((w) => `${w.row} ${w.column}`)),
        );
        const taken = takeBack(after, entry.id, AT);
        const back = taken.ok ? applyChange(after, taken.value.change) : after;
        const wrote = new Set(entry.writes.map((w) => `${w.row} ${w.column}`));
        for (const id of IDS)
          for (const { key } of after.sheets.pieces.columns) {
            const cell = (of: Workbook) => rowOf(of, "pieces", id)?.cells[key];
            const name = `${id} ${key}`;
            const dates = datedColumns(after).find(({ day }) => day === key)?.entered;
            // A day goes with what it is the day of.
            if (dates !== undefined) {
              if (cell(back) !== undefined) expect(rowOf(back, "pieces", id)?.cells[dates], name).toBeDefined();
            } else if (wrote.has(name) && !touched.has(name)) expect(cell(back), name).toBe(cell(start));
            else if (!wrote.has(name)) expect(cell(back), name).toBe(cell(after));
          }
      },
    ),
    { seed: 5103, numRuns: 150 },
  );
});

test("recordings of different pieces: without the one taken back the book is the one in which it never was", () => {
  const half = (ids: readonly string[]) =>
    fc.record({
      pieces: fc.uniqueArray(fc.constantFrom(...ids), { minLength: 1, maxLength: 3 }),
      recording: anything,
      isExtra: fc.constant(false),
    });
  fc.assert(
    fc.property(half(IDS.slice(0, 3)), fc.array(half(IDS.slice(3)), { maxLength: 5 }), (one, later) => {
      // A name given to a new firing by the first can't be given again by a later one.
      fc.pre(!JSON.stringify(one).includes('"kind":"new"'));
      const first = applyChange(book, changeOf(book, one));
      const entry = first.lists.log[0];
      if (!entry) return;
      const after = play(first, later);
      const back = applyChange(after, must(takeBack(after, entry.id, AT)).change);
      expect(back.sheets).toEqual(play(book, later).sheets);
    }),
    { seed: 5104, numRuns: 120 },
  );
});

// What each piece goes through in full, step by step: in any order that keeps the order of its own steps.
const WAY: readonly Recording[] = [
  { kind: "done", step: "cast", firings: {} },
  { kind: "minutes", step: "fettle", amount: 11 },
  { kind: "firing", step: "bisque", firing: there("F1") },
  { kind: "coats", step: "glaze", amount: 3 },
  { kind: "firing", step: "firing", firing: there("F2") },
  { kind: "coats", step: "band", amount: 1 },
];

test("recording in any legal order gives the same costs", () => {
  const perPiece = fc.record({
    steps: fc.integer({ min: 0, max: WAY.length }),
    end: fc.constantFrom<Recording | undefined>(
      { kind: "lost", step: "firing", reason: "dunted" },
      { kind: "passed", grade: "second" },
      undefined,
    ),
  });
  const task = (queues: readonly Recording[][], turns: readonly number[]) => {
    const left = queues.map((queue) => [...queue]);
    let now = book;
    for (let at = 0; left.some((queue) => queue.length > 0); at += 1) {
      const open = left.flatMap((queue, piece) => (queue.length > 0 ? [piece] : []));
      const piece = open[(turns[at % turns.length] ?? 0) % open.length] ?? 0;
      const next = left[piece]?.shift();
      if (next) now = must(record(now, [IDS[piece] ?? ""], next, AT));
    }
    return now;
  };
  fc.assert(
    fc.property(
      fc.array(perPiece, { minLength: IDS.length, maxLength: IDS.length }),
      fc.array(fc.nat({ max: 100 }), { minLength: 5, maxLength: 40 }),
      (pieces, turns) => {
        const queues = pieces.map(({ steps, end }) => [
          ...WAY.slice(0, steps),
          ...(end && steps === WAY.length ? [end] : []),
        ]);
        const inTurn = task(queues, [0]);
        const mixed = task(queues, turns);
        expect(mixed.sheets).toEqual(inTurn.sheets);
        const [a, b] = [evaluate(inTurn), evaluate(mixed)];
        for (const id of IDS)
          for (const column of ["own", "full", "reclaim", "outcome"])
            expect(b("pieces", id, column)).toBe(a("pieces", id, column));
        expect(b("results", "put_in", "value")).toBe(a("results", "put_in", "value"));
      },
    ),
    { seed: 5105, numRuns: 25 },
  );
});

test("many at once is the same as one by one", () => {
  fc.assert(
    fc.property(piecesChosen, fc.constantFrom(...WAY), (pieces, recording) => {
      const together = must(record(book, pieces, recording, AT));
      const apart = pieces.reduce((now, id) => must(record(now, [id], recording, AT)), book);
      expect(together.sheets).toEqual(apart.sheets);
    }),
    { seed: 5106, numRuns: 40 },
  );
});
