// What the pages that record have in common: what is planned for the chosen pieces, and doing it.
import { useState } from "preact/hooks";
import type { Session } from "../../app/edition/session";
import { type Asked, planAsked, recordPieces } from "../../app/record/record";
import type { Result } from "../../core/problem";
import type { RecordPlan } from "../../core/record/record-plan";

export interface PlannedRecording {
  readonly plan: Result<RecordPlan> | undefined;
  /** Whether what is out of order was read: the next press records it. */
  readonly isAgreed: boolean;
  readonly record: () => void;
}

/** What recording something of the chosen pieces would do, and doing it; `onDone` comes after. */
export function useRecording(
  session: Session,
  chosen: readonly string[],
  asked: Asked | undefined,
  onDone: () => void,
): PlannedRecording {
  const [agreed, setAgreed] = useState("");
  const plan = asked && chosen.length > 0 ? planAsked(session, chosen, asked) : undefined;
  const key = JSON.stringify([asked, chosen]);
  const record = () => {
    if (!asked || !plan) return;
    if (plan.ok && plan.value.warnings.length > 0 && agreed !== key) setAgreed(key);
    else if (recordPieces(session, chosen, asked)) {
      session.chosen.value = "";
      onDone();
    }
  };
  return { plan, isAgreed: agreed === key, record };
}
