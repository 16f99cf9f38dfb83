// CSV files are read in a worker of their own: the page never waits for a large one.
import type { CsvQuestion, CsvReply } from "./client";
import { createCsvWork } from "./work";

declare const self: DedicatedWorkerGlobalScope;

const work = createCsvWork();

self.onmessage = async ({ data }: MessageEvent<CsvQuestion & { readonly id: number }>) => {
  const { id } = data;
  const answer = (reply: CsvReply) => self.postMessage(reply);
  try {
    const result = await work(data, (progress) => answer({ kind: "progress", id, progress }));
    answer(
      result.ok ? { kind: "answer", id, answer: result.value } : { kind: "problems", id, problems: result.problems },
    );
  } catch (error) {
    answer({ kind: "failure", id, failure: error instanceof Error ? error.message : String(error) });
  }
};
