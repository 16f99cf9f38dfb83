// What goes between the page and the worker that answers what-ifs.
import type { CellName } from "../../core/document/access";
import type { Change } from "../../core/document/change";
import type { Workbook } from "../../core/document/workbook";
import type { EngineSource } from "../../engine/engine";
import type { Layout } from "../../engine/layout";
import type { EngineModel } from "../../engine/model";
import type { Patch } from "../../engine/values";
import type { CalculatedWorkbook } from "./calculator";
import type { Answers, Prepared } from "./client-port";

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
  | { readonly kind: "prepared"; readonly id: number; readonly prepared: Prepared }
  | { readonly kind: "wants document"; readonly id: number }
  | { readonly kind: "progress"; readonly id: number; readonly done: number; readonly total: number }
  | { readonly kind: "answers"; readonly id: number; readonly answers: Answers }
  | { readonly kind: "failure"; readonly id: number; readonly failure: string };

/** What is asked of the worker that calculates before the engine does; each is answered in its turn. */
export type CalculatorRequest =
  /** Another document, in place of the one before. */
  | {
      readonly kind: "open";
      readonly id: number;
      readonly book: Workbook;
      readonly layout: Layout;
      readonly excluded: readonly string[];
    }
  | { readonly kind: "prepare inputs"; readonly id: number; readonly inputs: readonly CellName[] }
  /** `inputs`, where the engine will take longer than that: if need be everything is compiled anew, and these made ready. */
  | {
      readonly kind: "apply";
      readonly id: number;
      readonly change: Change;
      readonly inputs: readonly CellName[] | undefined;
    };

export type CalculatorReply =
  | { readonly kind: "opened"; readonly id: number; readonly opened: CalculatedWorkbook }
  | { readonly kind: "patch"; readonly id: number; readonly patch: Patch | undefined }
  | { readonly kind: "failure"; readonly id: number; readonly failure: string };
