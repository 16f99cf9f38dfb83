import type { Session } from "../../app/edition/session";
import { useReadyOn } from "./use-ready-on";

/** The key figure that says when everything can be ready; it leads to the calendar. */
export function ReadyFigure({ session }: { readonly session: Session }) {
  const ready = useReadyOn(session);
  return (
    <button
      type="button"
      data-testid="figure-ready"
      title="Show the calendar this comes from"
      onClick={() => {
        session.page.value = "calendar";
        session.selection.value = undefined;
      }}
    >
      <span>{ready?.isLate ? "Ready, after it is due" : "Ready on"}</span>
      <b class={ready?.isLate ? "minus" : undefined}>{ready?.text ?? "…"}</b>
    </button>
  );
}
