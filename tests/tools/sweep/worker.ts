// Evaluates calls of functions one by one, and says before each which it is: whoever started it looks at its clock.
import { parentPort, workerData } from "node:worker_threads";
import { DetailedCellError, HyperFormula } from "hyperformula";
import { ENGINE_CONFIG } from "../../../src/engine/engine";
import { prepareEngine } from "../../../src/engine/hyperformula/patches";
import { CELLS, callsOf } from "./formulas";
import type { SweepTask } from "./sweep";

const task: SweepTask = workerData;
const at = new Int32Array(task.at);

prepareEngine();
const names = HyperFormula.getRegisteredFunctionNames("enGB").sort();
const formulas = names.flatMap((name) => callsOf(name, task.isThorough));
parentPort?.postMessage({ functions: names.length, formulas });

const engine = HyperFormula.buildFromArray(
  CELLS.map((row) => [...row]),
  ENGINE_CONFIG,
);
const places = [{ sheet: 0, row: 0, col: 7 }, ...(task.isThorough ? [{ sheet: 0, row: 0, col: 50 }] : [])];

function tryOut(formula: string): void {
  for (const [index, place] of places.entries()) {
    const text = index === 0 ? formula : `=IFERROR(${formula.slice(1)},-1)`;
    engine.setCellContents(place, text);
    const value = engine.getCellValue(place);
    const isValue =
      value instanceof DetailedCellError ||
      value === null ||
      (typeof value === "number" ? Number.isFinite(value) : ["string", "boolean"].includes(typeof value));
    if (!isValue) parentPort?.postMessage({ wrong: `${text} gives ${String(value)}` });
    engine.setCellContents(place, null);
  }
}

for (const [index, formula] of formulas.entries()) {
  if (index < task.from) continue;
  Atomics.store(at, 0, index);
  const started = performance.now();
  try {
    tryOut(formula);
  } catch (error) {
    parentPort?.postMessage({ wrong: `${formula} throws ${error instanceof Error ? error.stack : String(error)}` });
  }
  const took = Math.round(performance.now() - started);
  if (took > task.slow) parentPort?.postMessage({ slow: `${formula} takes ${took} ms` });
}
parentPort?.postMessage({ isDone: true });
