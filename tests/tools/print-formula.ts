// A formula's tree written out again, to hold the reader against what it has read.
import { type Notation, printPieces } from "../../src/core/formula/print";
import { referenceText } from "../../src/core/formula/reference";
import type { Expression } from "../../src/core/formula/tree";

const AS_TYPED: Notation = {
  text: (value) => `"${value.replaceAll('"', '""')}"`,
  boolean: (value) => (value ? "TRUE" : "FALSE"),
};

/** A formula as the maker types it, without the leading “=” and without spaces. */
export function printFormula(tree: Expression): string {
  return printPieces(tree, AS_TYPED)
    .map((piece) => (typeof piece === "string" ? piece : piece.kind === "name" ? piece.name : referenceText(piece.to)))
    .join("");
}
