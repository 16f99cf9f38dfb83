import { useEffect, useState } from "preact/hooks";
import type { Session } from "../../app/edition/session";
import { type ReadyOn, readyOn } from "../../app/plan/ready-on";

/** How long nothing else may happen before the calendar is made anew, in milliseconds. */
const QUIET = 250;

/** When the edition is ready; made behind the work, once things have come to rest. */
export function useReadyOn(session: Session): ReadyOn | undefined {
  const [ready, setReady] = useState<ReadyOn | undefined>(undefined);
  const book = session.book.value;
  const version = session.valuesVersion.value;
  const isCalculated = session.engineState.value === "ready";
  useEffect(() => {
    if (!isCalculated) return undefined;
    const timer = setTimeout(() => setReady(readyOn(session)), QUIET);
    return () => clearTimeout(timer);
  }, [session, book, version, isCalculated]);
  return ready;
}
