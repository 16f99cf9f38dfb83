// Measures what-ifs in a real page, under a policy that allows no code from text: compiled in their worker, by the engine
// set and read (on fewer cases, scaled), and by hand over typed arrays.
import type { CellName } from "../../../src/core/document/access";
import type { Change } from "../../../src/core/document/change";
import { startEngine } from "../../../src/engine/client";
import { startWhatIf } from "../../../src/whatif/run/client";
import { MIXED, runEdition } from "../edition";
import { calculateByHand, RESULTS } from "./by-hand";

const INPUTS: readonly CellName[] = [
  { sheet: "route", row: "glaze_firing", column: "loss" },
  { sheet: "materials", row: "m3", column: "pack_price" },
  { sheet: "edition", row: "wage", column: "value" },
];

/** The longest the page did not come to draw, until stopped. */
function watchFrames(): () => number {
  let [longest, last, isOn] = [0, performance.now(), true];
  const frame = () => {
    const now = performance.now();
    longest = Math.max(longest, now - last);
    last = now;
    if (isOn) requestAnimationFrame(frame);
  };
  requestAnimationFrame(frame);
  return () => {
    isOn = false;
    return longest;
  };
}

async function timed<T>(work: () => T | Promise<T>): Promise<readonly [number, T]> {
  const start = performance.now();
  const result = await work();
  return [performance.now() - start, result];
}

const median = (list: number[]) => list.sort((a, b) => a - b)[Math.floor(list.length / 2)] ?? 0;

async function measure(pieces: number, count: number, engineCases: number) {
  const book = runEdition(pieces, MIXED);
  const engine = startEngine();
  await engine.open(book);
  const whatIf = startWhatIf(engine);
  const lustre = book.sheets.materials.rows.find(({ cells }) => cells.id === "Platinum lustre");
  const inputs = INPUTS.map((cell) => (cell.sheet === "materials" && lustre ? { ...cell, row: lustre.id } : cell));
  const outputs = RESULTS.map((row): CellName => ({ sheet: "results", row, column: "value" }));
  const [first] = await timed(() => whatIf.prepare(inputs, outputs));
  const [again, prepared] = await timed(() => whatIf.prepare(inputs, outputs));
  const cases = new Float64Array(count * 3);
  for (let at = 0; at < count; at += 1)
    cases.set([0.02 + (0.2 * at) / count, 80 + (90 * at) / count, 18 + (9 * at) / count], at * 3);
  const stop = watchFrames();
  const runs = [];
  let answers = await whatIf.run(prepared, cases);
  for (let round = 0; round < 3; round += 1) {
    const [took, latest] = await timed(() => whatIf.run(prepared, cases));
    runs.push(took);
    answers = latest;
  }
  const longest = stop();
  const hands = [];
  let byHand = calculateByHand(book, cases);
  for (let round = 0; round < 3; round += 1) {
    const [took, latest] = await timed(() => calculateByHand(book, cases));
    hands.push(took);
    byHand = latest;
  }
  const furthest = answers.outputs.reduce((most, value, at) => {
    const other = byHand[at] ?? Number.NaN;
    return Math.max(most, Math.abs(value - other) / Math.max(1, Math.abs(other)));
  }, 0);
  const set = (at: number): Change => ({
    label: "",
    operations: inputs.map((cell, i) => ({ kind: "cell", ...cell, was: undefined, is: cases[at * 3 + i] ?? 0 })),
  });
  await engine.apply(set(0));
  const [engineTime] = await timed(async () => {
    for (let at = 1; at <= engineCases; at += 1) await engine.apply(set(at * 7));
  });
  whatIf.close();
  engine.close();
  return {
    how: prepared.how,
    first,
    again,
    run: median(runs),
    hand: median(hands),
    engine: (engineTime / engineCases) * count,
    longest,
    furthest,
  };
}

Object.assign(window, { measureWhatIf: measure });
