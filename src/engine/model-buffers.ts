// The memory of a model, so that it goes from worker to page and on to another worker without being copied.
import { buffersOf } from "./cell-lists";
import type { EngineModel } from "./model";

/** The buffers behind all lists of a model; none where there is no model. */
export function buffersOfModel(model: EngineModel | undefined): ArrayBuffer[] {
  const sheets = model?.sheets ?? [];
  return buffersOf(sheets.flatMap(({ typed, formulas }) => [...typed, ...formulas].map(({ values }) => values)));
}
