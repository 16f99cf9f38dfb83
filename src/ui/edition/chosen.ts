// The pieces an action is for: those named in the box, otherwise the rows selected on the Pieces sheet.
import { signal } from "@preact/signals";
import { perSession } from "../../app/edition/per-session";
import type { Page, Session } from "../../app/edition/session";
import { fail, ok, problem, type Result } from "../../core/problem";
import { choosePieces, piecesAsText } from "../../core/record/choose-pieces";
import { showPage } from "./go-to";

/** What the form of the Record page opens with in the place of a plain recording: steps besides, or minutes that were measured. */
type RecordWish =
  | { readonly act: "extra" }
  | {
      readonly act: "minutes";
      readonly step: string;
      readonly amount: string;
      readonly isTogether: true;
      readonly isTimed: true;
    };
export const recordWishOf = perSession(() => signal<RecordWish | undefined>(undefined));

/** Opens a page for the chosen pieces: those named in the box stay so, selected rows are named in it. */
export function openFor(session: Session, page: Page): void {
  const chosen = chosenPieces(session);
  if (chosen.ok && session.chosen.value.trim() === "")
    session.chosen.value = piecesAsText(session.book.value, chosen.value);
  showPage(session, page);
}

/** Ids of the pieces named in the box, or what is wrong with them; undefined where nothing is. */
export function namedInBox(session: Session): Result<readonly string[]> | undefined {
  return session.chosen.value.trim() === "" ? undefined : choosePieces(session.book.value, session.chosen.value);
}

/** Ids of the chosen pieces, or why there are none. */
export function chosenPieces(session: Session): Result<readonly string[]> {
  const named = namedInBox(session);
  if (named) return named;
  const selection = session.selection.value;
  if (selection?.sheet === "pieces" && selection.rows.length > 0) return ok(selection.rows);
  return fail(
    problem({
      code: "pieces.none",
      where: "Pieces",
      found: "",
      allowed: "piece numbers such as 41-60, 66, 70-",
      fix: "Type them in the box above the sheet, or select rows.",
    }),
  );
}
