// The pieces an action is for: those named in the box, otherwise the rows selected on the Pieces sheet.
import { signal } from "@preact/signals";
import type { Session } from "../app/session";
import { choosePieces } from "../core/piece-edits";
import { fail, ok, problem, type Result } from "../core/problem";

export const chosenText = signal("");

/** Ids of the chosen pieces, or why there are none. */
export function chosenPieces(session: Session): Result<readonly string[]> {
  if (chosenText.value.trim() !== "") return choosePieces(session.book.value, chosenText.value);
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
