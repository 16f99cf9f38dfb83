// Choosing a way forward: its steps are added to the pieces, or they are passed or lost; one step of the history each.
// And the maker's recipes: kept, changed, removed.
import type { FiringWish } from "../core/firing-wish";
import type { NewRecipe, Recipe } from "../core/recipes";
import { dropRecipe, keepRecipe } from "../core/recipes";
import { commit } from "./commands";
import { type Asked, recordPieces } from "./record";
import type { RescueTable } from "./rescue";
import { recommendation } from "./rescue-words";
import type { Session } from "./session";

/** What is said with the choice. */
export interface Choosing {
  /** The firing of each of the recipe's firing steps, by its place among its steps. */
  readonly firings: Readonly<Record<number, FiringWish>>;
  /** Whether it has come out well already, and is passed at once. */
  readonly isPassed: boolean;
}

/** What choosing a way would record. */
export function askedOfWay(table: RescueTable, way: string, choosing: Choosing): Asked {
  const recipe = table.columns.find((column) => column.recipe.id === way)?.recipe;
  if (recipe) return rescueAsked(recipe, choosing);
  if (way === "scrap") return { act: "lost", step: table.lastStep ?? "", reason: "scrapped: not worth a rescue" };
  return { act: "passed", grade: "second" };
}

function rescueAsked(recipe: Recipe, { firings, isPassed }: Choosing): Asked {
  const steps = recipe.steps.map((step, at) => {
    const firing = step.kind === "firing" ? firings[at] : undefined;
    return firing ? { ...step, firing } : step;
  });
  return { act: "rescue", title: recipe.title, steps, ...(isPassed ? { grade: recipe.grade } : {}) };
}

/** Chooses a way: records it with the recommendation beside it in the run log. */
export function chooseWay(session: Session, table: RescueTable, way: string, choosing: Choosing): boolean {
  return recordPieces(
    session,
    table.pieces,
    askedOfWay(table, way, choosing),
    `Weighed: ${recommendation(session, table)}`,
  );
}

/** Keeps a recipe, new or changed. */
export function saveRecipe(session: Session, recipe: NewRecipe & { readonly id?: string }): boolean {
  return commit(session, keepRecipe(session.book.value, recipe));
}

/** Removes a recipe. */
export function removeRecipe(session: Session, id: string): void {
  commit(session, { ok: true, value: dropRecipe(session.book.value, id) });
}
