// What goes between the page and the worker that answers what-ifs.
import type { CellName } from "../../core/document/access";
import type { EngineSource } from "../../engine/engine";
import type { EngineModel } from "../../engine/model";
import type { Answers, Prepared } from "./client-port";
import type { AheadColumn, ForetoldValues } from "./foretold";

export type WhatIfRequest =
  | {
      readonly kind: "prepare";
      readonly id: number;
      /** Left out where the worker has the latest already. */
      readonly model: EngineModel | undefined;
      readonly inputs: readonly CellName[];
      readonly outputs: readonly CellName[];
    }
  /** The document, asked for by the worker that can't compile a question. */
  | { readonly kind: "document"; readonly id: number; readonly source: EngineSource }
  | { readonly kind: "run"; readonly id: number; readonly question: number; readonly cases: Float64Array }
  | { readonly kind: "stop"; readonly id: number }
  | { readonly kind: "release"; readonly question: number };

export type WhatIfReply =
  | { readonly id: number; readonly prepared: Prepared }
  | { readonly id: number; readonly wants: "document" }
  | { readonly id: number; readonly done: number; readonly total: number }
  | { readonly id: number; readonly answers: Answers }
  | { readonly id: number; readonly failure: string };

/** What is asked of the worker that says ahead of the engine what a change comes to. */
export type AheadRequest =
  /** Makes inputs ready, in the place of those before. */
  | {
      readonly kind: "foresee";
      readonly id: number;
      readonly model: EngineModel | undefined;
      readonly inputs: readonly CellName[];
    }
  /** What the cells hold for a number an input; `of` is the request that made them ready. */
  | { readonly kind: "foretell"; readonly id: number; readonly of: number; readonly inputs: Float64Array };

export type AheadReply =
  | { readonly id: number; readonly columns: readonly AheadColumn[] }
  /** Why it can't be foreseen. */
  | { readonly id: number; readonly notes: readonly string[] }
  | { readonly id: number; readonly foretold: ForetoldValues | undefined }
  | { readonly id: number; readonly failure: string };
