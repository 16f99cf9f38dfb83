// A what-if client over a plain function: no workbook and no engine, so that a question can be checked by hand.
import { lineCell } from "../../src/app/whatif/whatif-cells";
import { type Asking, baseWith, type Setting } from "../../src/whatif/run/case-matrix";
import type { Answers, Prepared, RunOptions, WhatIfClient } from "../../src/whatif/run/client-port";

/** The input or result of that name. */
export const named = (name: string) => lineCell("edition", name);

type Calculate = (inputs: Readonly<Record<string, number>>) => Readonly<Record<string, number>>;

export interface FormulaClient extends WhatIfClient {
  /** How many cases were asked for in each run. */
  readonly runs: number[];
  lastOptions?: RunOptions;
}

/** A client whose results are a function of its inputs; no number is left out with a reason. */
export function formulaClient(today: Readonly<Record<string, number>>, calculate: Calculate): FormulaClient {
  const client: FormulaClient = {
    runs: [],
    async prepare(inputs, outputs) {
      const results = calculate(today);
      return {
        id: 1,
        inputs,
        outputs,
        how: { kind: "compiled" },
        todayInputs: Float64Array.from(inputs, ({ row }) => today[row] ?? Number.NaN),
        todayOutputs: Float64Array.from(outputs, ({ row }) => results[row] ?? Number.NaN),
      };
    },
    async run({ inputs, outputs }, cases, options) {
      options?.signal?.throwIfAborted();
      const count = cases.length / inputs.length;
      client.runs.push(count);
      if (options) client.lastOptions = options;
      const found = new Float64Array(count * outputs.length);
      const failures: Answers["failures"][number][] = [];
      for (let at = 0; at < count; at += 1) {
        const given = { ...today };
        inputs.forEach(({ row }, index) => {
          const value = cases[at * inputs.length + index] ?? Number.NaN;
          if (!Number.isNaN(value)) given[row] = value;
        });
        const results = calculate(given);
        outputs.forEach(({ row }, output) => {
          const value = results[row] ?? Number.NaN;
          found[at * outputs.length + output] = value;
          if (Number.isNaN(value) && !failures.some((one) => one.output === output))
            failures.push({ output, case: at, message: `no ${row} there` });
        });
      }
      options?.onProgress?.(count, count);
      return { outputs: found, failures };
    },
    release: () => undefined,
    close: () => undefined,
  };
  return client;
}

/** A question made ready over such a client. */
export async function asking(
  client: WhatIfClient,
  inputs: readonly string[],
  outputs: readonly string[],
  settings: readonly Setting[] = [],
): Promise<Asking & { readonly prepared: Prepared }> {
  const prepared = await client.prepare(inputs.map(named), outputs.map(named));
  return { client, prepared, base: baseWith(prepared, settings, () => true) };
}
