// What the studio needs of the browser, given to it from outside: where editions are kept, engines, printing.
import type { Problem, Result } from "../../core/problem";
import type { CsvClient } from "../../csv/client";
import type { EngineClient } from "../../engine/client";
import type { CopyStore } from "../../storage/copies";
import type { EditionStore } from "../../storage/edition-store";
import type { PreferenceStore } from "../../storage/preferences";
import type { CalculatorClient } from "../../whatif/run/calculator-client";
import type { KeepingPlatform } from "./keeping-platform";

/** Where editions are kept. */
export interface Home {
  readonly editions: EditionStore;
  readonly copies: CopyStore;
  readonly preferences: PreferenceStore;
}

export interface StudioPlatform extends Omit<KeepingPlatform, "editions"> {
  readonly home: Home;
  /** Why the browser refused to keep anything, so that `home` lasts only as long as the page. */
  readonly refused: readonly Problem[];
  /** Tries to open the browser's own home. */
  openHome(): Promise<Result<Home>>;
  /** `navigator.storage`, where there is one. */
  readonly storage: Pick<StorageManager, "persist" | "persisted"> | undefined;
  /** Whether the browser clears what a page keeps after seven days of use without a visit. */
  readonly clearsUnvisited: boolean;
  /** `patience` is how long a formula may take, in milliseconds. */
  startEngine(patience?: number): EngineClient;
  /** Starts who calculates beside an edition's engine. */
  startCalculator(): Promise<CalculatorClient>;
  startCsv(): CsvClient;
  /** Asks the browser to print the page as it stands. */
  print(): void;
  readonly locale: string;
}

/** What a page needs to put things on paper. */
export type PrintPlatform = Pick<StudioPlatform, "print"> & Pick<Home, "preferences">;
