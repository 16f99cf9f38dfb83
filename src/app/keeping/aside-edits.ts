// Edits that were set aside because they did not fit the edition when it was opened: put back as far as they fit, or given up.
import { counted } from "../../core/counted";
import { fitEdits } from "../../core/document/fit-edits";
import type { AsideEdits } from "../../storage/last-edits";
import type { KeptEdition } from "./kept-edition";

/** Makes one change of what still fits; what does not stays set aside, with a message. */
export function applyAside({ session, unsaved }: KeptEdition, one: AsideEdits): void {
  const [first] = one.edits;
  const label =
    one.edits.length === 1 ? `Put back: ${first?.change.label}` : `Put back ${counted(one.edits.length, "edit")}`;
  const changes = one.edits.map(({ change }) => change);
  const { change, left } = fitEdits(session.book.value, changes, label);
  if (!session.commit(change)) return;
  unsaved.keepAside(one, left);
  const hasPart = change.operations.length > 0;
  if (left.length === 0) session.notify("done", `${label}.`);
  else
    session.notify(
      "refused",
      hasPart
        ? `${label}, as far as they fit. What does not stays set aside:`
        : "Nothing of these edits fits the edition as it is now. They stay set aside:",
      left.map((unfit) => `${unfit.change.label}: ${unfit.why}.`),
    );
}

/** Gives up edits that were set aside. */
export function discardAside({ unsaved }: KeptEdition, one: AsideEdits): void {
  unsaved.keepAside(one, []);
}
