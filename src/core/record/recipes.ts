// Rescue recipes: extra steps for a flawed piece, kept to be used again. The maker makes, edits and removes them; the
// starters are put together from the edition's own route, materials and kilns, and are offered, never forced.
import type { Change } from "../document/change";
import { addEntry, changeEntry, freshEntryId, removeEntry } from "../document/list-edits";
import type { ListEntry, Workbook } from "../document/workbook";
import { fail, ok, type Problem, problem, type Result } from "../problem";
import { isFiringStep, type StepKind } from "../sheets/step-kinds";
import { type ExtraStep, repeatOf, stepProblems } from "../steps/extra-steps";

export type Recipe = ListEntry<"recipes">;
/** A recipe that is not kept yet. */
export type NewRecipe = Omit<Recipe, "id">;

/** Keeps a recipe: a new one, or in the place of the one with its id. */
export function keepRecipe(book: Workbook, recipe: NewRecipe & { readonly id?: string }): Result<Change> {
  const title = recipe.title.trim();
  const problems = recipeProblems(book, { ...recipe, title });
  if (problems.length > 0) return fail(...problems);
  const kept: Recipe = { ...recipe, title, id: recipe.id ?? freshEntryId(book, "recipes") };
  const operations = recipe.id === undefined ? [addEntry(book, "recipes", kept)] : changeEntry(book, "recipes", kept);
  return ok({ label: `Recipe: ${title}`, operations });
}

/** Removes a recipe; steps that pieces have had by it stay. */
export function dropRecipe(book: Workbook, id: string): Change {
  const title = book.lists.recipes.find((recipe) => recipe.id === id)?.title ?? id;
  return { label: `Remove recipe: ${title}`, operations: removeEntry(book, "recipes", id) };
}

/** What is wrong with a recipe in this edition, its materials and kilns included. */
export function recipeProblems(book: Workbook, recipe: NewRecipe & { readonly id?: string }): Problem[] {
  const problems = recipe.steps.flatMap((step) => stepProblems(book, step));
  const wrong = (isFine: boolean, where: string, found: unknown, allowed: string) => {
    if (!isFine) problems.push(problem({ code: "recipe.entry", where: `Recipe, ${where}`, found, allowed }));
  };
  const isFree = book.lists.recipes.every(
    (other) => other.id === recipe.id || other.title.toLowerCase() !== recipe.title.toLowerCase(),
  );
  wrong(
    recipe.title !== "" && recipe.title.length <= 80 && isFree,
    "name",
    recipe.title,
    "1 to 80 characters that no other recipe has",
  );
  wrong(recipe.steps.length > 0 && recipe.steps.length <= 20, "steps", recipe.steps.length, "1 to 20 steps");
  wrong(recipe.chance >= 0 && recipe.chance <= 1, "chance", recipe.chance, "a share from 0 to 1");
  wrong(
    recipe.failed >= 0 && Number.isFinite(recipe.failed),
    "fetches if it fails",
    recipe.failed,
    "an amount, 0 or more",
  );
  wrong(recipe.days >= 0 && recipe.days <= 1000, "days", recipe.days, "0 to 1000 days");
  wrong(recipe.fetches === undefined || recipe.fetches >= 0, "fetches", recipe.fetches, "an amount, 0 or more");
  return problems;
}

/** Recipes that this edition's own route, materials and kilns allow, those it has already left out. */
export function starterRecipes(book: Workbook): readonly NewRecipe[] {
  const has = new Set(book.lists.recipes.map(({ title }) => title.toLowerCase()));
  const glaze = lastOf(book, "coat");
  const metal = firstOf(book, "metal");
  const glazeFiring = glaze && firingAfter(book, glaze.id);
  const lowFiring = metal && firingAfter(book, metal.id);
  const starters: NewRecipe[] = [];
  if (glaze && glazeFiring) {
    const strip: ExtraStep = { kind: "hand", title: "Strip the glaze", cells: { minutes: 25 } };
    const again = { ...glazeFiring.step, title: "Refire" };
    starters.push(
      starter("Strip and recoat", [strip, { ...glaze.step, title: "Recoat" }, again], 0.6, 6),
      starter(
        "Another glaze coat and firing",
        [{ ...glaze.step, title: "One more coat", cells: { ...glaze.step.cells, coats: 1 } }, again],
        0.7,
        4,
      ),
    );
  }
  if (metal && lowFiring)
    starters.push(
      starter(
        "Cover with lustre",
        [
          { ...metal.step, title: "Lustre over the flaw" },
          { ...lowFiring.step, title: "Low firing of the flaw" },
        ],
        0.75,
        4,
      ),
    );
  return starters.filter(({ title }) => !has.has(title.toLowerCase()));
}

function starter(title: string, steps: readonly ExtraStep[], chance: number, days: number): NewRecipe {
  return { title, note: "a starter: put in your own chance and times", steps, chance, grade: "good", failed: 0, days };
}

interface Found {
  readonly id: string;
  readonly step: ExtraStep;
}

function found(book: Workbook, id: string | undefined): Found | undefined {
  const step = id === undefined ? undefined : repeatOf(book, id);
  return id === undefined || !step ? undefined : { id, step };
}

const ofKind = (book: Workbook, kind: StepKind) =>
  book.sheets.route.rows.filter((row) => row.cells.kind === kind && row.cells.who !== "as needed");

const lastOf = (book: Workbook, kind: StepKind) => found(book, ofKind(book, kind).at(-1)?.id);
const firstOf = (book: Workbook, kind: StepKind) => found(book, ofKind(book, kind)[0]?.id);

function firingAfter(book: Workbook, id: string): Found | undefined {
  const { rows } = book.sheets.route;
  const after = rows.slice(rows.findIndex((row) => row.id === id) + 1);
  return found(book, after.find((row) => isFiringStep(row) && row.cells.who !== "as needed")?.id);
}
