// What the worker does as a calculator: requests in their turn. A document of which a newer change is waiting is not
// compiled: the values would be shown to nobody.
import { Calculator } from "./calculator";
import type { CalculatorReply, CalculatorRequest } from "./messages";

export class CalculatorWork {
  readonly #reply: (reply: CalculatorReply) => void;
  /** Lets messages in that have come meanwhile. */
  readonly #pause: () => Promise<void>;
  readonly #queue: CalculatorRequest[] = [];
  #calculator: Calculator | undefined;

  constructor(reply: (reply: CalculatorReply) => void, pause: () => Promise<void>) {
    this.#reply = reply;
    this.#pause = pause;
  }

  handle(request: CalculatorRequest): void {
    this.#queue.push(request);
    if (this.#queue.length === 1) void this.#work();
  }

  async #work(): Promise<void> {
    for (let request = this.#queue[0]; request; request = this.#queue[0]) {
      if (request.kind !== "apply" || request.inputs) await this.#pause();
      this.#answer(request);
      this.#queue.shift();
    }
  }

  #answer(request: CalculatorRequest): void {
    const { id } = request;
    try {
      if (request.kind === "open") {
        this.#calculator = new Calculator(request.book, request.layout, request.excluded);
        this.#reply({ kind: "opened", id, opened: { ok: false, notes: [] } });
        return;
      }
      const calculator = this.#calculator;
      if (!calculator) throw new Error("the calculator has no edition");
      if (request.kind === "prepare inputs") {
        this.#reply({ kind: "opened", id, opened: calculator.prepare(request.inputs) });
        calculator.warmUp();
      } else {
        const { change, inputs } = request;
        const patch = calculator.apply(change);
        const isLatest = this.#queue.length === 1;
        this.#reply({ kind: "patch", id, patch: patch ?? (inputs && isLatest ? calculator.again(inputs) : undefined) });
      }
    } catch (error) {
      this.#calculator = undefined;
      const failure = error instanceof Error ? `${error.message}\n${error.stack}` : String(error);
      this.#reply({ kind: "failure", id, failure });
    }
  }
}
