// A session with its engine in the same thread: the app without a page.
import { onTestFinished } from "vitest";
import { getCurrentTest } from "vitest/suite";
import { Session } from "../../src/app/edition/session";
import type { Workbook } from "../../src/core/document/workbook";
import type { EngineClient } from "../../src/engine/client";
import type { Engine } from "../../src/engine/engine";
import { keepEngine, takeEngine } from "./kept-engines";

/** An open edition; `settled` waits until every value has been computed. */
export function openSession(book: Workbook): { readonly session: Session; settled(): Promise<void> } {
  const session = new Session(book, {
    startEngine: () => engineHere(book),
    keep: () => undefined,
    locale: "en-GB",
    now: () => new Date("2026-11-25T09:00:00Z"),
  });
  const settled = async () => {
    for (let turn = 0; turn < 50 && session.engineState.value !== "ready"; turn += 1) await Promise.resolve();
  };
  return { session, settled };
}

/** An engine that answers at once. What a test opened is given back when it is over. */
function engineHere(book: Workbook): EngineClient {
  let engine: Engine | undefined;
  /** What the engine had when it was given back. */
  let last: Workbook | undefined;
  const live = () => {
    if (!engine && last) engine = takeEngine(last);
    return engine;
  };
  const giveBack = () => {
    if (!engine) return;
    last = engine.source().book;
    keepEngine(engine);
    engine = undefined;
  };
  return {
    open: async (opened) => {
      giveBack();
      engine = takeEngine(opened);
      if (getCurrentTest()) onTestFinished(giveBack);
      return engine.values();
    },
    apply: async (change) => live()?.apply(change) ?? { columns: [], others: [] },
    calculate: async (formula) => live()?.calculate(formula) ?? null,
    model: async (known) => live()?.model(known),
    source: async () => live()?.source() ?? { book, excluded: [] },
    close: giveBack,
  };
}
