// The foot of a page that records: what will happen, and the press for it; what is out of order takes two.

import type { Session } from "../../app/edition/session";
import { counted } from "../../core/counted";
import { Scrolled } from "../controls/scrolled";
import { PlanWords } from "./plan-words";
import type { PlannedRecording } from "./use-recording";

interface Props {
  readonly session: Session;
  readonly recording: PlannedRecording;
}

/** Says what is planned and records it; it stays in sight at the foot of the page. */
export function RecordFoot({ session, recording: { plan, isAgreed, record } }: Props) {
  const count = plan?.ok ? plan.value.takes.length : 0;
  const isOdd = plan?.ok === true && plan.value.warnings.length > 0;
  const pieces = counted(count, "piece");
  return (
    <div class="bench-foot">
      <Scrolled class="foresight" label="What will happen">
        <PlanWords session={session} plan={plan} />
      </Scrolled>
      <div class="press">
        <button type="button" class="act" disabled={count === 0} onClick={record} data-testid="record-it">
          {isOdd && isAgreed
            ? `Yes, record it all the same: ${pieces}`
            : count === 0
              ? "Record it"
              : `Record it: ${pieces}`}
        </button>
        {isOdd && !isAgreed ? (
          <span class="quiet">Read what is marked “Mind” first: recording it takes two presses.</span>
        ) : null}
        {isOdd && isAgreed ? <span role="alert">Sure? Press once more to record it all the same.</span> : null}
      </div>
    </div>
  );
}
