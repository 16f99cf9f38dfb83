// What the maker has arranged on the page of loads: kept as long as the edition is open, never part of the document.
import { type Signal, signal } from "@preact/signals";
import { perSession } from "../edition/per-session";
import type { Again } from "./loads";
import type { Draft } from "./loads-draft";

/** The arrangement of one open edition. */
export interface LoadsState {
  /** Pieces to be fired once more. */
  readonly again: Signal<readonly Again[]>;
  /** Loads as arranged; nothing while they are as proposed. */
  readonly draft: Signal<Draft | undefined>;
  /** Kilns that are not to be used. */
  readonly kilnsLeftOut: Signal<ReadonlySet<string>>;
  /** Firings that may take more, or may not, where the maker said so. */
  readonly firingsChosen: Signal<ReadonlyMap<string, boolean>>;
}

/** The arrangement that belongs to an open edition. */
export const loadsState = perSession(
  (): LoadsState => ({
    again: signal([]),
    draft: signal(undefined),
    kilnsLeftOut: signal(new Set()),
    firingsChosen: signal(new Map()),
  }),
);
