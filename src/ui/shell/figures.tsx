import { figuresOf, phaseOf } from "../../app/edition/figures";
import { perSession } from "../../app/edition/per-session";
import type { Session } from "../../app/edition/session";
import { stableComputed } from "../../app/edition/stable-computed";
import { isShelf } from "../../core/document/shelf-kind";
import { lazily } from "./lazily";
import { showExplained } from "./open-dialog";

const shownFigures = perSession((session) =>
  stableComputed(() => {
    session.valuesVersion.value;
    return isShelf(session.book.value)
      ? { figures: [], phase: undefined }
      : { figures: figuresOf(session), phase: phaseOf(session) };
  }),
);

/** Key figures of the phase the edition is in, none of a shelf; each leads to where it comes from. */
export function Figures({ session }: { readonly session: Session }) {
  const { figures, phase } = shownFigures(session).value;
  return (
    <section class="figures" aria-label="Key figures">
      {figures.map((figure) => (
        <button
          type="button"
          key={figure.id}
          data-testid={`figure-${figure.id}`}
          title={`Show where this number comes from${figure.planWords ? `; plan: ${figure.planWords}` : ""}`}
          onClick={() => showExplained(session, { sheet: figure.sheet, row: figure.row, column: "value" })}
        >
          <span>{figure.title}</span>
          <b class={figure.isMinus ? "minus" : undefined}>{figure.text}</b>
          {figure.plan === undefined ? null : <small> plan {figure.plan}</small>}
        </button>
      ))}
      {phase === "before" ? <LazyReady session={session} /> : null}
    </section>
  );
}

/** When it can be ready: the calendar is fetched once there is a plan without a run. */
const LazyReady = lazily(() => import("../plan/ready-figure").then(({ ReadyFigure }) => ReadyFigure));
