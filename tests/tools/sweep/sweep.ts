// Every function the engine has, with extreme arguments: each call must end soon, never throw, and never give NaN.
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { Worker } from "node:worker_threads";
import { build } from "vite";

/** What a worker of the sweep is given. */
export interface SweepTask {
  readonly from: number;
  readonly isThorough: boolean;
  /** Calls that take longer, in milliseconds, are told of. */
  readonly slow: number;
  /** Where it stores which formula it is at. */
  readonly at: SharedArrayBuffer;
}

/** What a sweep found. */
export interface SweepReport {
  readonly functions: number;
  readonly calls: number;
  /** Calls that threw, or gave something that is no value. */
  readonly wrong: readonly string[];
  /** Calls that did not end within the limit. */
  readonly endless: readonly string[];
  /** Calls that took a tenth of the limit; a busy machine makes some of them. */
  readonly slow: readonly string[];
}

type Said =
  | { readonly functions: number; readonly formulas: readonly string[] }
  | { readonly wrong: string }
  | { readonly slow: string }
  | { readonly isDone: true };

/** Sweeps all functions; a call may take `limit` milliseconds. */
export async function sweep(isThorough: boolean, limit: number): Promise<SweepReport> {
  const folder = await mkdtemp(join(tmpdir(), "sweep-"));
  try {
    return await run(await bundle(folder), isThorough, limit);
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

async function bundle(folder: string): Promise<string> {
  await build({
    configFile: false,
    logLevel: "error",
    ssr: { noExternal: true },
    build: {
      ssr: fileURLToPath(new URL("./worker.ts", import.meta.url)),
      outDir: folder,
      emptyOutDir: false,
      minify: false,
      rolldownOptions: { output: { entryFileNames: "sweep.mjs", codeSplitting: false } },
    },
  });
  return join(folder, "sweep.mjs");
}

async function run(file: string, isThorough: boolean, limit: number): Promise<SweepReport> {
  const wrong: string[] = [];
  const slow: string[] = [];
  const endless: string[] = [];
  for (let from = 0; ; ) {
    const at = new SharedArrayBuffer(4);
    const worker = new Worker(file, { workerData: { from, isThorough, at, slow: limit / 10 } satisfies SweepTask });
    const { functions, formulas, stuckAt } = await listen(worker, new Int32Array(at), limit, { wrong, slow });
    await worker.terminate();
    if (stuckAt === undefined) return { functions, calls: formulas.length, wrong, endless, slow };
    endless.push(formulas[stuckAt] ?? "");
    from = stuckAt + 1;
  }
}

/** Listens until the worker is done, or has been at one formula for longer than the limit. */
function listen(worker: Worker, at: Int32Array, limit: number, lists: { wrong: string[]; slow: string[] }) {
  return new Promise<{ functions: number; formulas: readonly string[]; stuckAt?: number }>((resolve, reject) => {
    let begun = { functions: 0, formulas: [] as readonly string[] };
    let seen = -1;
    const watch = setInterval(() => {
      const now = Atomics.load(at, 0);
      if (begun.functions === 0 || now !== seen) seen = begun.functions === 0 ? -1 : now;
      else finish({ ...begun, stuckAt: now });
    }, limit);
    const finish = (outcome: Parameters<typeof resolve>[0]) => {
      clearInterval(watch);
      resolve(outcome);
    };
    worker.on("message", (said: Said) => {
      if ("wrong" in said) lists.wrong.push(said.wrong);
      else if ("slow" in said) lists.slow.push(said.slow);
      else if ("formulas" in said) begun = said;
      else finish(begun);
    });
    worker.on("error", (error) => {
      clearInterval(watch);
      reject(error);
    });
  });
}
