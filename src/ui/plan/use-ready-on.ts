import { useEffect, useState } from "preact/hooks";
import { perSession } from "../../app/edition/per-session";
import type { Session } from "../../app/edition/session";
import { type ReadyOn, readyOn } from "../../app/plan/ready-on";
import type { Workbook } from "../../core/document/workbook";

/** How long nothing else may happen before the calendar is made anew, in milliseconds; longer where it takes long. */
const QUIET = 250;
const TIMES_ITS_WORK = 5;

interface Made {
  readonly ready: ReadyOn | undefined;
  readonly book: Workbook;
  readonly version: number;
  readonly took: number;
}

/** What was made last: the key figure and the answer show the same. */
const madeOf = perSession((): { last?: Made } => ({}));

function make(session: Session): Made {
  const held = madeOf(session);
  const [book, version] = [session.book.peek(), session.valuesVersion.peek()];
  if (held.last?.book === book && held.last.version === version) return held.last;
  const from = performance.now();
  const ready = readyOn(session);
  held.last = { ready, book, version, took: performance.now() - from };
  return held.last;
}

/** When the edition is ready; made behind the work, once things have come to rest. */
export function useReadyOn(session: Session): ReadyOn | undefined {
  const [made, setMade] = useState<Made | undefined>(undefined);
  const book = session.book.value;
  const version = session.valuesVersion.value;
  const isCalculated = session.engineState.value === "ready";
  useEffect(() => {
    if (!isCalculated) return undefined;
    const rest = Math.max(QUIET, TIMES_ITS_WORK * (madeOf(session).last?.took ?? 0));
    const timer = setTimeout(() => setMade(make(session)), rest);
    return () => clearTimeout(timer);
  }, [session, book, version, isCalculated]);
  return made?.ready;
}
