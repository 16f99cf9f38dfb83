// What is known of the files of editions, and when to remind of saving one.
import { type Signal, signal } from "@preact/signals";
import type { FileCopy, PreferenceStore } from "../../storage/preferences";
import { afterEdits, afterFile, isReminderDue, ofStudio, putOff, WHOLE_STUDIO, withFileCopy } from "./file-reminder";

interface FilesPlatform {
  readonly home: { readonly preferences: PreferenceStore };
  readonly editionId: { readonly value: string | undefined };
  readonly platform: { now(): Date };
}

/** Edits since the last file of each edition; the open one may be due. */
export class FileCopies {
  /** Set when it is time to remind of saving a file. */
  readonly reminder: Signal<FileCopy | undefined> = signal(undefined);
  /** Whether the browser was asked to keep what is stored and did not promise it: the whole studio is then due every week. */
  mayBeCleared = false;
  readonly #studio: FilesPlatform;
  #copies: readonly FileCopy[] = [];

  constructor(studio: FilesPlatform) {
    this.#studio = studio;
  }

  async load(): Promise<void> {
    const remembered = await this.#studio.home.preferences.get("fileCopies");
    if (remembered.ok) this.#copies = remembered.value ?? [];
    const cleared = await this.#studio.home.preferences.get("mayBeCleared");
    this.mayBeCleared = cleared.ok && cleared.value === true;
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

  /** A file of these editions was saved, the whole studio in one. */
  savedAll(ids: readonly string[]): void {
    for (const id of ids) this.#copies = withFileCopy(this.#copies, afterFile(id, this.#now));
    this.#keep();
  }

  /** Says nothing of files for some days. */
  putOff(): void {
    const due = this.reminder.value;
    const put = due?.edition === WHOLE_STUDIO ? this.#copies.filter(({ edits }) => edits > 0) : due ? [due] : [];
    for (const copy of put) this.#copies = withFileCopy(this.#copies, putOff(copy, this.#now));
    this.#keep();
  }

  /** Looks whether a file of the open edition is due. */
  remind(): void {
    const copy = this.mayBeCleared ? ofStudio(this.#copies) : this.#of(this.#studio.editionId.value);
    this.reminder.value = isReminderDue(copy, this.#now, this.mayBeCleared) ? copy : undefined;
  }

  get #now(): Date {
    return this.#studio.platform.now();
  }

  #of(id: string | undefined): FileCopy | undefined {
    return this.#copies.find(({ edition }) => edition === id);
  }

  #remember(copy: FileCopy): void {
    this.#copies = withFileCopy(this.#copies, copy);
    this.#keep();
  }

  #keep(): void {
    this.remind();
    void this.#studio.home.preferences.set("fileCopies", this.#copies);
  }
}
