import { figuresOf, phaseOf } from "../../app/edition/figures";
import type { Session } from "../../app/edition/session";
import { isShelf } from "../../core/document/shelf-kind";
import { lazily } from "./lazily";
import { showExplained } from "./open-dialog";

/** Key figures of the phase the edition is in; each leads to where it comes from. */
export function Figures({ session }: { readonly session: Session }) {
  session.valuesVersion.value;
  if (isShelf(session.book.value)) return <section class="figures" aria-label="Key figures" />;
  return (
    <section class="figures" aria-label="Key figures">
      {figuresOf(session).map((figure) => (
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
      {phaseOf(session) === "before" ? <LazyReady session={session} /> : null}
    </section>
  );
}

/** When it can be ready: the calendar is fetched once there is a plan without a run. */
const LazyReady = lazily(() => import("../plan/ready-figure").then(({ ReadyFigure }) => ReadyFigure));
