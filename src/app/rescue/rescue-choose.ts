// Choosing a way forward: its steps are added to the pieces, or they are passed or lost; one step of the history each.
// And the maker's recipes: kept, changed, removed.
import { rowLabel, rowOf } from "../../core/document/access";
import type { NewRecipe } from "../../core/record/recipes";
import { dropRecipe, keepRecipe } from "../../core/record/recipes";
import { stepsToCome, stepTitle } from "../../core/steps/piece-steps";
import { commit } from "../commands/commands";
import type { Session } from "../edition/session";
import { type Asked, recordPieces } from "../record/record";
import type { RescueTable } from "./rescue";
import { recommendation } from "./rescue-words";

/** What choosing a way records: its steps, or how the pieces leave, at the price it was weighed with. */
export function askedOfWay(table: RescueTable, way: string): Asked {
  const recipe = table.columns.find((column) => column.recipe.id === way)?.recipe;
  const sold = table.prices.get(way);
  if (recipe) {
    const { title, steps } = recipe;
    return { kind: "rescue", title, steps, ...(sold?.isOwn ? { price: sold.price } : {}) };
  }
  if (way === "scrap") return { kind: "lost", step: table.lastStep ?? "", reason: "scrapped: not worth a rescue" };
  return { kind: "passed", grade: "second", price: sold?.isOwn ? sold.price : "of its grade" };
}

/** Chooses a way: records it with the recommendation beside it in the run log. */
export function chooseWay(session: Session, table: RescueTable, way: string): boolean {
  return recordPieces(session, table.pieces, askedOfWay(table, way), `Weighed: ${recommendation(session, table)}`);
}

/** What a piece waits for now, in words. */
export function sayWaits(session: Session, id: string): string {
  const book = session.book.value;
  const piece = rowOf(book, "pieces", id);
  if (!piece) return "is gone";
  if (piece.cells.lost_at !== undefined) return `is lost at ${stepTitle(book, String(piece.cells.lost_at))}`;
  if (piece.cells.grade !== undefined) return `is passed as ${piece.cells.grade}`;
  const [next] = stepsToCome(book, piece);
  return next ? `waits for ${rowLabel("route", next)}` : "waits to be passed";
}

/** Keeps a recipe, new or changed. */
export function saveRecipe(session: Session, recipe: NewRecipe & { readonly id?: string }): boolean {
  return commit(session, keepRecipe(session.book.value, recipe));
}

/** Removes a recipe. */
export function removeRecipe(session: Session, id: string): void {
  commit(session, { ok: true, value: dropRecipe(session.book.value, id) });
}
