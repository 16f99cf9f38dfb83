// Two editions opened one after the other: what the maker chose, filtered, drafted or typed in one is not seen in the other.
import { expect, it } from "vitest";
import { demoEdition } from "../../src/app/demo/demo";
import { loadsState } from "../../src/app/loads/loads-state";
import { paperChoiceOf } from "../../src/app/paper/choice";
import { recordWishOf } from "../../src/ui/edition/chosen";
import { askWishOf, goTo, wantedCellOf } from "../../src/ui/edition/go-to";
import { dropText, keepText, keptTextsOf } from "../../src/ui/edition/kept-text";
import { setView, sheetViewOf, shownRows } from "../../src/ui/edition/rows-shown";
import { explainedCellOf, showExplained } from "../../src/ui/shell/open-dialog";
import { openSession } from "../tools/open-session";

/** All that is kept of an open edition besides its document, as plain data. */
function stateOf(session: ReturnType<typeof openSession>["session"]) {
  const { again, draft, kilnsLeftOut, firingsChosen } = loadsState(session);
  return {
    view: sheetViewOf(session, "pieces"),
    rows: shownRows(session),
    chosen: session.chosen.value,
    selection: session.selection.value,
    folded: [...session.folded.value],
    kept: keptTextsOf(session).value,
    wanted: wantedCellOf(session).value,
    wishes: [askWishOf(session).value, recordWishOf(session).value],
    explained: explainedCellOf(session).value,
    paper: paperChoiceOf(session).value,
    loads: [again.value, draft.value, [...kilnsLeftOut.value], [...firingsChosen.value]],
  };
}

it("an edition that is opened after another begins with nothing of it, and finds its own again", () => {
  const book = demoEdition();
  const first = openSession(book).session;
  const untouched = stateOf(first);
  setView(first, "pieces", { ...sheetViewOf(first, "pieces"), find: "no piece is named so" });
  first.chosen.value = "41-60";
  goTo(first, { sheet: "pieces", row: "p17", column: "refire.cost" }, "reveal");
  keepText(first, "12,5", "piece 17, minutes");
  askWishOf(first).value = "losses";
  recordWishOf(first).value = { act: "extra" };
  showExplained(first, { sheet: "results", row: "per_good", column: "value" });
  paperChoiceOf(first).value = { ...paperChoiceOf(first).value, pieces: "1-3" };
  loadsState(first).kilnsLeftOut.value = new Set(["Large kiln"]);
  const touched = stateOf(first);
  expect(touched.rows).toEqual([]);
  for (const [name, value] of Object.entries(untouched))
    if (name !== "folded") expect(touched[name as keyof typeof touched], name).not.toEqual(value);

  // The same document opened again is another edition as far as the page is concerned.
  const second = openSession(book).session;
  expect(stateOf(second)).toEqual(untouched);
  keepText(second, "7", "piece 2, coats");
  for (const kept of keptTextsOf(second).value) dropText(second, kept);
  expect(stateOf(first)).toEqual(touched);
});
