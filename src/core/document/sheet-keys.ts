/** The newest document format this code writes. */
export const FORMAT_VERSION = 6;
/** How often the standard sheets have changed since documents hold only what is the maker's (`SHEET_CHANGES`). */
export const SHEETS_VERSION = 8;

/** Sheets of an edition, in the order in which they are listed. */
export const SHEET_KEYS = [
  "edition",
  "route",
  "materials",
  "purchases",
  "kilns",
  "programmes",
  "tariffs",
  "firings",
  "pieces",
  "channels",
  "results",
] as const;
export const SHEET_TITLES: Readonly<Record<SheetKey, string>> = {
  edition: "Edition",
  route: "Route",
  materials: "Materials",
  purchases: "Purchases",
  kilns: "Kilns",
  programmes: "Programmes",
  tariffs: "Tariffs",
  firings: "Firings",
  pieces: "Pieces",
  channels: "Channels",
  results: "Results",
};
/** What an edition keeps beside its sheets: run log, what-if cases, rescue recipes, plausible ranges, kept plans, books given out. */
export type ListKey = "log" | "cases" | "recipes" | "ranges" | "plans" | "packs";
export type SheetKey = (typeof SHEET_KEYS)[number];

/** How the use of a material is priced: at the average of what is there, or at the price of the oldest of it. */
export const STOCK_METHODS = ["average", "first in first out"] as const;

/** The kinds of step there are; what each means stands in sheets/step-kinds.ts. */
export const STEP_KINDS = ["cast", "hand", "coat", "metal", "firing"] as const;
/** The kinds in which a piece is made of clay. */
export const MAKING_KINDS = ["cast"] as const;
