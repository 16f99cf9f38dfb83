// The way a piece goes: a strip of steps with what each takes and loses, opened in place for the rest.

import { moveRouteStep, removeRouteStep } from "../../app/commands/step-commands";
import { showNumber } from "../../app/edition/format";
import type { Session } from "../../app/edition/session";
import type { PlanStep } from "../../app/plan/plan-parts";
import { numberAt, storyMoney } from "../../app/settle/story";
import { plural } from "../../core/counted";
import { LinkedNumber } from "../controls/linked-number";
import { showDialog } from "../shell/open-dialog";
import { PlanInput } from "./plan-input";

interface Props {
  readonly session: Session;
  readonly steps: readonly PlanStep[];
  /** The step that is open. */
  readonly open: string | undefined;
  readonly onOpen: (step: string | undefined) => void;
}

export function Way({ session, steps, open, onOpen }: Props) {
  return (
    <>
      <ol class="way">
        {steps.map((step) => (
          <Step
            key={step.id}
            session={session}
            step={step}
            isOpen={open === step.id}
            onOpen={() => onOpen(open === step.id ? undefined : step.id)}
          />
        ))}
      </ol>
      <button type="button" onClick={() => showDialog("step")}>
        Add a step…
      </button>
    </>
  );
}

interface StepProps {
  readonly session: Session;
  readonly step: PlanStep;
  readonly isOpen: boolean;
  readonly onOpen: () => void;
}

function Step({ session, step, isOpen, onOpen }: StepProps) {
  const { id, title, fields, more } = step;
  const each = storyMoney(session, { sheet: "route", row: id, column: "plan_each" });
  return (
    <li class={`step${step.isFiring ? " firing" : ""}${isOpen ? " open" : ""}`}>
      <button type="button" class="step-title" aria-expanded={isOpen} onClick={onOpen}>
        {title}
      </button>
      <div class="step-fields">
        {fields.map((field) => (
          <PlanInput key={field.cell.column} session={session} field={field} />
        ))}
      </div>
      <p class="step-cost">
        <LinkedNumber session={session} number={each} /> a piece
        {step.isFiring ? <Load session={session} step={id} /> : null}
      </p>
      {isOpen ? (
        <div class="step-more">
          <div class="fields">
            {more.map((field) => (
              <PlanInput key={field.cell.column} session={session} field={field} />
            ))}
          </div>
          <div class="step-acts">
            <button type="button" onClick={() => moveRouteStep(session, id, -1)}>
              Earlier
            </button>
            <button type="button" onClick={() => moveRouteStep(session, id, 1)}>
              Later
            </button>
            <button type="button" onClick={() => removeRouteStep(session, id)}>
              Take it out
            </button>
          </div>
        </div>
      ) : null}
    </li>
  );
}

/** How many loads a firing takes, and how many pieces go into one. */
function Load({ session, step }: { readonly session: Session; readonly step: string }) {
  session.valuesVersion.value;
  const number = (column: string) => numberAt(session, { sheet: "route", row: step, column });
  const [loads, room] = [number("plan_loads"), number("room")];
  if (loads === undefined || room === undefined) return null;
  const count = (value: number) => showNumber(value, 0, 0, session.formats.locale);
  return (
    <small>
      {count(loads)} {plural(loads, "load")}, {count(room)} fit in one
    </small>
  );
}
