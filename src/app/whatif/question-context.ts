// What asking a question needs of the app around it.
import { type CellName, rawAt } from "../../core/document/access";
import { baseWith, type Setting } from "../../whatif/run/case-matrix";
import type { Prepared, RunOptions, WhatIfClient } from "../../whatif/run/client-port";
import type { Session } from "../edition/session";

/** What asking needs: who answers, the edition, the case that is tried, and how to give the page a moment. */
export interface QuestionContext {
  readonly session: Session;
  readonly client: WhatIfClient;
  /** Makes cells ready; the same cells of the same edition are made ready once. */
  prepare(inputs: readonly CellName[], outputs: readonly CellName[]): Promise<Prepared>;
  readonly options: RunOptions;
  breathe(): Promise<void>;
}

/** Where prepared inputs stand in the case that is tried. */
export function baseOf(
  { session }: Pick<QuestionContext, "session">,
  prepared: Prepared,
  tried: readonly Setting[],
): Float64Array {
  const book = session.book.value;
  return baseWith(prepared, tried, (cell) => rawAt(book, cell) !== undefined);
}
