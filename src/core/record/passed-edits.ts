// Passing pieces as good or second, with a price of their own where one was agreed.
import { listed } from "../counted";
import type { Row, Workbook } from "../document/workbook";
import { fail, ok, problem, type Result } from "../problem";
import { isFiringStep } from "../sheets/step-kinds";
import { doneColumnOf, stepsToCome, stepTitle, usualAmount } from "../steps/piece-steps";
import { namePieces } from "./choose-pieces";
import { PlanDraft, type RecordPlan } from "./record-plan";
import { goneAlready } from "./sale-edits";

/** Pieces that are passed, or no longer. */
export interface PassedRecording {
  readonly kind: "passed";
  readonly grade: "good" | "second" | undefined;
  /** What it is to be sold at: an amount of its own, or again that of its grade; as it was where nothing is said. */
  readonly price?: number | "of its grade";
  /** Whether the steps still to come that are not fired are filled in with what is usual of them, as looked over and packed. */
  readonly isFinished?: boolean;
}

/** What passing pieces would do: their grade, a price of their own, and the last steps that are not fired. */
export function planPassed(
  book: Workbook,
  pieces: readonly Row[],
  { grade, price, isFinished }: PassedRecording,
): Result<RecordPlan> {
  if (typeof price === "number" && !(Number.isFinite(price) && price >= 0))
    return fail(
      problem({ code: "record.price", where: "A price of its own", found: "", allowed: "an amount of 0 or more" }),
    );
  const draft = new PlanDraft(book);
  for (const piece of pieces) {
    const gone = goneAlready(piece);
    if (piece.cells.lost_at !== undefined)
      draft.leave(piece, `lost at ${stepTitle(book, String(piece.cells.lost_at))}`);
    else if (gone) draft.leave(piece, gone);
    else if (!draft.put(piece, "grade", grade)) {
      if (!grade || !putPrice(draft, piece, price))
        draft.leave(piece, grade ? `passed as ${grade} already` : "not passed");
    } else if (grade !== undefined) {
      const left = stepsToCome(book, piece);
      const finished = isFinished ? left.filter((step) => putUsual(draft, piece, step)) : [];
      const toCome = left.filter((step) => !finished.includes(step)).map(({ cells }) => cells.title);
      if (toCome.length > 0) draft.warn(piece, `still to come: ${listed(toCome.map(String))}`);
      putPrice(draft, piece, price);
      if (price === undefined && piece.cells.own_price !== undefined)
        draft.warn(piece, "keeps the price of its own that it has");
    }
  }
  const what = grade ? `Passed as ${grade}` : "Not passed";
  return ok(draft.finish("passed", (ids) => `${what}: ${namePieces(book, ids)}`));
}

/** Gives a piece a price of its own, or again that of its grade; false where nothing is said of it, or it has it already. */
function putPrice(draft: PlanDraft, piece: Row, price: PassedRecording["price"]): boolean {
  return price !== undefined && draft.put(piece, "own_price", price === "of its grade" ? undefined : price);
}

/** Fills a step in with what is usual of it; false for a firing, and where the Route gives nothing usual. */
function putUsual(draft: PlanDraft, piece: Row, step: Row): boolean {
  const column = doneColumnOf(step);
  const usual = isFiringStep(step) ? undefined : usualAmount(step);
  return column !== undefined && usual !== undefined && draft.put(piece, column, usual);
}
