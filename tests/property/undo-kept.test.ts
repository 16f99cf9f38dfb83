// What can be undone after a page was closed, killed, or handed over: each step leads to a state that the document had.
import fc from "fast-check";
import { expect, test } from "vitest";
import "../../src/core/document/difference";
import { checksumOf } from "../../src/core/checksum";
import { applyChange, type Change, type Operation } from "../../src/core/document/change";
import { readChange } from "../../src/core/document/change-schema";
import { smallEdition } from "../storage/small-edition";
import { Device, type Tab } from "../tools/open-studio";
import { type Choice, changeOf, choices } from "../tools/random-commands";
import { turns } from "../tools/tabs";

const start = smallEdition(2);
const sums = new WeakMap<object, number>();

/** A document in one number; the order of names is no part of it. What two documents share is gone through once. */
function text(value: object): number {
  const known = sums.get(value);
  if (known !== undefined) return known;
  const partOf = (part: unknown) => (typeof part === "object" && part !== null ? text(part) : JSON.stringify(part));
  const names = Object.keys(value).filter((name) => value[name as never] !== undefined);
  if (!Array.isArray(value)) names.sort();
  const sum = checksumOf(names.map((name) => `${name}:${partOf(value[name as never])}`).join());
  sums.set(value, sum);
  return sum;
}

async function opened(device: Device): Promise<Tab> {
  const tab = device.openTab();
  await tab.studio.start(async () => start);
  return tab;
}

const sessionOf = (tab: Tab) => {
  const session = tab.studio.session.value;
  if (!session) throw new Error("nothing is open");
  return session;
};

/** One thing a maker does; gives what happened to the stack. */
function act(tab: Tab, choice: Choice): void {
  const session = sessionOf(tab);
  const { history } = session;
  if (choice.command < 0.12) session.undo();
  else if (choice.command < 0.2) session.redo();
  else if (choice.command < 0.27) {
    const { done, undone } = history.value;
    const by = choice.a < 0.5 ? -Math.ceil(choice.b * done.length) : Math.ceil(choice.b * undone.length);
    if (by !== 0) session.walk(by);
  } else {
    const change = changeOf(session.book.value, { ...choice, command: (choice.command - 0.27) / 0.73 });
    const goesOn = choice.c < 0.1 ? history.value.done.at(-1) : undefined;
    if (change) session.commit(change, goesOn);
  }
}

/** Every state that undoing and redoing leads to, as the page has it now. */
function reachable(tab: Tab): { readonly back: number[]; readonly forth: number[] } {
  const { book, history } = sessionOf(tab);
  let at = book.value;
  const walkThrough = (steps: readonly Change[], way: (change: Change) => Change) => {
    at = book.value;
    return steps.toReversed().map((change) => {
      at = applyChange(at, way(change));
      return text(at);
    });
  };
  return { back: walkThrough(history.value.done, takenBack), forth: walkThrough(history.value.undone, (one) => one) };
}

const OTHER_WAY = {
  "add rows": "remove rows",
  "remove rows": "add rows",
  "add columns": "remove columns",
  "remove columns": "add columns",
} as const;

/** The change that takes a change back, written apart from the program's own. */
function takenBack({ label, operations }: Change): Change {
  const back = (one: Operation) =>
    "rows" in one || "columns" in one ? { ...one, kind: OTHER_WAY[one.kind] } : { ...one, was: one.is, is: one.was };
  return { label, operations: operations.toReversed().map((one) => back(one) as Operation) };
}

test("a page killed at any moment opens with the document and the whole stack as they were", async () => {
  let reopened = 0;
  let steps = 0;
  await fc.assert(
    fc.asyncProperty(choices(40), async (list) => {
      const device = new Device();
      let tab = await opened(device);
      for (const choice of list) {
        act(tab, choice);
        if (choice.b < 0.4) await tab.ring();
        if (choice.c < 0.75) continue;
        const before = { book: text(tab.book), ...reachable(tab) };
        if (choice.a < 0.5) await tab.studio.open?.close();
        device.browser.crash(tab.lockPlatform);
        tab = await opened(device);
        expect({ book: text(tab.book), ...reachable(tab) }).toEqual(before);
        reopened += 1;
        steps += before.back.length + before.forth.length;
      }
    }),
    { seed: 1201, endOnFailure: true, numRuns: 18 },
  );
  expect([reopened > 100, steps > 400]).toEqual([true, true]);
});

test("killed with its last edits lost too, each step still leads to a state that the document had", async () => {
  await fc.assert(
    fc.asyncProperty(choices(40), async (list) => {
      const device = new Device();
      const states = new Set<number>();
      let tab = await opened(device);
      states.add(text(tab.book));
      for (const choice of list) {
        act(tab, choice);
        states.add(text(tab.book));
        if (choice.b < 0.4) await tab.ring();
        if (choice.c < 0.8) continue;
        device.browser.crash(tab.lockPlatform);
        device.small.clear();
        tab = await opened(device);
        const { back, forth } = reachable(tab);
        expect([text(tab.book), ...back, ...forth].filter((state) => !states.has(state))).toEqual([]);
      }
    }),
    { seed: 1202, endOnFailure: true, numRuns: 15 },
  );
});

test("a second tab that follows and takes over has the same stack", async () => {
  await fc.assert(
    fc.asyncProperty(choices(24), async (list) => {
      const device = new Device();
      let writer = await opened(device);
      let other = await opened(device);
      await turns();
      for (const choice of list) {
        act(writer, choice);
        await turns();
        if (choice.b < 0.3) await writer.ring();
        expect({ book: text(other.book), ...reachable(other) }).toEqual({
          book: text(writer.book),
          ...reachable(writer),
        });
        if (choice.c < 0.8) continue;
        await other.studio.takeOver();
        await turns();
        [writer, other] = [other, writer];
      }
    }),
    { seed: 1203, endOnFailure: true, numRuns: 10 },
  );
});

test("whatever a maker does can be written down and read again", () => {
  fc.assert(
    fc.property(choices(60), (list) => {
      let book = start;
      for (const choice of list) {
        const change = changeOf(book, choice);
        if (!change) continue;
        book = applyChange(book, change);
        expect(readChange(JSON.stringify(change))).toEqual(JSON.parse(JSON.stringify(change)));
      }
    }),
    { seed: 1204, endOnFailure: true, numRuns: 40 },
  );
  expect(readChange('{"label":"x","operations":[{"kind":"cell","sheet":"pieces","row":"p1"}]}')).toBeUndefined();
  for (const found of ["not a step", "null", "7", '{"label":"x"}', '{"label":"x","operations":[null]}'])
    expect(readChange(found)).toBeUndefined();
  const cell = { kind: "cell", sheet: "pieces", row: "p1", column: "note", is: "x" };
  const reads = (one: object) => readChange(JSON.stringify({ label: "x", operations: [cell, one] })) !== undefined;
  expect(reads(cell)).toBe(true);
  const wrong = {
    sheet: "other",
    row: "P 1",
    column: "__proto__",
    kind: "cells",
    was: ["x"],
    is: { g: "=1" },
    more: 1,
  };
  for (const [name, value] of Object.entries(wrong))
    expect([name, reads({ ...cell, [name]: value })]).toEqual([name, false]);
});
