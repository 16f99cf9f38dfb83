// Where questions are asked: what is asked, the case that is tried, and the last answer. The edition is not touched here.
import { batch, effect, type Signal, signal } from "@preact/signals";
import { type CellName, cellKeyOf } from "../../core/document/access";
import type { Workbook } from "../../core/document/workbook";
import { type Setting, sameCell } from "../../whatif/run/case-matrix";
import type { Prepared, WhatIfClient } from "../../whatif/run/client-port";
import type { Session } from "../edition/session";
import type { Answer } from "./whatif-answers";
import { answer } from "./whatif-ask";
import { askCell } from "./whatif-cells";
import { numberToday } from "./whatif-ranges";
import { type Settings, stillThere, usualSettings } from "./whatif-settings";

/** What a desk needs of the platform. */
export interface DeskPlatform {
  /** Who answers; asked for when the page is opened. */
  startClient(session: Session): WhatIfClient;
  /** Gives the page a moment. */
  breathe(): Promise<void>;
}

export type DeskState =
  | { readonly kind: "resting" }
  | { readonly kind: "working"; readonly done: number; readonly total: number }
  | { readonly kind: "stopped" }
  | { readonly kind: "failed"; readonly message: string };

const MOST_PREPARED = 12;

/** The questions of one open edition. `open` when their page is shown, `close` when it is left. */
export class WhatIfDesk {
  readonly settings: Signal<Settings>;
  /** The changed inputs of the case that is tried. */
  readonly tried: Signal<readonly Setting[]> = signal([]);
  readonly answer: Signal<Answer | undefined> = signal(undefined);
  readonly state: Signal<DeskState> = signal({ kind: "resting" });

  readonly session: Session;
  private readonly platform: DeskPlatform;
  private client: WhatIfClient | undefined;
  private readonly prepared = new Map<string, Promise<Prepared>>();
  private preparedFor: Workbook | undefined;
  private answersFor: unknown;
  private running: AbortController | undefined;
  private isWanted = false;
  private stopListening: (() => void) | undefined;

  constructor(session: Session, platform: DeskPlatform) {
    this.session = session;
    this.platform = platform;
    this.settings = signal(usualSettings(session.book.value));
  }

  /** Starts who answers, and asks anew whenever the edition has changed and is calculated. */
  open(): void {
    if (this.stopListening) return;
    const { book, engineState } = this.session;
    this.stopListening = effect(() => {
      if (engineState.value !== "ready" || book.value === this.preparedFor) return;
      // The document changes a moment before its engine is given it: only then does it say that it is at work.
      queueMicrotask(() => {
        if (this.stopListening && engineState.peek() === "ready" && book.peek() !== this.preparedFor)
          this.renew(book.peek());
      });
    });
  }

  close(): void {
    this.stopListening?.();
    this.stopListening = undefined;
    this.isWanted = false;
    this.running?.abort();
    this.forget();
    this.client?.close();
    this.client = undefined;
    this.preparedFor = undefined;
  }

  /** Asks in another way. */
  change(is: Partial<Settings>): void {
    this.settings.value = { ...this.settings.value, ...is };
    this.ask("anew");
  }

  /** Sets an input in the case that is tried; no number gives it back. */
  try(cell: CellName, value: number | undefined): void {
    const today = numberToday(this.session, cell);
    const others = this.tried.value.filter((one) => !sameCell(one.cell, cell));
    const isToday = value === undefined || value === today || (value === 0 && Number.isNaN(today));
    this.tried.value = isToday ? others : [...others, { cell, value }];
    this.ask("after");
  }

  /** Tries a whole set of changes. */
  tryAll(settings: readonly Setting[]): void {
    this.tried.value = settings.filter(({ cell, value }) => value !== numberToday(this.session, cell));
    this.ask("anew");
  }

  /** Stops what is being asked; the last answer stays in sight. */
  stop(): void {
    this.isWanted = false;
    this.state.value = { kind: "stopped" };
    this.running?.abort();
  }

  /** Asks once more, as after a stop. */
  again(): void {
    this.ask("anew");
  }

  private renew(book: Workbook): void {
    this.forget();
    // An engine that failed has been replaced, and with it goes whoever was given its formulas.
    if (this.client && this.answersFor !== this.session.engineClient) this.client.close();
    if (!this.client || this.answersFor !== this.session.engineClient)
      this.client = this.platform.startClient(this.session);
    this.answersFor = this.session.engineClient;
    this.preparedFor = book;
    batch(() => {
      const settings = this.settings.peek();
      const tried = this.tried.peek();
      this.settings.value = stillThere(book, settings);
      this.tried.value = tried.filter(
        ({ cell, value }) => askCell(book, cell) !== undefined && value !== numberToday(this.session, cell),
      );
    });
    this.ask("anew");
  }

  /** “anew” drops what is being asked; “after” lets it finish, so that a picture follows a slider while it is dragged. */
  private ask(how: "anew" | "after"): void {
    if (!this.client || !this.preparedFor) return;
    this.isWanted = true;
    if (!this.running) void this.answerAll();
    else if (how === "anew") this.running.abort();
  }

  private async answerAll(): Promise<void> {
    while (this.isWanted && this.client) {
      this.isWanted = false;
      const stopping = new AbortController();
      this.running = stopping;
      this.state.value = { kind: "working", done: 0, total: 0 };
      try {
        const found = await this.answerOne(this.client, stopping.signal);
        if (stopping.signal.aborted) continue;
        batch(() => {
          this.answer.value = found;
          this.state.value = { kind: "resting" };
        });
      } catch (error) {
        if (stopping.signal.aborted) continue;
        this.state.value = { kind: "failed", message: error instanceof Error ? error.message : String(error) };
      }
    }
    this.running = undefined;
  }

  private answerOne(client: WhatIfClient, signal: AbortSignal): Promise<Answer> {
    const onProgress = (done: number, total: number) => {
      if (!signal.aborted) this.state.value = { kind: "working", done, total };
    };
    return answer(
      {
        session: this.session,
        client,
        prepare: (inputs, outputs) => this.prepare(client, inputs, outputs, signal),
        options: { signal, onProgress },
        breathe: () => this.platform.breathe(),
      },
      this.settings.peek(),
      this.tried.peek(),
    );
  }

  private async prepare(
    client: WhatIfClient,
    inputs: readonly CellName[],
    outputs: readonly CellName[],
    signal: AbortSignal,
  ): Promise<Prepared> {
    const name = `${inputs.map(cellKeyOf).join("|")} → ${outputs.map(cellKeyOf).join("|")}`;
    const held = this.prepared.get(name);
    if (held) return held;
    const made = client.prepare(inputs, outputs, signal);
    this.prepared.set(name, made);
    made.catch(() => this.prepared.delete(name));
    const [oldest] = this.prepared.keys();
    if (this.prepared.size > MOST_PREPARED && oldest !== undefined) this.release(oldest);
    return made;
  }

  private release(name: string): void {
    const held = this.prepared.get(name);
    this.prepared.delete(name);
    const { client } = this;
    void held?.then(
      (prepared) => client?.release(prepared),
      () => undefined,
    );
  }

  private forget(): void {
    for (const name of [...this.prepared.keys()]) this.release(name);
  }
}
