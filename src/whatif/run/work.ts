// What the worker does: it keeps questions that are ready, answers cases in blocks, and looks up between blocks.
import type { CellName } from "../../core/document/access";
import type { EngineSource } from "../../engine/engine";
import type { EngineModel } from "../../engine/model";
import type { Value } from "../../engine/values";
import { whyNotNumeric } from "../compile/cell-value";
import type { PrivateEngine } from "./by-engine";
import type { Answers, Prepared } from "./client-port";
import type { WhatIfReply, WhatIfRequest } from "./messages";
import { answerBlock, type Findings, prepareQuestion, type Question } from "./question";

/** What the worker is given by the platform. */
export interface WorkPlatform {
  readonly reply: (reply: WhatIfReply) => void;
  /** Milliseconds from any start. */
  readonly now: () => number;
  /** Lets messages in that have come meanwhile. */
  readonly pause: () => Promise<void>;
  /** Builds a private engine; it is only loaded when something can't be compiled. */
  readonly buildEngine: (source: EngineSource) => Promise<PrivateEngine>;
}

type Ready =
  | { readonly kind: "compiled"; readonly question: Question }
  | { readonly kind: "engine"; readonly inputs: readonly CellName[]; readonly outputs: readonly CellName[] };

type Asked = Extract<WhatIfRequest, { readonly kind: "prepare" }>;

/** How long the worker works before it says how far it is, in milliseconds. */
const AT_A_STRETCH = 24;

export class WhatIfWork {
  private readonly platform: WorkPlatform;
  private model: EngineModel | undefined;
  private readonly questions = new Map<number, Ready>();
  private readonly running = new Set<number>();
  private readonly waiting = new Map<number, { readonly asked: Asked; readonly notes: readonly string[] }>();
  private engine: { readonly version: number; readonly built: Promise<PrivateEngine> } | undefined;
  /** The private engine serves one at a time. */
  private queue: Promise<unknown> = Promise.resolve();

  constructor(platform: WorkPlatform) {
    this.platform = platform;
  }

  /** Does what a request asks; what goes wrong is replied, never thrown. */
  async handle(request: WhatIfRequest): Promise<void> {
    try {
      if (request.kind === "prepare") await this.prepare(request);
      else if (request.kind === "document") await this.takeDocument(request.id, request.source);
      else if (request.kind === "run") await this.run(request.id, request.question, request.cases);
      else if (request.kind === "stop") this.running.delete(request.id);
      else this.questions.delete(request.question);
    } catch (error) {
      const failure = error instanceof Error ? `${error.message}\n${error.stack}` : String(error);
      if ("id" in request) this.platform.reply({ kind: "failure", id: request.id, failure });
    }
  }

  private async prepare(asked: Asked): Promise<void> {
    const { id, inputs, outputs } = asked;
    if (asked.model) this.model = asked.model;
    if (!this.model) throw new Error("the what-if has no edition");
    const outcome = prepareQuestion(this.model, inputs, outputs);
    if (!outcome.ok) {
      this.waiting.set(id, { asked, notes: outcome.notes });
      if (this.engine?.version === this.model.version) await this.finishByEngine(id);
      else this.platform.reply({ kind: "wants document", id });
      return;
    }
    const { question } = outcome;
    this.questions.set(id, { kind: "compiled", question });
    const { todayInputs, todayOutputs } = question;
    this.replyPrepared({ id, inputs, outputs, how: { kind: "compiled" }, todayInputs, todayOutputs });
  }

  private async takeDocument(id: number, source: EngineSource): Promise<void> {
    const version = this.model?.version ?? 0;
    const old = this.engine;
    if (old?.version !== version) {
      if (old) void this.enqueue(async () => (await old.built).close());
      this.engine = { version, built: this.platform.buildEngine(source) };
    }
    await this.finishByEngine(id);
  }

  private enqueue<Result>(task: () => Promise<Result>): Promise<Result> {
    const result = this.queue.then(task);
    this.queue = result.catch(() => undefined);
    return result;
  }

  private async finishByEngine(id: number): Promise<void> {
    const waiting = this.waiting.get(id);
    this.waiting.delete(id);
    const engine = await this.engine?.built;
    if (!waiting || !engine) return;
    const { inputs, outputs } = waiting.asked;
    this.questions.set(id, { kind: "engine", inputs, outputs });
    const today = (cells: readonly CellName[]) => Float64Array.from(cells, (cell) => numberOr(engine.today(cell)));
    const how = { kind: "engine", notes: waiting.notes } as const;
    await this.enqueue(async () =>
      this.replyPrepared({ id, inputs, outputs, how, todayInputs: today(inputs), todayOutputs: today(outputs) }),
    );
  }

  private replyPrepared(prepared: Prepared): void {
    this.platform.reply({ kind: "prepared", id: prepared.id, prepared });
  }

  private async run(id: number, number: number, cases: Float64Array): Promise<void> {
    const ready = this.questions.get(number);
    if (!ready) throw new Error("the question was released");
    this.running.add(id);
    const { inputs, outputs } = ready.kind === "compiled" ? ready.question : ready;
    const total = inputs.length === 0 ? 1 : cases.length / inputs.length;
    const findings: Findings = { outputs: new Float64Array(total * outputs.length), failures: new Map() };
    const isDone =
      ready.kind === "compiled"
        ? await this.work(id, total, (from) => answerBlock(ready.question, cases, from, findings))
        : await this.enqueue(() => this.runByEngine(id, ready, cases, findings, total));
    this.running.delete(id);
    if (!isDone) return;
    const answers: Answers = { outputs: findings.outputs, failures: [...findings.failures.values()] };
    this.platform.reply({ kind: "answers", id, answers });
  }

  private async runByEngine(
    id: number,
    ready: Extract<Ready, { readonly kind: "engine" }>,
    cases: Float64Array,
    findings: Findings,
    total: number,
  ): Promise<boolean> {
    const engine = await this.engine?.built;
    if (!engine) throw new Error("there is no private engine");
    try {
      return await this.work(id, total, (from) => answerByEngine(engine, ready, cases, from, findings));
    } finally {
      engine.reset(ready.inputs);
    }
  }

  /** Works until everything is done or somebody stops it; says between stretches how far it is. */
  private async work(id: number, total: number, step: (from: number) => number): Promise<boolean> {
    let done = 0;
    while (done < total) {
      const until = this.platform.now() + AT_A_STRETCH;
      while (done < total && this.platform.now() < until) done = step(done);
      this.platform.reply({ kind: "progress", id, done, total });
      await this.platform.pause();
      if (!this.running.has(id)) return false;
    }
    return true;
  }
}

function numberOr(value: Value): number {
  return typeof value === "number" ? value : Number.NaN;
}

function answerByEngine(
  engine: PrivateEngine,
  { inputs, outputs }: Extract<Ready, { readonly kind: "engine" }>,
  cases: Float64Array,
  from: number,
  findings: Findings,
): number {
  const values = engine.answer(inputs, outputs, cases.subarray(from * inputs.length, (from + 1) * inputs.length));
  for (const [at, value] of values.entries()) {
    findings.outputs[from * outputs.length + at] = numberOr(value);
    if (typeof value !== "number" && !findings.failures.has(at))
      findings.failures.set(at, { output: at, case: from, message: whyNotNumeric(value) });
  }
  return from + 1;
}
