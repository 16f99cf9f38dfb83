// The way that was chosen: into which firings, what will happen, and the press that does it.
import { useState } from "preact/hooks";
import { planAsked } from "../../app/record";
import type { RescueTable } from "../../app/rescue";
import { askedOfWay, type Choosing, chooseWay } from "../../app/rescue-choose";
import type { Session } from "../../app/session";
import { FiringField } from "./firing-field";
import { PlanWords } from "./plan-words";

interface Props {
  readonly session: Session;
  readonly table: RescueTable;
  readonly way: string;
  readonly onDone: () => void;
}

/** What choosing a way does, before it is done. */
export function RescueChoice({ session, table, way, onDone }: Props) {
  const [choosing, setChoosing] = useState<Choosing>({ firings: {}, isPassed: false });
  const recipe = table.columns.find((column) => column.recipe.id === way)?.recipe;
  const title = table.weighed.ways.find((one) => one.id === way)?.title ?? "";
  const plan = planAsked(session, table.pieces, askedOfWay(table, way, choosing));
  const newBefore = (at: number) =>
    Object.entries(choosing.firings).filter(([other, wish]) => Number(other) < at && wish.is === "new").length;
  return (
    <section class="chosen-way" aria-label={`${title}: what will happen`}>
      <h3>{title}</h3>
      {recipe?.steps.map((step, at) =>
        step.kind === "firing" ? (
          <FiringField
            key={`${at} ${step.title}`}
            session={session}
            step={stepLike(session, step.cells.programme)}
            title={`${step.title}: into which firing?`}
            wish={choosing.firings[at]}
            at={newBefore(at)}
            blank="Not fired yet"
            onWish={(wish) => {
              const { [at]: _, ...others } = choosing.firings;
              setChoosing({ ...choosing, firings: wish ? { ...others, [at]: wish } : others });
            }}
          />
        ) : null,
      )}
      {recipe ? (
        <button
          type="button"
          aria-pressed={choosing.isPassed}
          onClick={() => setChoosing({ ...choosing, isPassed: !choosing.isPassed })}
        >
          It has come out well: pass it as {recipe.grade} at once
        </button>
      ) : null}
      <PlanWords session={session} plan={plan} />
      <button
        type="button"
        class="act"
        disabled={!plan.ok || plan.value.operations.length === 0}
        onClick={() => chooseWay(session, table, way, choosing) && onDone()}
      >
        Do this: {title}
      </button>
    </section>
  );
}

/** A step of the route with that programme, whose kiln a new firing would take. */
function stepLike(session: Session, programme: unknown): string {
  const { rows } = session.book.value.sheets.route;
  return rows.find((row) => row.cells.kind === "firing" && row.cells.programme === programme)?.id ?? "";
}
