// A file of the open edition that is kept up to date by itself, where the browser gives a handle to one. It is written some
// seconds after each save, by the tab that holds the lock, and never over what something else wrote into it.
import { writeDocument } from "../../core/document/write-document";
import { ok, type Problem } from "../../core/problem";
import { holdsStill, mayWrite, type WrittenBy, withBackup, writeTo } from "../../storage/backup-handle";
import { EDITION_FILE, fileNameFor, saveTextFile } from "../../storage/files";
import type { BackupRecord } from "../../storage/preferences";
import type { Backup } from "./backup";
import type { KeptEdition } from "./kept-edition";
import type { Studio } from "./studio";

/** Edits are collected for so long. */
const COLLECT_MS = 5000;

const keepers = new WeakMap<KeptEdition, Keeper>();

/** Asks for a file, writes the open edition into it, and keeps it up to date from then on. */
export async function startBackup(studio: Studio): Promise<void> {
  const { open } = studio;
  if (!open) return;
  const { book } = open.session;
  const name = fileNameFor(`${book.value.meta.title} backup`, EDITION_FILE.extensions[0]);
  const saved = await saveTextFile(name, writeDocument(book.value), EDITION_FILE);
  if (!saved.ok) return studio.report(saved.problems);
  const handle = saved.value?.handle;
  if (!handle || studio.open !== open) return;
  const record = { edition: open.id, handle, revision: 0, at: "", mark: { lastModified: 0, size: 0, sum: 0 } };
  await remember(studio, open.id, record);
  keepers.get(open)?.end();
  keepUpToDate(studio, open, record);
  // Written once more by the way it is written from now on, so that what this browser can't do is reported at once.
  await keepers.get(open)?.bring("press");
  if (studio.backup.value?.kind === "up to date")
    open.session.notify("done", `The backup file ${handle.name} is kept up to date from now on.`);
}

/** Goes on with a backup file of an edition that was opened. */
export function keepUpToDate(studio: Studio, kept: KeptEdition, record: BackupRecord): void {
  keepers.set(kept, new Keeper(studio, kept, record));
}

/** Brings the file up to date by a press: the browser may ask, and what something else wrote into it is written over. */
export async function bringBackup(studio: Studio): Promise<void> {
  if (studio.open) await keepers.get(studio.open)?.bring("press");
}

/** Keeps the file no longer; it stays as it is. */
export async function endBackup(studio: Studio): Promise<void> {
  const { open } = studio;
  if (!open) return;
  keepers.get(open)?.end();
  keepers.delete(open);
  await remember(studio, open.id, undefined);
}

class Keeper {
  readonly #studio: Studio;
  readonly #kept: KeptEdition;
  readonly #unsubscribe: () => void;
  #record: BackupRecord;
  #timer: number | undefined;
  /** One write at a time, or the later one could be overtaken. */
  #work: Promise<void> = Promise.resolve();

  constructor(studio: Studio, kept: KeptEdition, record: BackupRecord) {
    this.#studio = studio;
    this.#kept = kept;
    this.#record = record;
    this.#show("due");
    this.#unsubscribe = kept.saveState.subscribe(({ kind }) => {
      if (kind === "saved" || kind === "failed") this.#collect();
      else if (studio.backup.value?.kind === "up to date") this.#show("due");
    });
  }

  end(): void {
    this.#unsubscribe();
    if (this.#studio.open === this.#kept) this.#studio.backup.value = undefined;
    if (this.#timer !== undefined) this.#studio.platform.clearTimer(this.#timer);
  }

  bring(by: WrittenBy): Promise<void> {
    this.#work = this.#work.then(() => this.#bring(by));
    return this.#work;
  }

  #collect(): void {
    const { platform } = this.#studio;
    if (this.#timer !== undefined) platform.clearTimer(this.#timer);
    this.#timer = platform.setTimer(() => {
      this.#timer = undefined;
      // Another edition was opened: what is stored of this one is written once more, and then no longer.
      if (this.#studio.open !== this.#kept) this.#unsubscribe();
      void this.bring("page");
    }, COLLECT_MS);
  }

  async #bring(by: WrittenBy): Promise<void> {
    const { home } = this.#studio;
    const { id, lock, saveState, session } = this.#kept;
    const known = (await recordsIn(this.#studio)).find(({ edition }) => edition === id);
    // Another tab keeps the file no longer.
    if (!known) return this.end();
    this.#record = known;
    const stamp = await home.editions.stamp(id);
    const revision = stamp.ok && saveState.value.kind !== "failed" ? stamp.value.revision : undefined;
    if (revision === this.#record.revision) return this.#show("up to date");
    if (lock.value === "following") return this.#show("due");
    const { handle, mark } = this.#record;
    if (!(await mayWrite(handle, by))) return this.#show("not permitted");
    if (by === "page") {
      const isOurs = await holdsStill(handle, mark);
      if (!isOurs.ok) return this.#show("failed", isOurs.problems);
      if (!isOurs.value) return this.#show("changed elsewhere");
    }
    // What can't be stored is all the more worth a file.
    const text = revision === undefined ? ok(writeDocument(session.book.value)) : await home.editions.readText(id);
    const written = text.ok ? await writeTo(handle, text.value) : text;
    if (!written.ok) return this.#show("failed", written.problems);
    const at = this.#studio.platform.now().toISOString();
    this.#record = { ...this.#record, revision: revision ?? 0, at, mark: written.value };
    await remember(this.#studio, id, this.#record);
    if (this.#studio.open === this.#kept) this.#studio.files.saved();
    this.#show("up to date");
  }

  #show(kind: Backup["kind"], problems: readonly Problem[] = []): void {
    const { handle, at } = this.#record;
    const waits = kind !== "up to date" && kind !== "due";
    if (this.#studio.open === this.#kept) this.#studio.backup.value = { name: handle.name, at, kind, waits, problems };
  }
}

async function recordsIn({ home }: Studio): Promise<readonly BackupRecord[]> {
  const stored = await home.preferences.get("backups");
  return (stored.ok && stored.value) || [];
}

async function remember(studio: Studio, edition: string, record: BackupRecord | undefined): Promise<void> {
  await studio.home.preferences.set("backups", withBackup(await recordsIn(studio), edition, record));
}
