// All editions of this browser: which is open, which there are, and that each is kept. No elements.
import { batch, type Signal, signal } from "@preact/signals";
import { readDocument, writeDocument } from "../core/document-file";
import { fail, type Problem, type Result } from "../core/problem";
import { SHEET_KEYS, type Workbook } from "../core/workbook";
import type { CsvClient } from "../csv/client";
import type { EngineClient } from "../engine/client";
import type { Patch } from "../engine/values";
import { type Autosave, createAutosave, type SaveState } from "../storage/autosave";
import { type EditionStore, type EditionSummary, NOT_YET_STORED } from "../storage/edition-store";
import type { PreferenceStore } from "../storage/preferences";
import type { ImportWorld } from "./csv-import";
import { Session } from "./session";

export interface StudioWorld {
  readonly editions: EditionStore;
  readonly preferences: PreferenceStore;
  startEngine(): EngineClient;
  startCsv(): CsvClient;
  /** Asks the browser to print the page as it stands. */
  print(): void;
  readonly locale: string;
  now(): Date;
  freshId(): string;
  setTimer(run: () => void, ms: number): number;
  clearTimer(timer: number): void;
}

/** What a page needs to put things on paper. */
export type PrintWorld = Pick<StudioWorld, "print" | "preferences">;

/** Dialogs for files are loaded when one is first asked for. */
const files = () => import("../storage/files");

/** What is open and what is kept. */
export class Studio {
  readonly session: Signal<Session | undefined> = signal(undefined);
  readonly editionId: Signal<string | undefined> = signal(undefined);
  readonly editions: Signal<readonly EditionSummary[]> = signal([]);
  readonly saveState: Signal<SaveState> = signal({ is: "loading" });
  /** Trouble that belongs to no open edition. */
  readonly problems: Signal<readonly Problem[]> = signal([]);

  private readonly world: StudioWorld;
  private autosave: Autosave | undefined;
  private handle: FileSystemFileHandle | undefined;

  constructor(world: StudioWorld) {
    this.world = world;
  }

  /** Opens the edition that was open last, or the one `first` makes where there is none. */
  async start(first: () => Promise<Workbook>): Promise<void> {
    const last = await this.world.preferences.get("lastEdition");
    if (last.ok && last.value !== undefined && (await this.openStored(last.value))) return;
    await this.refreshList();
    const newest = this.editions.value.find((edition) => edition.problem === undefined);
    if (newest && (await this.openStored(newest.id))) return;
    await this.openNew(await first());
  }

  async refreshList(): Promise<void> {
    const listed = await this.world.editions.list();
    if (listed.ok) this.editions.value = listed.value;
    else this.problems.value = listed.problems;
  }

  /** Opens a kept edition; false, with problems told, where it can't be read. The open one stays open then. */
  async openStored(id: string): Promise<boolean> {
    const stored = await this.world.editions.read(id);
    if (!stored.ok) {
      this.tell(stored.problems);
      return false;
    }
    await this.show(id, stored.value.book, readSnapshot(stored.value.values));
    this.autosave?.loaded({ revision: stored.value.revision, updatedAt: stored.value.updatedAt });
    return true;
  }

  /** Opens an edition that was not kept before, and keeps it. */
  async openNew(book: Workbook): Promise<void> {
    await this.show(this.world.freshId(), book, undefined);
    this.autosave?.loaded({ revision: NOT_YET_STORED, updatedAt: "" });
    this.autosave?.edited(book);
    await this.autosave?.flush();
    await this.refreshList();
  }

  /** Asks for an edition file and opens it as a new edition; the open one is kept. */
  async openFile(): Promise<void> {
    const { EDITION_FILE, openTextFile } = await files();
    const opened = await openTextFile(EDITION_FILE);
    if (!opened.ok) this.tell(opened.problems);
    else if (opened.value) {
      if (await this.openText(opened.value.text, opened.value.name)) this.handle = opened.value.handle;
    }
  }

  /** Opens the text of an edition file as a new edition; tells what is wrong where it is none. */
  async openText(text: string, name: string): Promise<boolean> {
    const book = readDocument(text, name);
    if (!book.ok) {
      this.tell(book.problems);
      return false;
    }
    await this.openNew(book.value);
    this.session.value?.tell("done", `Opened ${name}.`);
    return true;
  }

  /** Saves the open edition as a file, to the same file where the browser can. */
  async saveFile(): Promise<void> {
    const session = this.session.value;
    if (!session) return;
    const { EDITION_FILE, fileNameFor, saveTextFile } = await files();
    const book = session.book.value;
    const name = fileNameFor(book.meta.title, EDITION_FILE.extensions[0]);
    const saved = await saveTextFile(name, writeDocument(book), EDITION_FILE, this.handle);
    if (!saved.ok) this.tell(saved.problems);
    else if (saved.value) {
      this.handle = saved.value.handle;
      session.tell("done", `Saved as the file ${name}.`);
    }
  }

  /** Opens a whole workbook that was saved as a zip of tables as a new edition; tells what is wrong where it is none. */
  async openZip(file: File): Promise<boolean> {
    const { sizeProblems, ZIP_FILE } = await files();
    const problems = sizeProblems(file, ZIP_FILE.largestBytes);
    const { readWorkbookZip } = await import("../csv/workbook-zip");
    const book =
      problems.length > 0 ? fail(...problems) : readWorkbookZip(new Uint8Array(await file.arrayBuffer()), file.name);
    if (!book.ok) {
      this.tell(book.problems);
      return false;
    }
    await this.openNew(book.value);
    this.session.value?.tell("done", `Opened ${file.name}.`);
    return true;
  }

  /** What bringing a CSV file into an open edition needs, with a worker of its own. */
  importWorld(session: Session): ImportWorld {
    return { session, client: this.world.startCsv(), preferences: this.world.preferences };
  }

  /** What putting things on paper needs. */
  get printWorld(): PrintWorld {
    return this.world;
  }

  /** Removes a kept edition; the open one is not removed. */
  async remove(id: string): Promise<Result<undefined>> {
    if (id === this.editionId.value) return fail();
    const removed = await this.world.editions.remove(id);
    if (!removed.ok) this.tell(removed.problems);
    await this.refreshList();
    return removed;
  }

  /** The stored text of an edition, damaged or not, saved as a file. */
  async rescueText(id: string): Promise<void> {
    const text = await this.world.editions.readText(id);
    if (!text.ok) return this.tell(text.problems);
    const { EDITION_FILE, fileNameFor, saveTextFile } = await files();
    const saved = await saveTextFile(fileNameFor(id, ".json"), text.value, EDITION_FILE);
    if (!saved.ok) this.tell(saved.problems);
  }

  /** Writes what is waiting, as when the page is left. */
  flush(): Promise<SaveState> | undefined {
    return this.autosave?.flush();
  }

  private tell(problems: readonly Problem[]): void {
    const session = this.session.value;
    if (session) session.refuse(problems);
    else this.problems.value = problems;
  }

  private async show(id: string, book: Workbook, shown: Patch | undefined): Promise<void> {
    await this.autosave?.close();
    this.session.value?.close();
    this.handle = undefined;
    const { world } = this;
    const session = new Session(
      book,
      {
        startEngine: () => world.startEngine(),
        keep: (changed) => this.autosave?.edited(changed),
        locale: world.locale,
        now: () => world.now(),
      },
      shown,
    );
    this.autosave = createAutosave<number>({
      store: world.editions,
      id,
      now: () => world.now().toISOString(),
      setTimer: (run, ms) => world.setTimer(run, ms),
      clearTimer: (timer) => world.clearTimer(timer),
      onState: (state) => {
        this.saveState.value = state;
      },
      valuesNow: () => (session.engineState.value === "ready" ? session.snapshot() : undefined),
    });
    batch(() => {
      this.problems.value = [];
      this.editionId.value = id;
      this.session.value = session;
    });
    void world.preferences.set("lastEdition", id);
  }
}

/** Stored values if they have the form of a snapshot; they are only shown until the engine has its own. */
function readSnapshot(stored: unknown): Patch | undefined {
  if (!Array.isArray(stored)) return undefined;
  const isColumn = (entry: unknown) => {
    if (typeof entry !== "object" || entry === null) return false;
    const { sheet, column, places, values } = entry as Record<string, unknown>;
    return (
      (SHEET_KEYS as readonly unknown[]).includes(sheet) &&
      typeof column === "number" &&
      places instanceof Int32Array &&
      Array.isArray(values) &&
      values.length === places.length
    );
  };
  return stored.every(isColumn) ? (stored as Patch) : undefined;
}
