// All editions of this browser: which is open, which there are, and that each is kept. No elements.
// What is done with files stands in studio-files.ts, what is done with earlier copies in studio-copies.ts.
import { batch, type Signal, signal } from "@preact/signals";
import { isShelf } from "../../core/document/shelf-kind";
import type { Workbook } from "../../core/document/workbook";
import { fail, type Problem, type Result } from "../../core/problem";
import type { BenchTimer } from "../../core/record/bench-timer";
import type { SaveState } from "../../storage/autosave";
import { type CopyNote, newestSound } from "../../storage/copies";
import type { LockState } from "../../storage/edition-lock";
import { type EditionSummary, isNewer } from "../../storage/edition-store";
import { askToKeep, type Keeping, safetyOf } from "../../storage/keeping";
import type { ImportPlatform } from "../csv/csv-import";
import { Session } from "../edition/session";
import { Speculation } from "../edition/speculation";
import { readSnapshot } from "../edition/stored-values";
import type { Backup } from "./backup";
import { FileCopies } from "./file-copies";
import type { KeepingPlatform, MakeSession } from "./keeping-platform";
import { KeptEdition } from "./kept-edition";
import { isPartMissing } from "./parts";
import type { Home, PrintPlatform, StudioPlatform } from "./studio-platform";

/** An edition whose record can't be read, with the newest copy of it that can. */
export interface Damaged {
  readonly id: string;
  readonly problems: readonly Problem[];
  readonly newest: CopyNote | undefined;
}

/** A copy that is looked at in the place of the open edition. */
export interface CopyPreview {
  readonly edition: string;
  readonly note: CopyNote;
}

/** The open edition can't be saved, and another one is to take its place: what the maker is asked. */
export interface Leaving {
  readonly title: string;
  /** Edits that are in the page alone; none where the edition itself was never stored. */
  readonly unsaved: number;
  /** Whether they are written down in this browser, and are put back when the edition is opened again. */
  readonly isHeld: boolean;
  /** Why it is not saved, as far as is known. */
  readonly problems: readonly Problem[];
  answer(choice: "stay" | "leave"): void;
}

/** How long a save may take before the maker is asked whether to wait for it. */
const SAVE_WAIT_MS = 5000;
/** How often to look whether what is stored is still there. */
const WAKE_EVERY_MS = 30_000;

/** What is open and what is kept. */
export class Studio {
  readonly session: Signal<Session | undefined> = signal(undefined);
  readonly editionId: Signal<string | undefined> = signal(undefined);
  readonly editions: Signal<readonly EditionSummary[]> = signal([]);
  readonly saveState: Signal<SaveState> = signal({ kind: "loading" });
  readonly lock: Signal<LockState> = signal("writing");
  /** Problems that belong to no open edition. */
  readonly problems: Signal<readonly Problem[]> = signal([]);
  /** Why nothing is kept between visits; none where it is. */
  readonly refused: Signal<readonly Problem[]>;
  readonly damaged: Signal<Damaged | undefined> = signal(undefined);
  /** Why an edition could not be opened: a newer program has written it. */
  readonly newer: Signal<Problem | undefined> = signal(undefined);
  readonly preview: Signal<CopyPreview | undefined> = signal(undefined);
  readonly leaving: Signal<Leaving | undefined> = signal(undefined);
  /** Whether the browser promised to keep what is stored; undefined before it was asked. */
  readonly keeping: Signal<Keeping | undefined> = signal(undefined);
  /** The bench timer, as this tab knows it. */
  readonly benchTimer: Signal<BenchTimer | undefined> = signal(undefined);
  readonly files: FileCopies;
  /** The file of the open edition that is kept up to date, where there is one. */
  readonly backup: Signal<Backup | undefined> = signal(undefined);

  readonly platform: StudioPlatform;
  home: Home;
  open: KeptEdition | undefined;
  /** Damage that was found by opening; a list does not read the documents. */
  private readonly found = new Map<string, Problem>();
  /** Unsaved edits that the maker agreed to leave. */
  private agreed = 0;
  private disconnect: (() => void) | undefined;

  constructor(platform: StudioPlatform) {
    this.platform = platform;
    this.home = platform.home;
    this.refused = signal(platform.refused);
    this.files = new FileCopies(this);
  }

  /** Opens the edition that was open last, or the one `first` makes where there is none. */
  async start(first: () => Promise<Workbook>, prepare?: (session: Session) => void): Promise<void> {
    this.wakeRegularly();
    void this.readBenchTimer();
    await this.files.load();
    const last = await this.home.preferences.get("lastEdition");
    if (last.ok && last.value !== undefined && (await this.openStored(last.value))) return;
    await this.refreshList();
    const sound = this.editions.value.filter(
      ({ id, problem, mark }) => problem === undefined && mark === undefined && id !== this.damaged.value?.id,
    );
    for (const { id } of sound) if (await this.openStored(id)) return;
    // What there is needs a newer program: nothing of this one is put beside it.
    if (this.newer.value) this.problems.value = [this.newer.value];
    else await this.openNew(await first(), prepare);
  }

  /** The page could not be started: says so, since nothing is open that could. */
  notStarted(error: unknown): void {
    const found = isPartMissing(error) ? "a part of the program could not be fetched" : String(error);
    this.problems.value = [
      {
        ...{ code: "program.start", where: "Saggar", found, allowed: "the whole program", fix: "Load the page again." },
        message: `Saggar could not be started: ${found}. Your editions are not touched. Load the page again, once the network is there.`,
      },
    ];
  }

  async refreshList(): Promise<void> {
    const listed = await this.home.editions.list();
    if (listed.ok)
      this.editions.value = listed.value.map((one) => {
        const problem = this.found.get(one.id);
        return problem && !one.problem ? { ...one, problem } : one;
      });
    else this.problems.value = listed.problems;
  }

  /** Opens a kept edition; false, with a message, where it can't be read or the open one is not left. */
  async openStored(id: string): Promise<boolean> {
    if (this.open?.id === id) return true;
    if (!(await this.mayLeave())) return false;
    const opened = await KeptEdition.open(id, this.keepingPlatform, this.makeSession);
    if (!opened.ok) {
      await this.reportDamage(id, opened.problems);
      return false;
    }
    await this.platform.breathe();
    await this.show(opened.value);
    return true;
  }

  /**
   * Opens an edition that was not kept before, and keeps it; false where the open one is not left.
   * `prepare` is given the session before anybody sees it: afterwards the selection is the maker's.
   */
  async openNew(book: Workbook, prepare?: (session: Session) => void): Promise<boolean> {
    if (!(await this.mayLeave())) return false;
    const kept = await KeptEdition.start(this.platform.freshId(), book, this.keepingPlatform, this.makeSession);
    prepare?.(kept.session);
    await this.show(kept);
    await this.refreshList();
    return true;
  }

  /** Waits until the open edition is saved; where it can't be, the maker says whether it is left all the same. */
  async mayLeave(): Promise<boolean> {
    const { open } = this;
    this.agreed = 0;
    if (!open) return true;
    await Promise.race([open.flush(), this.platform.lockPlatform.wait(SAVE_WAIT_MS)]);
    if (!open.isAtRisk) return true;
    const state = open.saveState.value;
    const { edits, isHeld } = open.unsaved;
    const choice = await new Promise<Parameters<Leaving["answer"]>[0]>((answer) => {
      this.leaving.value = {
        title: open.session.book.value.meta.title,
        unsaved: edits.length,
        isHeld,
        problems: state.kind === "failed" ? state.problems : open.stranded.value,
        answer,
      };
    });
    this.leaving.value = undefined;
    this.agreed = edits.length;
    return choice === "leave";
  }

  /** Asks the browser to keep what is stored: it may clear it otherwise when space runs short. */
  async askToKeep(): Promise<void> {
    if (this.refused.value.length > 0) return;
    const answer = await askToKeep(this.platform.storage);
    this.keeping.value = answer;
    const before = await this.home.preferences.get("mayBeCleared");
    const mayBeCleared = answer !== "kept";
    if (mayBeCleared && !(before.ok && before.value === true))
      this.session.value?.notify("refused", safetyOf(answer, this.platform.clearsUnvisited), [], { waits: true });
    this.files.mayBeCleared = mayBeCleared;
    void this.home.preferences.set("mayBeCleared", mayBeCleared);
  }

  /** Reads the bench timer, which is one for all tabs. */
  async readBenchTimer(): Promise<void> {
    const read = await this.home.preferences.get("benchTimer");
    if (read.ok) this.benchTimer.value = read.value;
  }

  /** Goes on in this tab with an edition that another tab writes. */
  async takeOver(): Promise<void> {
    await this.open?.takeOver();
  }

  /** The home was given up for good, as when a newer version of the page took it over. */
  homeClosed(problem: Problem): void {
    void this.open?.flush();
    this.refused.value = [problem];
  }

  /** Tries once more to keep editions in the browser; the open edition goes there at once. */
  async tryHomeAgain(): Promise<void> {
    const opened = await this.platform.openHome();
    if (!opened.ok) {
      this.refused.value = opened.problems;
      this.report(opened.problems);
      return;
    }
    const book = this.open?.session.book.value;
    this.home = opened.value;
    this.refused.value = [];
    if (book) await this.openNew(book);
  }

  /** What bringing a CSV file into an open edition needs, with a worker of its own. */
  importPlatform(session: Session): ImportPlatform {
    return { session, client: this.platform.startCsv(), preferences: this.home.preferences };
  }

  /** What putting things on paper needs. */
  get printPlatform(): PrintPlatform {
    return { print: () => this.platform.print(), preferences: this.home.preferences };
  }

  /** Removes a kept edition with its copies; the open one is not removed. */
  async remove(id: string): Promise<Result<undefined>> {
    if (id === this.editionId.value) return fail();
    const removed = await this.home.editions.remove(id);
    if (!removed.ok) this.report(removed.problems);
    else {
      this.platform.lastEdits.drop(id);
      this.platform.lastEdits.replaceAside(id, []);
    }
    if (removed.ok && this.damaged.value?.id === id) this.damaged.value = undefined;
    await this.refreshList();
    return removed;
  }

  /** Writes what is waiting, as when the page is left. */
  flush(): Promise<SaveState> | undefined {
    return this.open?.flush();
  }

  /** Looks whether the open edition went on elsewhere or is gone, as when the page is shown again. */
  async wake(): Promise<void> {
    const { open, home } = this;
    void this.readBenchTimer();
    await open?.wake();
    const last = await home.preferences.get("lastEdition");
    const isCleared = last.ok && last.value === undefined;
    if (isCleared && open && open === this.open) void home.preferences.set("lastEdition", open.id);
  }

  private wakeRegularly(): void {
    this.platform.setTimer(() => {
      this.wakeRegularly();
      void this.wake();
    }, WAKE_EVERY_MS);
  }

  /** Whether leaving the page now would lose something. */
  get isAtRisk(): boolean {
    const hasEdits = (this.open?.edits.value ?? 0) > 0;
    return (this.refused.value.length > 0 && hasEdits) || (this.open?.isAtRisk ?? false);
  }

  report(problems: readonly Problem[]): void {
    const session = this.session.value;
    if (session) session.refuse(problems);
    else this.problems.value = problems;
  }

  /** Makes the session of an edition. */
  readonly makeSession: MakeSession = (book, keep, values) => {
    const { platform } = this;
    const startEngine = (patience?: number) => platform.startEngine(patience);
    const sessionPlatform = { startEngine, keep, locale: platform.locale, now: () => platform.now() };
    const session = new Session(book, sessionPlatform, readSnapshot(values));
    if (isShelf(book)) session.page.value = "shelf";
    const speculation = { ...boundTimes(platform), startCalculator: () => platform.startCalculator() };
    session.speculateWith(new Speculation(session, speculation));
    return session;
  };

  /** What the keeping of one edition needs. */
  get keepingPlatform(): KeepingPlatform {
    return { ...this.platform, editions: this.home.editions, ...boundTimes(this.platform) };
  }

  /** Sets a damaged edition aside: it stays as it is, and the newest sound copy is looked for. */
  private async reportDamage(id: string, problems: readonly Problem[]): Promise<void> {
    if (isNewer(problems)) {
      this.newer.value = problems[0];
      return;
    }
    const damage = problems.find(({ code }) => code === "store.corrupt");
    if (damage) {
      this.found.set(id, damage);
      this.damaged.value = { id, problems, newest: await newestSound(this.home.copies, id) };
    } else this.report(problems);
  }

  private async show(kept: KeptEdition): Promise<void> {
    const before = this.open;
    await before?.close();
    // Typed while the other one was being opened, and not saved: the maker was not asked of these.
    const late = before?.isAtRisk ? before.unsaved.labels.slice(this.agreed) : [];
    if (late.length > 0)
      kept.session.notify("failed", "The last edits of the edition that was open before could not be saved:", late);
    this.disconnect?.();
    this.open = kept;
    batch(() => {
      this.problems.value = [];
      this.preview.value = undefined;
      this.backup.value = undefined;
      this.editionId.value = kept.id;
      this.session.value = kept.session;
    });
    let counted = 0;
    const ends = [
      kept.saveState.subscribe((state) => {
        this.saveState.value = state;
      }),
      kept.lock.subscribe((lock) => {
        this.lock.value = lock;
      }),
      kept.edits.subscribe((edits) => {
        if (edits > counted && !kept.session.book.value.meta.invented) this.files.edited(kept.id, edits - counted);
        counted = edits;
      }),
    ];
    this.disconnect = () => {
      for (const end of ends) end();
    };
    this.files.remind();
    void this.home.preferences.set("lastEdition", kept.id);
  }
}

/** Functions of the platform that are called on it. */
function boundTimes(
  platform: StudioPlatform,
): Pick<KeepingPlatform, "now" | "freshId" | "breathe" | "setTimer" | "clearTimer"> {
  return {
    breathe: () => platform.breathe(),
    now: () => platform.now(),
    freshId: () => platform.freshId(),
    setTimer: (run, ms) => platform.setTimer(run, ms),
    clearTimer: (timer) => platform.clearTimer(timer),
  };
}
