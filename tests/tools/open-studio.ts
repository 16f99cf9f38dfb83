// The app of one tab without a page: editions in memory, timers rung by hand, the engine left out.
import { Studio } from "../../src/app/keeping/studio";
import type { Home, StudioPlatform } from "../../src/app/keeping/studio-platform";
import { writeEntries } from "../../src/core/document/edits";
import type { Workbook } from "../../src/core/document/workbook";
import { fail, type Problem } from "../../src/core/problem";
import type { LockPlatform } from "../../src/storage/edition-lock";
import { createLastEdits } from "../../src/storage/last-edits";
import { createMemoryStore, emptyRecords, type MemoryRecords } from "../../src/storage/memory-store";
import { type StorageFailure, storageProblem } from "../../src/storage/storage-problems";
import { FakeBrowser, turns } from "./tabs";

/** What all tabs of one browser share. */
export class Device {
  readonly records: MemoryRecords = emptyRecords();
  readonly browser: FakeBrowser;
  readonly small = new Map<string, string>();
  minute = 0;
  /** Whether the browser's small storage takes nothing more. */
  isSmallFull = false;
  private ids = 0;

  constructor(hasLocks = true) {
    this.browser = new FakeBrowser(hasLocks);
  }

  now(): Date {
    return new Date(Date.UTC(2026, 10, 25, 8, this.minute));
  }

  freshId(): string {
    this.ids += 1;
    return `id${this.ids}`;
  }

  openTab(
    settings: {
      readonly home?: Home;
      readonly refused?: readonly Problem[];
      readonly openHome?: StudioPlatform["openHome"];
    } = {},
  ): Tab {
    return new Tab(this, settings);
  }
}

/** A home whose writes fail while `failure` says so. */
export function failingHome(device: Device) {
  const home = createMemoryStore(device.records);
  const now: { failure: StorageFailure | undefined } = { failure: undefined };
  const write: typeof home.editions.write = async (id, content, expected) =>
    now.failure ? fail(storageProblem(now.failure)) : home.editions.write(id, content, expected);
  return { home: { ...home, editions: { ...home.editions, write } }, now };
}

/** One tab: a studio and its timers. */
export class Tab {
  readonly studio: Studio;
  readonly lockPlatform: LockPlatform;
  readonly home: Home;
  private readonly timers = new Map<number, () => void>();
  private lastTimer = 0;

  constructor(device: Device, { home, refused = [], openHome }: Parameters<Device["openTab"]>[0] & object) {
    this.lockPlatform = device.browser.openTab();
    this.home = home ?? createMemoryStore(device.records);
    const storage = {
      getItem: (name: string) => device.small.get(name) ?? null,
      setItem: (name: string, text: string) => {
        if (device.isSmallFull) throw new DOMException("no room", "QuotaExceededError");
        device.small.set(name, text);
      },
      removeItem: (name: string) => device.small.delete(name),
    } as unknown as Storage;
    this.studio = new Studio({
      home: this.home,
      refused,
      openHome: openHome ?? (async () => ({ ok: true, value: this.home })),
      lastEdits: createLastEdits(() => storage),
      lockPlatform: this.lockPlatform,
      storage: undefined,
      clearsUnvisited: false,
      startEngine: () => ({
        open: async () => ({ columns: [], others: [] }),
        apply: async () => ({ columns: [], others: [] }),
        calculate: async () => null,
        model: async () => undefined,
        source: async () => {
          throw new Error("no document here");
        },
        close: () => undefined,
      }),
      startCalculator: async () => {
        throw new Error("no calculator here");
      },
      startCsv: () => {
        throw new Error("no CSV here");
      },
      print: () => undefined,
      locale: "en-GB",
      now: () => device.now(),
      freshId: () => device.freshId(),
      breathe: async () => undefined,
      setTimer: (run) => {
        this.lastTimer += 1;
        this.timers.set(this.lastTimer, run);
        return this.lastTimer;
      },
      clearTimer: (timer) => this.timers.delete(timer),
    });
  }

  get book(): Workbook {
    const book = this.studio.session.value?.book.value;
    if (!book) throw new Error("nothing is open");
    return book;
  }

  /** The note of the first piece, which the tests write into. */
  get note(): unknown {
    return this.book.sheets.pieces.rows[0]?.cells.note;
  }

  get messages(): readonly string[] {
    return (this.studio.session.value?.notices.value ?? []).map(({ text }) => text);
  }

  /** Types a note; false where nothing may be changed. */
  type(text: string, row = "p1"): boolean {
    const cell = { sheet: "pieces", row, column: "note" } as const;
    const outcome = writeEntries(this.book, [{ cell, typed: text }], {
      label: `Typed ${text}`,
      marks: { decimal: "." },
      override: false,
    });
    return this.studio.session.value?.commit(outcome.change) ?? false;
  }

  /** Lets every timer run that is set, and what follows from it. */
  async ring(): Promise<void> {
    const due = [...this.timers.values()];
    this.timers.clear();
    for (const run of due) run();
    await turns();
  }
}
