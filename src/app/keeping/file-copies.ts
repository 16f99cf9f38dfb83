// What is known of the files of editions, and when to remind of saving one.
import { type Signal, signal } from "@preact/signals";
import type { FileCopy, PreferenceStore } from "../../storage/preferences";
import { afterEdits, afterFile, isReminderDue, putOff, withFileCopy } from "./file-reminder";

interface FilesWorld {
  readonly home: { readonly preferences: PreferenceStore };
  readonly editionId: { readonly value: string | undefined };
  readonly world: { now(): Date };
}

/** Edits since the last file of each edition; the open one may be due. */
export class FileCopies {
  /** Set when it is time to remind of saving a file. */
  readonly reminder: Signal<FileCopy | undefined> = signal(undefined);
  readonly #studio: FilesWorld;
  #copies: readonly FileCopy[] = [];

  constructor(studio: FilesWorld) {
    this.#studio = studio;
  }

  async load(): Promise<void> {
    const remembered = await this.#studio.home.preferences.get("fileCopies");
    if (remembered.ok) this.#copies = remembered.value ?? [];
  }

  /** So many more edits were made in an edition. */
  edited(id: string, edits: number): void {
    this.#remember(afterEdits(this.#of(id), id, edits, this.#now));
  }

  /** A file of the open edition was saved. */
  saved(): void {
    const id = this.#studio.editionId.value;
    if (id !== undefined) this.#remember(afterFile(id, this.#now));
  }

  /** Says nothing of files for some days. */
  putOff(): void {
    const due = this.reminder.value;
    if (due) this.#remember(putOff(due, this.#now));
  }

  /** Looks whether a file of the open edition is due. */
  remind(): void {
    const copy = this.#of(this.#studio.editionId.value);
    this.reminder.value = isReminderDue(copy, this.#now) ? copy : undefined;
  }

  get #now(): Date {
    return this.#studio.world.now();
  }

  #of(id: string | undefined): FileCopy | undefined {
    return this.#copies.find(({ edition }) => edition === id);
  }

  #remember(copy: FileCopy): void {
    this.#copies = withFileCopy(this.#copies, copy);
    this.remind();
    void this.#studio.home.preferences.set("fileCopies", this.#copies);
  }
}
