// The maker's rescue recipes: made, changed and removed here; starters are offered.

import { useState } from "preact/hooks";
import type { Session } from "../../app/edition/session";
import { removeRecipe, saveRecipe } from "../../app/rescue/rescue-choose";
import { sayShare } from "../../app/rescue/rescue-words";
import { counted } from "../../core/counted";
import { type NewRecipe, type Recipe, starterRecipes } from "../../core/record/recipes";
import { RecipeForm } from "./recipe-form";

const BLANK: NewRecipe = { title: "", steps: [], chance: 0.5, grade: "good", failed: 0, days: 3 };

/** Recipes, and what can be done with them. */
export function RecipeList({ session }: { readonly session: Session }) {
  const { recipes } = session.book.value.lists;
  const [edited, setEdited] = useState<(NewRecipe & { readonly id?: string }) | undefined>(undefined);
  const starters = starterRecipes(session.book.value);
  return (
    <section class="recipes" aria-labelledby="recipes">
      <h3 id="recipes">Recipes</h3>
      {recipes.length === 0 ? (
        <p class="quiet">Extra steps that rescue a flawed piece, kept to be used again.</p>
      ) : null}
      <ul class="entries">
        {recipes.map((recipe) => (
          <li key={recipe.id}>
            <div class="entry-text">
              <b>{recipe.title}</b>
              <span class="quiet">{wordsOf(session, recipe)}</span>
            </div>
            <button type="button" onClick={() => setEdited(recipe)}>
              Change<span class="unseen"> {recipe.title}</span>
            </button>
            <button type="button" onClick={() => removeRecipe(session, recipe.id)}>
              Remove<span class="unseen"> {recipe.title}</span>
            </button>
          </li>
        ))}
      </ul>
      <div class="each">
        <button type="button" onClick={() => setEdited(BLANK)}>
          Make a recipe
        </button>
        {starters.map((starter) => (
          <button type="button" key={starter.title} onClick={() => setEdited(starter)}>
            Start from: {starter.title}
          </button>
        ))}
      </div>
      {edited ? (
        <RecipeForm
          key={`${edited.id ?? ""} ${edited.title}`}
          session={session}
          recipe={edited}
          onKeep={(recipe) => saveRecipe(session, recipe) && setEdited(undefined)}
          onClose={() => setEdited(undefined)}
        />
      ) : null}
    </section>
  );
}

function wordsOf(session: Session, recipe: Recipe): string {
  const steps = recipe.steps.map(({ title }) => title).join(", ");
  const days = counted(recipe.days, "day");
  const note = recipe.note ? ` · ${recipe.note}` : "";
  return `${steps} · ${days} · comes out well ${sayShare(session, recipe.chance)}, then passed as ${recipe.grade}${note}`;
}
