// The door of this folder: nobody outside imports another of its files, save `words.ts`, which loads no library.
export { onEveryFormula } from "./guard";
export { prepareEngine } from "./patches";
export { isKnownFunction } from "./plugin";
export { FormulaMarks, looksMarked, unmarked } from "./shared-formulas";
