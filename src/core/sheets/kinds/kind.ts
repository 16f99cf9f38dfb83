// What there is to know of a kind of step. Everything in the program that depends on a kind is read from here.
import type { Column } from "../../document/workbook";
import type { Caution } from "../caution-texts";

/** What is counted or measured of a piece at a step: a column of the step's group, and the name of the act in the run log. */
export type AmountColumn = "slip" | "minutes" | "coats";

/** The amount that is entered of a piece at a step. Its entry says that the piece has had the step. */
export interface AmountRules {
  readonly column: AmountColumn;
  /** The Route column that says how much is usual. */
  readonly usual: string;
  /** Taken for an extra step of which the Route says nothing; blank if left out. */
  readonly otherwise?: number;
  /** What recording it is called, and its line on the bench sheet. */
  readonly title: string;
  /** How it is asked for; its title and its unit if left out. */
  readonly question?: string;
  /** The amount in words, such as `3 coats` or `900 g of slip`. */
  readonly inWords: (shown: string, unit: string) => string;
  /** The heading of the column of the bench sheet in which it is written down. */
  readonly onPaper: string;
}

/** What the Route says of how a material is laid on; numbers in the units of the Route sheet. */
export interface LaidOn {
  /** cm² of a piece that has no area of its own. */
  readonly area?: number;
  /** Grams per cm² and coat that stay on the piece. */
  readonly laydown?: number;
  /** Part of what is used that lands on the piece, above 0 to 1; 1 if left out. */
  readonly transfer?: number;
  /** Part of the preparation that never reaches the piece, 0 to below 1; 0 if left out. */
  readonly waste?: number;
}

/** Grams of material that stay on a piece, and that were used for it. */
export interface Grams {
  readonly gramsOnPiece: number;
  readonly gramsUsed: number;
}

/** What a step uses of the material that the Route names. */
interface MaterialRules {
  /** The column of the step's group with the grams used. */
  readonly usedColumn: string;
  /** What the grams of a piece are called on the bench sheet, and how many decimals they have there. */
  readonly title: string;
  readonly decimals: number;
  /** Grams a piece as planned, as a formula of Route columns, without `=`. */
  readonly planned: string;
  /** The same by plain numbers; `own` is what the piece has of its own. Columns, plan and books are held against each other. */
  readonly grams: (amount: number, step: LaidOn, own: Pick<LaidOn, "area">) => Grams;
  /** A preparation of precious metal: it has a metal content, a column `fine` in its group, and is booked by itself. */
  readonly isPrecious?: true;
}

/**
 * How the minutes of the Route count: once for a piece, once for each one of its amount (a coat), or not at all, since the
 * amount is itself minutes.
 */
export type TimeRule = "a piece" | { readonly each: string } | "entered";

/** A part of what a piece card says of a step; left out where its cell is blank. */
export interface CardPart {
  /** A column of the step's group. */
  readonly column: string;
  /** Unit of a number, in metric; a number without one is written as the amount is. */
  readonly unit?: string;
  /** Decimals at most; 1 if left out. */
  readonly decimals?: number;
  readonly before?: string;
  readonly after?: string;
  /** Whether the name of the material follows. */
  readonly ofMaterial?: true;
}

/** All that depends on the kind of a step. */
export interface StepKindRules {
  readonly title: string;
  readonly summary: string;
  /** What is entered of a piece that has had the step: an amount, or the firing it was in. */
  readonly entered: AmountRules | "firing";
  /** Route columns that mean something for this kind and stand there for others too, besides those of every step. */
  readonly shared: readonly string[];
  /** Route columns that this kind brings, behind those of the kinds before it; one with the same key is the same column. */
  readonly inputs: readonly Column[];
  /** Route columns among these that a piece may have otherwise than the Route says. */
  readonly ownOfPiece: readonly string[];
  /** The columns of a step's group on the Pieces sheet. One is `cost`, with `staysFolded`; `material` and `labour` where it has them. */
  readonly columns: (step: string) => readonly Column[];
  /** Undefined where no work on pieces is timed, as at a firing. */
  readonly time?: TimeRule;
  /** Undefined where it uses none. */
  readonly material?: MaterialRules;
  /** Whether the piece is made in it of clay: once, and the clay of a piece lost unfired can be used again. */
  readonly isMaking?: true;
  /** Whether it wears a mould, which is in a column `wear` of its group. */
  readonly usesMould?: true;
  /** Whether two steps of this kind are done alike only if they have the same title. */
  readonly isKnownByTitle?: true;
  /** Its cautions, by what it is called and how it is done. */
  readonly cautions: (text: string) => readonly Caution[];
  /** Cautions of the firing in which it burns off. */
  readonly burnsOff?: readonly Caution[];
  /** What a piece card says of it; a firing is described by its row. */
  readonly card: readonly CardPart[];
}
