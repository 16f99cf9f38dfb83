// Keeping a plan: what is said where none is kept, and the question before one takes the place of another.
import { useState } from "preact/hooks";
import { moneyText } from "../../app/edition/money-text";
import type { Session } from "../../app/edition/session";
import { dayText } from "../../app/edition/written-days";
import { keepPlanAnew } from "../../app/settle/against-plan";
import { heldPlan } from "../../core/record/kept-plan";
import { TableHead } from "../controls/table-head";

/** No plan is kept: before the run it will be, and afterwards what the sheets plan now can be. */
export function NoPlan({ session, hasBegun }: { readonly session: Session; readonly hasBegun: boolean }) {
  if (!hasBegun)
    return (
      <p>
        The run has not begun. The plan is kept, with everything it hangs on, when the first piece has something entered
        at a step: on Record, on the Pieces sheet or from a file. What then comes of it is held against it here.
      </p>
    );
  return (
    <>
      <p>
        Nobody kept the plan when this run began, so there is nothing to hold it against. You can keep what the sheets
        plan today: prices, losses, minutes and starts as they stand now. What was altered since the run began is then
        no cause of anything.
      </p>
      <button type="button" class="act" onClick={() => keepPlanAnew(session)}>
        Keep what the sheets plan today
      </button>
    </>
  );
}

const SHOWN = [
  ["plan_pays", "Plan leaves", true],
  ["plan_cost", "Planned cost", true],
  ["plan_standard", "A standard piece is planned to cost", true],
  ["wanted", "Pieces to deliver", false],
  ["starts", "Pieces to start", false],
] as const;

/** Keeps the plan anew, after it was said what that puts in the place of what. */
export function KeepPlan({ session }: { readonly session: Session }) {
  const [isAsked, setAsked] = useState(false);
  const plan = heldPlan(session.book.value);
  if (!plan) return null;
  const isFirst = session.book.value.lists.plans.length === 1;
  const day = dayText(plan.at, session.formats.locale);
  const number = (value: unknown, isMoney: boolean) =>
    typeof value !== "number" ? "–" : isMoney ? moneyText(session, value) : String(value);
  return (
    <>
      <button type="button" aria-expanded={isAsked} onClick={() => setAsked(!isAsked)}>
        Keep the plan anew…
      </button>
      {isAsked ? (
        <section class="asks" aria-label="Keep the plan anew">
          <p>
            What the sheets plan today becomes the plan that this run is held against.{" "}
            {isFirst
              ? `The plan of ${day}, with which the run began, stays kept as the first one.`
              : `The plan of ${day} is given up; the first one stays kept.`}{" "}
            One press of Undo takes this back.
          </p>
          <table class="plain-table">
            <TableHead titles={["what", `kept ${day}`, "on the sheets today"]} />
            <tbody>
              {SHOWN.map(([line, title, isMoney]) => (
                <tr key={line}>
                  <th scope="row">{title}</th>
                  <td>{number(plan.lines[line], isMoney)}</td>
                  <td>{number(session.result(line, "edition"), isMoney)}</td>
                </tr>
              ))}
            </tbody>
          </table>
          <div class="answers">
            <button
              type="button"
              class="act"
              onClick={() => {
                if (keepPlanAnew(session)) setAsked(false);
              }}
            >
              Keep today’s plan
            </button>
            <button type="button" onClick={() => setAsked(false)}>
              Leave it as it is
            </button>
          </div>
        </section>
      ) : null}
    </>
  );
}
