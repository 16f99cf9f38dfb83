// What comes of a question: numbers with what they are about, ready to be drawn, listed and saved.
import type { BreakEven } from "../../whatif/questions/break-even";
import type { Chance } from "../../whatif/questions/chance";
import type { Ranking } from "../../whatif/questions/ranking";
import type { WeighedStarts } from "../../whatif/questions/start-choice";
import type { Sweep } from "../../whatif/questions/sweep";
import type { Segment, TwoWay } from "../../whatif/questions/table";
import type { Setting } from "../../whatif/run/case-matrix";
import type { Prepared } from "../../whatif/run/client-port";
import type { AskCell } from "./whatif-cells";

/** What every answer has: the results looked at as they are today and in the case that is tried. */
export interface AnswerBase {
  readonly results: readonly AskCell[];
  readonly today: Float64Array;
  readonly tried: Float64Array;
  readonly how: Prepared["how"];
  /** Where results are no number, and why. */
  readonly gaps: readonly string[];
}

/** An input swept, with where it stands today and in the case that is tried. */
export interface SweptInput {
  readonly of: AskCell;
  readonly sweep: Sweep;
  readonly today: number;
  readonly tried: number;
}

/** A kept case, or the one being tried, with what it changes and what it comes to. */
interface CaseAnswer {
  readonly id: string;
  readonly title: string;
  readonly settings: readonly Setting[];
  readonly values: readonly number[];
}

export interface ChanceAnswer {
  readonly starts: number;
  readonly wanted: number;
  readonly chance: Chance;
  readonly weighed: readonly WeighedStarts[];
  readonly best: WeighedStarts | undefined;
  /** How sure to be of delivering all, about; NaN where it can't be said. */
  readonly sure: number;
  /** Chance of delivering where the losses are known from counts only; NaN where nothing was counted. */
  readonly unsureChance: number;
  readonly draws: number;
  readonly seed: number;
  readonly drawn: readonly string[];
  /** Whether more starts than were weighed might be better still. */
  readonly isBestAtEnd: boolean;
}

export type Answer = AnswerBase &
  (
    | { readonly kind: "losses"; readonly lines: readonly SweptInput[] }
    | { readonly kind: "sweep"; readonly line: SweptInput }
    | {
        readonly kind: "table";
        readonly aim: AskCell;
        readonly across: AskCell;
        readonly down: AskCell;
        readonly table: TwoWay;
        readonly level: number;
        readonly line: readonly Segment[];
        readonly todayAt: readonly [number, number];
        readonly triedAt: readonly [number, number];
      }
    | {
        readonly kind: "ranking";
        readonly aim: AskCell;
        readonly inputs: ReadonlyMap<string, AskCell>;
        readonly ranking: Ranking;
      }
    | {
        readonly kind: "breakEven";
        readonly of: AskCell;
        readonly aim: AskCell;
        readonly target: number;
        readonly found: BreakEven;
        readonly todayAt: number;
      }
    | {
        readonly kind: "cases";
        readonly cases: readonly CaseAnswer[];
        readonly inputs: ReadonlyMap<string, AskCell>;
      }
    | { readonly kind: "chance"; readonly chance: ChanceAnswer }
  );
export type AnswerOf<K extends Answer["kind"]> = Extract<Answer, { readonly kind: K }>;
