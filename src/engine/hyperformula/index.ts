// The door of this folder: nobody outside imports another of its files, save `words.ts`, which loads no library.
export { hearEveryFormula } from "./guard";
export { prepareEngine } from "./patches";
export { FormulaMarks, looksMarked, unmarked } from "./shared-formulas";
