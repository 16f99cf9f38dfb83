// The whole studio as one file: every edition, the shelf and the maker's own templates, as they are stored.
import { type Signal, signal } from "@preact/signals";
import { counted } from "../../core/counted";
import { writeDocument } from "../../core/document/write-document";
import { ok, type Problem, type Result } from "../../core/problem";
import type { CsvClient, Progress } from "../../csv/client";
import type { StudioPart } from "../../csv/studio-contents";
import type { EditionSummary } from "../../storage/edition-store";
import { fileNameFor, STUDIO_FILE, saveTextFile } from "../../storage/files";
import { dayText } from "../edition/written-days";
import type { Studio } from "./studio";

/** The making of a file; it can be stopped. */
export class StudioFile {
  readonly progress: Signal<Progress | undefined> = signal(undefined);
  /** What could not be put into it. */
  readonly leftOut: Signal<readonly string[]> = signal([]);
  readonly problems: Signal<readonly Problem[]> = signal([]);
  private readonly studio: Studio;
  private readonly client: CsvClient;
  private isStopped = false;

  constructor(studio: Studio) {
    this.studio = studio;
    this.client = studio.platform.startCsv();
  }

  /** Stops whatever is being done, and ends the worker. */
  stop(): void {
    this.isStopped = true;
    this.client.cancel();
    this.progress.value = undefined;
  }

  /** Packs everything that is kept and asks where to save it; whether it was. */
  async save(): Promise<boolean> {
    const { studio } = this;
    this.isStopped = false;
    this.problems.value = [];
    const parts = await this.parts();
    if (this.isStopped) return false;
    const at = studio.platform.now().toISOString();
    this.progress.value = { doing: "packing", done: 0, of: 1 };
    const packed = await this.client.ask({ kind: "pack studio", at, parts });
    this.progress.value = undefined;
    if (packed.kind === "refused") this.problems.value = packed.problems;
    if (packed.kind !== "answer") return false;
    const name = fileNameFor(`studio ${at.slice(0, 10)}`, STUDIO_FILE.extensions[0]);
    const saved = await saveTextFile(name, packed.value, STUDIO_FILE);
    if (!saved.ok) this.problems.value = saved.problems;
    if (!saved.ok || !saved.value) return false;
    studio.files.savedAll(parts.map(({ id }) => id));
    studio.session.value?.notify(
      "done",
      `Saved ${counted(parts.length, "edition")} as the file ${name}, of ${dayText(at, studio.platform.locale)}.`,
    );
    return true;
  }

  /** Every edition that can be read, but the deleted ones. */
  private async parts(): Promise<readonly StudioPart[]> {
    const { studio } = this;
    await studio.flush();
    await studio.refreshList();
    const wanted = studio.editions.value.filter(({ mark }) => mark?.as !== "deleted");
    const parts: StudioPart[] = [];
    const leftOut: string[] = [];
    for (const [done, summary] of wanted.entries()) {
      if (this.isStopped) break;
      this.progress.value = { doing: "reading", done, of: wanted.length };
      const part = summary.problem ? undefined : await partOf(studio, summary);
      if (part?.ok) parts.push(part.value);
      else leftOut.push(summary.title);
      await studio.platform.breathe();
    }
    this.leftOut.value = leftOut;
    return parts;
  }
}

async function partOf(studio: Studio, { id, title, pieces, mark }: EditionSummary): Promise<Result<StudioPart>> {
  const { editions } = studio.home;
  const [stamp, text] = await Promise.all([editions.stamp(id), editions.readText(id)]);
  if (!stamp.ok) return stamp;
  if (!text.ok) return text;
  const { updatedAt, edit } = stamp.value;
  const part = { id, title, updatedAt, pieces, ...(mark ? { mark } : {}), ...(edit ? { edit } : {}) };
  // What can't be stored is all the more worth a file.
  const open = studio.open?.id === id && studio.isAtRisk ? studio.open.session.book.value : undefined;
  return ok({ ...part, text: open ? writeDocument(open) : text.value });
}

/** How far it is, in words. */
export function progressWords({ doing, done, of }: Progress): string {
  if (doing === "reading" && of < 10_000) return `Reading ${Math.min(done + 1, of)} of ${of}…`;
  if (doing === "checking") return `Checking ${Math.min(done + 1, of)} of ${of}…`;
  return doing === "packing" ? "Packing…" : "Unpacking…";
}
