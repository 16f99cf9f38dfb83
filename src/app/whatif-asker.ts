// What asking a question needs of the world around it.
import type { CellName } from "../core/access";
import type { Prepared, RunOptions, WhatIfClient } from "../whatif/client-port";
import type { Session } from "./session";

/** What asking needs: who answers, the edition, the case that is tried, and how to give the page a moment. */
export interface Asker {
  readonly session: Session;
  readonly client: WhatIfClient;
  /** Makes cells ready; the same cells of the same edition are made ready once. */
  prepare(inputs: readonly CellName[], outputs: readonly CellName[]): Promise<Prepared>;
  readonly options: RunOptions;
  breathe(): Promise<void>;
}
