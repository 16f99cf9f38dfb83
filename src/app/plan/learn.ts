// What was seen becomes the plan.
import { counted } from "../../core/counted";
import { rowLabel } from "../../core/document/access";
import { type CellEntry, writeEntries } from "../../core/document/edits";
import type { Session } from "../edition/session";

/** Makes the loss seen at each step its planned loss, as one step of the history; steps never seen keep theirs. */
export function planWhatWasSeen(session: Session): void {
  const book = session.book.value;
  const everything: string[] = [];
  const entries = book.sheets.route.rows.flatMap((row): CellEntry[] => {
    const rate = session.value({ sheet: "route", row: row.id, column: "known_rate" });
    if (typeof rate !== "number") return [];
    if (rate >= 1) everything.push(rowLabel("route", row));
    // To a hundredth of a percent: finer than any count can tell.
    const typed = (Math.round(rate * 10_000) / 100).toFixed(2);
    return rate < 1 ? [{ cell: { sheet: "route", row: row.id, column: "loss" }, typed }] : [];
  });
  const label = "Use what was seen as the planned loss";
  const { change, refused } = writeEntries(book, entries, { label, marks: { decimal: "." }, override: false });
  if (!session.commit(change)) return;
  const kept = everything.map((step) => `${step}: every piece so far was lost there; no plan can be made from that.`);
  const details = [...kept, ...refused.map(({ message }) => message)];
  if (entries.length === 0)
    session.notify("refused", "Nothing has been seen yet: no piece has entered a step.", details);
  else
    session.notifyDone(
      `The planned loss of ${counted(entries.length, "step")} is what was seen. Look at “at least” and “at most”: few pieces say little.`,
      details,
    );
}
