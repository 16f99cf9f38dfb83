// The press that records; what is out of order takes two.
import type { Result } from "../../core/problem";
import type { RecordPlan } from "../../core/record/record-plan";

interface ButtonProps {
  readonly plan: Result<RecordPlan> | undefined;
  readonly isAgreed: boolean;
  readonly onRecord: () => void;
}

/** Records what is planned. */
export function RecordButton({ plan, isAgreed, onRecord }: ButtonProps) {
  const count = plan?.ok ? plan.value.takes.length : 0;
  const isOdd = plan?.ok === true && plan.value.warnings.length > 0;
  const pieces = `${count} ${count === 1 ? "piece" : "pieces"}`;
  return (
    <div class="bench-foot">
      <button type="button" class="act" disabled={count === 0} onClick={onRecord} data-testid="record-it">
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
  );
}
