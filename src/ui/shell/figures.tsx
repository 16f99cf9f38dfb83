import { figuresOf } from "../../app/edition/figures";
import type { Session } from "../../app/edition/session";
import { showExplained } from "./open-dialog";

/** Key figures; each leads to where it comes from. */
export function Figures({ session }: { readonly session: Session }) {
  session.valuesVersion.value;
  session.book.value;
  return (
    <section class="figures" aria-label="Key figures">
      {figuresOf(session).map((figure) => (
        <button
          type="button"
          key={figure.id}
          data-testid={`figure-${figure.id}`}
          title="Show where this number comes from"
          onClick={() => showExplained(session, { sheet: figure.sheet, row: figure.row, column: "value" })}
        >
          <span>{figure.title}</span>
          <b>{figure.text}</b>
        </button>
      ))}
    </section>
  );
}
