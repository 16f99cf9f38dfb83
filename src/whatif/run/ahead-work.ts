// What the worker does to be ahead of the engine: it keeps one set of inputs ready, and answers for it.
import type { EngineModel } from "../../engine/model";
import { type Ahead, prepareAhead } from "./ahead";
import type { AheadReply, AheadRequest } from "./messages";

export class AheadWork {
  private readonly reply: (reply: AheadReply) => void;
  private model: EngineModel | undefined;
  private ready: { readonly id: number; readonly ahead: Ahead } | undefined;

  constructor(reply: (reply: AheadReply) => void) {
    this.reply = reply;
  }

  /** Does what a request asks; what goes wrong is replied, never thrown. */
  handle(request: AheadRequest): void {
    try {
      if (request.kind === "foresee") this.foresee(request);
      else {
        const foretold = this.ready?.id === request.of ? this.ready.ahead.answer(request.inputs) : undefined;
        if (!foretold) this.ready = undefined;
        this.reply({ id: request.id, foretold });
      }
    } catch (error) {
      this.ready = undefined;
      const failure = error instanceof Error ? `${error.message}\n${error.stack}` : String(error);
      this.reply({ id: request.id, failure });
    }
  }

  private foresee({ id, model, inputs }: Extract<AheadRequest, { readonly kind: "foresee" }>): void {
    this.ready = undefined;
    if (model) this.model = model;
    if (!this.model) throw new Error("there is no edition to look ahead in");
    const outcome = prepareAhead(this.model, inputs);
    if (outcome.ok) {
      this.ready = { id, ahead: outcome.ahead };
      this.reply({ id, columns: outcome.ahead.columns });
    } else this.reply({ id, notes: outcome.notes });
  }
}
