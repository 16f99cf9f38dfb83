// Bringing a CSV file in, from the file to one undo step. The file is read in a worker; nothing is touched until it is asked for.

import { type Signal, signal } from "@preact/signals";
import { counted } from "../../core/counted";
import type { Change } from "../../core/document/change";
import type { SheetKey, Workbook } from "../../core/document/workbook";
import { type Problem, problem } from "../../core/problem";
import type { CsvClient, CsvOutcome, CsvQuestion, Progress } from "../../csv/client";
import type { FilePreview } from "../../csv/file-table";
import type { FileReading, ImportOptions } from "../../csv/import-options";
import type { ImportReport } from "../../csv/report";
import { CSV_FILE, fileNameFor, saveTextFile, sizeProblems, ZIP_FILE } from "../../storage/files";
import { type PreferenceStore, withShape } from "../../storage/preferences";
import type { Session } from "../edition/session";

/** Where an import stands. */
export type ImportState =
  | { readonly kind: "waiting" }
  | { readonly kind: "working"; readonly progress: Progress | undefined }
  | { readonly kind: "refused"; readonly problems: readonly Problem[] }
  | { readonly kind: "shown"; readonly preview: FilePreview; readonly report: ImportReport };

export interface ImportPlatform {
  readonly session: Session;
  readonly client: CsvClient;
  readonly preferences: PreferenceStore;
}

/** One import into the sheet that was in view when it began. `close` ends its worker. */
export class CsvImport {
  readonly state: Signal<ImportState> = signal({ kind: "waiting" });
  readonly reading: Signal<FileReading> = signal({});
  readonly options: Signal<ImportOptions> = signal({});
  /** How many answers are waited for; what is shown is only then what would be done when there are none. */
  readonly pending: Signal<number> = signal(0);
  readonly sheet: SheetKey;

  private readonly platform: ImportPlatform;
  /** Rises with every question, so that an answer that comes late is known to be stale. */
  private asked = 0;

  constructor(platform: ImportPlatform) {
    this.platform = platform;
    this.sheet = platform.session.sheet.value;
  }

  /** Takes a file that was chosen or dropped. */
  async takeFile(file: File): Promise<void> {
    const problems = sizeProblems(file, CSV_FILE.largestBytes);
    if (problems.length > 0) this.state.value = { kind: "refused", problems };
    else await this.take({ kind: "file", file, name: file.name });
  }

  /** Reads a whole workbook from a zip of tables; undefined where it can't be had, which is shown, or was stopped. */
  async takeZip(file: File): Promise<Workbook | undefined> {
    const problems = sizeProblems(file, ZIP_FILE.largestBytes);
    if (problems.length > 0) this.state.value = { kind: "refused", problems };
    else {
      this.state.value = { kind: "working", progress: undefined };
      const answer = await this.ask({ kind: "workbook", file, name: file.name });
      if (answer?.kind === "answer") return answer.value;
    }
    return undefined;
  }

  /** Takes pasted text. */
  async takeText(text: string): Promise<void> {
    await this.take({ kind: "text", text, name: "What was pasted" });
  }

  /** Reads the file in another way. */
  async read(reading: FileReading): Promise<void> {
    this.reading.value = reading;
    await this.during(() => this.readTable());
  }

  /** Plans the import in another way. */
  async plan(options: ImportOptions): Promise<void> {
    const shown = this.state.value;
    this.options.value = options;
    if (shown.kind === "shown") await this.during(() => this.readPlan(shown.preview));
  }

  /** Sends one column of the file elsewhere, and remembers it for files of this shape. */
  async sendColumn(header: string, key: string): Promise<void> {
    const shown = this.state.value;
    if (shown.kind !== "shown") return;
    const columns = { ...this.options.value.columns, [header]: key };
    await this.plan({ ...this.options.value, columns });
    const known = await this.platform.preferences.get("csvShapes");
    const added = { shape: this.shapeOf(shown.preview), columns };
    await this.platform.preferences.set("csvShapes", withShape((known.ok && known.value) || [], added));
  }

  /** Stops reading and goes back to the choice of a file. */
  cancel(): void {
    this.platform.client.cancel();
    this.state.value = { kind: "waiting" };
  }

  /** Makes the change, as one undo step; false where there is none to make. */
  async bringIn(): Promise<boolean> {
    const shown = this.state.value;
    if (shown.kind !== "shown" || this.pending.value > 0) return false;
    const answer = await this.platform.client.ask({ kind: "change" });
    if (answer.kind !== "answer") return false;
    const change: Change = answer.value;
    const { session } = this.platform;
    if (!session.commit(change)) return false;
    const { added, changed, refused } = shown.report.counts;
    session.notifyDone(
      `Imported ${shown.preview.name}: ${added} added, ${changed} changed, ${refused} refused.`,
      shown.report.rejectedCount > refused
        ? [`${counted(shown.report.rejectedCount, "cell was left as it is", "cells were left as they are")}.`]
        : [],
    );
    return true;
  }

  /** Saves the lines that are not imported, with the reasons, as a file. */
  async saveRejected(): Promise<void> {
    const shown = this.state.value;
    const answer = await this.platform.client.ask({ kind: "rejected" });
    if (answer.kind !== "answer" || shown.kind !== "shown") return;
    const name = fileNameFor(`${shown.preview.name.replace(/\.[^.]*$/, "")} refused`, ".csv");
    const saved = await saveTextFile(name, answer.value, CSV_FILE);
    if (!saved.ok) this.platform.session.refuse(saved.problems);
    else if (saved.value) this.platform.session.notify("done", `Saved as the file ${name}.`);
  }

  close(): void {
    this.platform.client.cancel();
  }

  private async during(work: () => Promise<void>): Promise<void> {
    this.pending.value += 1;
    try {
      await work();
    } finally {
      this.pending.value -= 1;
    }
  }

  private async take(question: Extract<CsvQuestion, { kind: "file" | "text" }>): Promise<void> {
    this.reading.value = {};
    this.options.value = { label: `Import ${question.name}` };
    const taken = await this.ask(question);
    if (taken?.kind === "answer") await this.readTable();
  }

  private async readTable(): Promise<void> {
    const book = this.platform.session.book.value;
    const answer = await this.ask({ kind: "table", reading: this.reading.value, book, sheet: this.sheet });
    if (answer?.kind !== "answer") return;
    await this.recall(answer.value);
    await this.readPlan(answer.value);
  }

  private async readPlan(preview: FilePreview): Promise<void> {
    const answer = await this.ask({ kind: "plan", options: this.options.value });
    if (answer?.kind === "answer") this.state.value = { kind: "shown", preview, report: answer.value };
  }

  /** Where the columns of a file of this shape went the last time, unless something was chosen by now. */
  private async recall(preview: FilePreview): Promise<void> {
    if (this.options.value.columns) return;
    const known = await this.platform.preferences.get("csvShapes");
    const shape = this.shapeOf(preview);
    const columns = known.ok ? known.value?.find((one) => one.shape === shape)?.columns : undefined;
    if (columns) this.options.value = { ...this.options.value, columns };
  }

  private shapeOf({ header }: FilePreview): string {
    return JSON.stringify([this.sheet, ...header]);
  }

  /** Asks the worker; undefined where the answer is late, was refused (with a message) or is not wanted any more. */
  private async ask<Q extends CsvQuestion>(question: Q) {
    this.asked += 1;
    const request = this.asked;
    const before = this.state.value;
    // What is shown stays in sight while it is planned anew, unless that takes long enough to be heard of.
    if (before.kind !== "shown") this.state.value = { kind: "working", progress: undefined };
    const onProgress = (progress: Progress) => {
      if (request === this.asked && this.state.value.kind === "working")
        this.state.value = { kind: "working", progress };
    };
    try {
      return this.receive(request, await this.platform.client.ask(question, onProgress));
    } catch (error) {
      return this.receive<never>(request, { kind: "refused", problems: [failedProblem(error)] });
    }
  }

  private receive<T>(request: number, outcome: CsvOutcome<T>): CsvOutcome<T> | undefined {
    if (request !== this.asked) return undefined;
    if (outcome.kind === "refused") this.state.value = { kind: "refused", problems: outcome.problems };
    return outcome;
  }
}

function failedProblem(error: unknown): Problem {
  return problem({
    code: "csv.failed",
    where: "The file",
    found: error instanceof Error ? error.message : String(error),
    allowed: "a file that can be read here",
    fix: "Choose it again; where that fails too, split it into smaller files.",
  });
}
