// A line of the tree that explains a number.
import type { CellName } from "../../../core/document/access";
import type { Expression } from "../../../core/formula/tree";
import type { Value } from "../../../engine/values";

/** What a line is. Inputs, blanks and literals are where the tree ends; so are ends, which say why they can't go on. */
type Role =
  | "cell"
  | "input"
  | "blank"
  | "literal"
  | "working"
  | "group"
  /** A group once more, by what its cells are made of: that goes beyond what the formula above names. */
  | "breakdown"
  | "more"
  | "condition"
  | "end";

/** How a line enters the one above it. */
export type Joins =
  | { readonly kind: "whole" }
  /** A part of a sum: what it adds, signed, and its share of the sum; undefined where a share means nothing. */
  | {
      readonly kind: "term";
      readonly sign: "+" | "−";
      readonly amount: number | undefined;
      readonly share: number | undefined;
    }
  | { readonly kind: "factor"; readonly sign: "×" | "÷" }
  /** Something a function takes, or a formula names; the name says what as. */
  | { readonly kind: "given"; readonly name: string }
  | { readonly kind: "condition" };

export interface ExplainedPart {
  /** Tells it from the others beside it, and stays when values move. */
  readonly key: string;
  readonly role: Role;
  readonly words: string;
  readonly value: Value | undefined;
  /** The value as the maker reads it, with its unit; blank where the words say it. */
  readonly text: string;
  readonly cell?: CellName;
  readonly joins: Joins;
  readonly notes: readonly string[];
  /** What it comes from, one level down; calculated when it is asked for. */
  readonly open?: () => Opened;
}

export interface Opened {
  readonly parts: readonly ExplainedPart[];
  /** A sum's terms add up to it; `calculated` could not be taken apart and only lists what its formula names. */
  readonly whole: "sum" | "product" | "other" | "calculated";
}

/** Where an expression stands in its formula: a text that tells it from every other one there. */
export function positionOf({ start, end, step }: Expression): string {
  return `at ${start} ${end}${step === undefined ? "" : ` ${step}`}`;
}

/** The terms of a sum with each one's share; none where the sum is nothing or an amount is not known. */
export function withShares(amounts: readonly (number | undefined)[]): readonly (number | undefined)[] {
  let total = 0;
  let size = 0;
  for (const amount of amounts) {
    if (amount === undefined) return amounts.map(() => undefined);
    total += amount;
    size += Math.abs(amount);
  }
  // A sum that is nothing but what rounding leaves has no shares.
  return amounts.map((amount) => (Math.abs(total) <= 1e-9 * size || amount === undefined ? undefined : amount / total));
}

/** The same parts with keys that differ. */
export function distinct(parts: readonly ExplainedPart[]): readonly ExplainedPart[] {
  const seen = new Map<string, number>();
  return parts.map((part) => {
    const times = seen.get(part.key) ?? 0;
    seen.set(part.key, times + 1);
    return times === 0 ? part : { ...part, key: `${part.key} ${times + 1}` };
  });
}
