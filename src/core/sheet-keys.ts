/** The newest document format this code writes. */
export const FORMAT_VERSION = 1;

/** Sheets of an edition, in the order in which they are listed. */
export const SHEET_KEYS = [
  "edition",
  "route",
  "materials",
  "kilns",
  "programmes",
  "tariffs",
  "firings",
  "pieces",
  "results",
] as const;
export type SheetKey = (typeof SHEET_KEYS)[number];
