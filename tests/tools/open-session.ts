// A session with its engine in the same thread: the app without a page.
import { Session } from "../../src/app/edition/session";
import type { Workbook } from "../../src/core/document/workbook";
import { Engine } from "../../src/engine/engine";

/** An open edition; `settled` waits until every value has been computed. */
export function openSession(book: Workbook): { readonly session: Session; settled(): Promise<void> } {
  let engine: Engine | undefined;
  const session = new Session(book, {
    startEngine: () => ({
      open: async (opened) => {
        engine = new Engine(opened);
        return engine.values();
      },
      apply: async (change) => engine?.apply(change) ?? { columns: [], others: [] },
      calculate: async (formula) => engine?.calculate(formula) ?? null,
      model: async (known) => engine?.model(known),
      source: async () => engine?.source() ?? { book, aside: [] },
      close: () => engine?.close(),
    }),
    keep: () => undefined,
    locale: "en-GB",
    now: () => new Date("2026-11-25T09:00:00Z"),
  });
  const settled = async () => {
    for (let turn = 0; turn < 50 && session.engineState.value !== "ready"; turn += 1) await Promise.resolve();
  };
  return { session, settled };
}
