// The memory of a model, so that it goes from worker to page and on to another worker without being copied.
import { buffersOf } from "./cell-lists";
import type { EngineModel } from "./model";

/** The buffers behind all lists of a model; none where there is no model. */
export function buffersOfModel(model: EngineModel | undefined): ArrayBuffer[] {
  if (!model) return [];
  const typed = model.sheets.flatMap((sheet) => sheet.typed.map(({ values }) => values));
  const rows = model.sheets.flatMap(({ formulas }) => formulas.map((group) => group.rows.buffer as ArrayBuffer));
  return [...rows, ...buffersOf([...typed, ...model.values.columns.map(({ values }) => values)])];
}
