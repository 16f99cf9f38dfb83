// What a recording will do, said before it is done: for how many, who is left out and why, what is out of order.
import { counted } from "../../core/counted";
import "./plan-words.css";
import { asWritten } from "../../app/edition/money-text";
import type { Session } from "../../app/edition/session";
import type { Result } from "../../core/problem";
import { namePieces } from "../../core/record/choose-pieces";
import type { PieceNote, RecordPlan } from "../../core/record/record-plan";

interface Props {
  readonly session: Session;
  readonly plan: Result<RecordPlan> | undefined;
}

/** The plan in words; it is read out when it changes. */
export function PlanWords({ session, plan }: Props) {
  return (
    <div class="plan-words" role="status" data-testid="plan">
      {plan === undefined ? <p class="quiet">Choose pieces to see what will happen.</p> : null}
      {plan?.ok === false ? (
        <ul class="wrong">
          {plan.problems.slice(0, 5).map(({ message }) => (
            <li key={message}>{message}</li>
          ))}
        </ul>
      ) : null}
      {plan?.ok ? <Planned session={session} plan={plan.value} /> : null}
    </div>
  );
}

function Planned({ session, plan }: { readonly session: Session; readonly plan: RecordPlan }) {
  const count = plan.takes.length;
  return (
    <>
      <p>
        <b>{count === 0 ? "Nothing will happen" : `This will happen to ${counted(count, "piece")}`}</b>
        {count === 0 ? "" : `: ${namePieces(session.book.value, plan.takes)}`}
      </p>
      {plan.says.length > 0 ? (
        <ul>
          {plan.says.map((says) => (
            <li key={says}>{asWritten(session, says)}</li>
          ))}
        </ul>
      ) : null}
      <Notes session={session} lead="Left out" notes={plan.leftOut} />
      <div class={plan.warnings.length > 0 ? "mind" : undefined}>
        <Notes session={session} lead="Mind" notes={plan.warnings} />
      </div>
    </>
  );
}

function Notes(props: { readonly session: Session; readonly lead: string; readonly notes: readonly PieceNote[] }) {
  if (props.notes.length === 0) return null;
  return (
    <ul>
      {props.notes.map(({ says, pieces }) => (
        <li key={says}>
          <b>{props.lead}</b>{" "}
          {asWritten(
            props.session,
            pieces.length === 0 ? says : `${pieces.length}, ${says}: ${namePieces(props.session.book.value, pieces)}`,
          )}
        </li>
      ))}
    </ul>
  );
}
