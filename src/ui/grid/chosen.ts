// Which grid a build holds. The other one is left out of it altogether (see vite.config.ts).
import type { CreateGrid } from "./port";

/** Loads the grid of this build. */
export function loadGrid(): Promise<{ readonly createGrid: CreateGrid }> {
  return import.meta.env.VITE_GRID === "handsontable"
    ? import("./handsontable/handsontable-grid")
    : import("./free/free-grid");
}
