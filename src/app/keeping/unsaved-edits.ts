// The edits in the open document that the store does not have as far as is known, written down at once for the moment before
// it has; and those of earlier pages that could not be put back and wait for a word of the maker.
import { type Signal, signal } from "@preact/signals";
import type { Unfit } from "../../core/document/fit-edits";
import { type EditStamp, isSameStamp } from "../../storage/edition-store";
import type { AsideEdits, HeldEdit, LastEdits } from "../../storage/last-edits";

/** Edits of more operations are not written down at every key press, only when the page is left. */
const SMALL_EDIT = 500;

export class UnsavedEdits {
  /** Oldest first. */
  edits: readonly HeldEdit[] = [];
  /** Edits of earlier pages that did not fit when they were to be put back. */
  readonly aside: Signal<readonly AsideEdits[]> = signal([]);
  readonly #edition: string;
  readonly #lastEdits: LastEdits;
  #isHeld = false;

  constructor(edition: string, lastEdits: LastEdits) {
    this.#edition = edition;
    this.#lastEdits = lastEdits;
  }

  /** Whether all of them are written down. */
  get isHeld(): boolean {
    return this.#isHeld && this.edits.length > 0;
  }

  get labels(): readonly string[] {
    return this.edits.map(({ change }) => change.label);
  }

  /** One more edit made elsewhere, which is written down there. */
  follow(edit: HeldEdit): void {
    this.edits = [...this.edits, edit];
  }

  /** One more edit made here, written down at once where it is small. */
  add(edit: HeldEdit): void {
    this.follow(edit);
    const size = this.edits.reduce((sum, { change }) => sum + change.operations.length, 0);
    if (size <= SMALL_EDIT) this.hold();
    else this.#isHeld = false;
  }

  /** Writes them down, whatever their size. */
  hold(): void {
    this.#isHeld = this.edits.length > 0 && this.#lastEdits.hold(this.#edition, this.edits);
  }

  /** Forgets those that are stored up to a stamp. */
  stored(stamp: EditStamp | undefined): void {
    this.edits = this.edits.slice(this.edits.findLastIndex((edit) => isSameStamp(edit.stamp, stamp)) + 1);
  }

  /** Forgets them all. */
  clear(): void {
    this.edits = [];
  }

  /** What is written down, by whichever page. */
  read(): readonly HeldEdit[] {
    return this.#lastEdits.read(this.#edition);
  }

  /** Nothing has to be written down any more. */
  drop(): void {
    this.#lastEdits.drop(this.#edition);
  }

  /** Whether another tab has put them back and saved them. */
  get arePutBack(): boolean {
    return this.isHeld && this.#lastEdits.arePutBack(this.#edition, this.edits);
  }

  /** Moves what is written down out of the way; `at` is ISO 8601. */
  setAside(at: string): void {
    this.#lastEdits.setAside(this.#edition, at);
    this.readAside();
  }

  /** Reads what was set aside. */
  readAside(): void {
    this.aside.value = this.#lastEdits.aside(this.#edition);
  }

  /** Leaves of edits set aside only what did not fit. */
  keepAside(one: AsideEdits, left: readonly Unfit[]): void {
    const edits = one.edits.flatMap((edit) => {
      const unfit = left.find(({ of }) => of === edit.change);
      return unfit ? [{ ...edit, change: unfit.change }] : [];
    });
    this.#lastEdits.replaceAside(
      this.#edition,
      this.#lastEdits
        .aside(this.#edition)
        .flatMap((other) => (other.id !== one.id ? [other] : edits.length > 0 ? [{ ...one, edits }] : [])),
    );
    this.readAside();
  }
}
