// From settings to an answer: which cells are changed and read, which cases are asked for.
import { type CellName, cellKeyOf } from "../../core/document/access";
import type { Workbook } from "../../core/document/workbook";
import { isFiringStep } from "../../core/sheets/step-kinds";
import { findBreakEven } from "../../whatif/questions/break-even";
import { askRanking, type InputRange } from "../../whatif/questions/ranking";
import { askCases } from "../../whatif/questions/side-by-side";
import { askSweep, askSweeps } from "../../whatif/questions/sweep";
import { askTable, levelLine } from "../../whatif/questions/table";
import { type Asking, type Gap, type Setting, sameCell, stepsBetween } from "../../whatif/run/case-matrix";
import type { Session } from "../edition/session";
import { baseOf, type QuestionContext } from "./question-context";
import type { Answer, AnswerBase, SweptInput } from "./whatif-answers";
import { type AskCell, askCell, lossCell, plannedSteps } from "./whatif-cells";
import { askOfChance } from "./whatif-chance";
import { numberToday, plausibleRange, sweepRange } from "./whatif-ranges";
import { once, type Settings, type SweptRange } from "./whatif-settings";

/** How fine to look: coarser where the engine has to answer case by case. */
const FINE = { sweep: 241, losses: 101, across: 41, down: 29, scan: 401 } as const;
const COARSE = { sweep: 61, losses: 31, across: 17, down: 13, scan: 81 } as const;
const finenessOf = ({ how }: Pick<AnswerBase, "how">) => (how.kind === "compiled" ? FINE : COARSE);

/** Answers a question. */
export async function answer(context: QuestionContext, settings: Settings, tried: readonly Setting[]): Promise<Answer> {
  switch (settings.question) {
    case "losses":
      return losses(context, settings, tried);
    case "sweep":
      return sweep(context, settings, tried);
    case "table":
      return table(context, settings, tried);
    case "ranking":
      return ranking(context, settings, tried);
    case "breakEven":
      return breakEven(context, settings, tried);
    case "cases":
      return cases(context, settings, tried);
    case "chance": {
      const base = await prepareBase(context, settings.results, [], tried);
      return { ...base, kind: "chance", chance: await askOfChance(context, tried) };
    }
  }
}

/** A cell that the question was set up with; it is there, since settings are kept to what the edition has. */
function mustAsk(book: Workbook, cell: CellName): AskCell {
  const found = askCell(book, cell);
  if (!found) throw new Error(`no number to ask about: ${cellKeyOf(cell)}`);
  return found;
}

const cellsOf = (settings: readonly Setting[]) => settings.map(({ cell }) => cell);

/** Makes the swept inputs ready together with those of the case that is tried, and says how the results stand in it. */
async function prepareBase(
  context: QuestionContext,
  outputs: readonly CellName[],
  inputs: readonly CellName[],
  tried: readonly Setting[],
): Promise<AnswerBase & { readonly asking: Asking }> {
  const { session, client, options } = context;
  const book = session.book.value;
  const prepared = await context.prepare(once([...inputs, ...cellsOf(tried)]), outputs);
  const asking: Asking = { client, prepared, base: baseOf(context, prepared, tried), options };
  const signal = options.signal ? { signal: options.signal } : {};
  const found = tried.length === 0 ? undefined : await client.run(prepared, asking.base, signal);
  return {
    results: outputs.map((cell) => mustAsk(book, cell)),
    today: prepared.todayOutputs,
    tried: found?.outputs ?? prepared.todayOutputs,
    how: prepared.how,
    gaps: [],
    asking,
  };
}

/** Gaps in words, each once. */
function gapTexts(results: readonly AskCell[], gaps: readonly Gap[]): readonly string[] {
  const texts = gaps.map(({ output, message }) => `${results[output]?.title ?? "A result"}: ${message}`);
  return [...new Set(texts)];
}

/** The values a swept input takes, today's and the tried one among them. */
function valuesOf(session: Session, { input, low, high }: SweptRange, count: number, also?: number): Float64Array {
  const of = mustAsk(session.book.value, input);
  const usual = sweepRange(session, of);
  return stepsBetween(low ?? usual.low, high ?? usual.high, count, of.isWhole, also);
}

function sweptAt(session: Session, cell: CellName, tried: readonly Setting[]) {
  const today = numberToday(session, cell);
  return { today, tried: tried.find((one) => sameCell(one.cell, cell))?.value ?? today };
}

async function losses(context: QuestionContext, settings: Settings, tried: readonly Setting[]): Promise<Answer> {
  const { session } = context;
  const book = session.book.value;
  const steps = plannedSteps(book);
  const firings = steps.filter(isFiringStep);
  const all = steps.map((row) => lossCell(row.id));
  const { asking, ...base } = await prepareBase(context, settings.results, all, tried);
  const wanted = (firings.length > 0 ? firings : steps).map((row) => ({ input: lossCell(row.id) }));
  const highest = Math.max(...wanted.map((one) => sweepRange(session, mustAsk(book, one.input)).high));
  const sweeps = await askSweeps(
    asking,
    wanted.map((one) => ({
      ...one,
      values: valuesOf(session, { ...one, low: 0, high: highest }, finenessOf(base).losses),
    })),
  );
  const lines = sweeps.map((found, at): SweptInput => {
    const { input } = wanted[at] ?? { input: lossCell("") };
    return { of: mustAsk(book, input), sweep: found, ...sweptAt(session, input, tried) };
  });
  const gaps = gapTexts(
    base.results,
    sweeps.flatMap((one) => one.gaps),
  );
  return { ...base, kind: "losses", lines, gaps };
}

async function sweep(context: QuestionContext, settings: Settings, tried: readonly Setting[]): Promise<Answer> {
  const { session } = context;
  const { input } = settings.sweep;
  const { asking, ...base } = await prepareBase(context, settings.results, [input], tried);
  const at = sweptAt(session, input, tried);
  const found = await askSweep(asking, input, valuesOf(session, settings.sweep, finenessOf(base).sweep, at.today));
  const line = { of: mustAsk(session.book.value, input), sweep: found, ...at };
  return { ...base, kind: "sweep", line, gaps: gapTexts(base.results, found.gaps) };
}

async function table(context: QuestionContext, settings: Settings, tried: readonly Setting[]): Promise<Answer> {
  const { session } = context;
  const book = session.book.value;
  const { across, down, level } = settings;
  const outputs = once([settings.aim, ...settings.results]);
  const { asking, ...base } = await prepareBase(context, outputs, [across.input, down.input], tried);
  const axis = (range: SweptRange, count: number) => ({
    input: range.input,
    values: valuesOf(session, range, count),
  });
  const found = await askTable(asking, axis(across, finenessOf(base).across), axis(down, finenessOf(base).down), 0);
  const [x, y] = [sweptAt(session, across.input, tried), sweptAt(session, down.input, tried)];
  return {
    ...base,
    kind: "table",
    aim: mustAsk(book, settings.aim),
    across: mustAsk(book, across.input),
    down: mustAsk(book, down.input),
    table: found,
    level,
    line: levelLine(found, level),
    todayAt: [x.today, y.today],
    triedAt: [x.tried, y.tried],
    gaps: gapTexts(base.results, found.gaps),
  };
}

async function ranking(context: QuestionContext, settings: Settings, tried: readonly Setting[]): Promise<Answer> {
  const { session } = context;
  const book = session.book.value;
  const asked = settings.ranked.map((cell) => mustAsk(book, cell));
  const ranges = asked.map((of): InputRange => ({ input: of.cell, ...plausibleRange(session, of) }));
  const outputs = once([settings.aim, ...settings.results]);
  const inputs = ranges.map(({ input }) => input);
  const { asking, ...base } = await prepareBase(context, outputs, inputs, tried);
  const found = await askRanking(asking, ranges, 0);
  return {
    ...base,
    kind: "ranking",
    aim: mustAsk(book, settings.aim),
    inputs: new Map(asked.map((of) => [cellKeyOf(of.cell), of])),
    ranking: found,
    gaps: gapTexts(base.results, found.gaps),
  };
}

async function breakEven(context: QuestionContext, settings: Settings, tried: readonly Setting[]): Promise<Answer> {
  const { session } = context;
  const book = session.book.value;
  const { input } = settings.breakEven;
  const of = mustAsk(book, input);
  const outputs = once([settings.aim, ...settings.results]);
  const { asking, ...base } = await prepareBase(context, outputs, [input], tried);
  const gaps: Gap[] = [];
  const evaluate = async (values: Float64Array) => {
    const found = await askSweep(asking, input, values);
    gaps.push(...found.gaps);
    return found.outputs[0] ?? new Float64Array(values.length).fill(Number.NaN);
  };
  const usual = sweepRange(session, of);
  const { low = usual.low, high = usual.high } = settings.breakEven;
  const found = await findBreakEven(evaluate, {
    ...{ low, high, target: settings.target, isWhole: of.isWhole },
    scanned: finenessOf(base).scan,
  });
  return {
    ...base,
    kind: "breakEven",
    of,
    aim: mustAsk(book, settings.aim),
    target: settings.target,
    found,
    todayAt: sweptAt(session, input, tried).today,
    gaps: gapTexts(base.results, gaps),
  };
}

async function cases(context: QuestionContext, settings: Settings, tried: readonly Setting[]): Promise<Answer> {
  const { session, client, options } = context;
  const book = session.book.value;
  const { asking: _, ...base } = await prepareBase(context, settings.results, [], tried);
  const kept = book.lists.cases.map((one) => ({
    id: one.id,
    title: one.title,
    settings: one.changes
      .map(({ value, sheet, row, column }): Setting => ({ cell: { sheet, row, column }, value }))
      .filter(({ cell }) => askCell(book, cell)),
  }));
  const prepared = await context.prepare(once(kept.flatMap((one) => cellsOf(one.settings))), settings.results);
  const found = await askCases(
    { client, prepared, base: baseOf(context, prepared, []), options },
    kept.map((one) => one.settings),
  );
  const all = kept.map((one, at) => ({ ...one, values: found.results[at] ?? [] }));
  const trying = { id: "", title: "Being tried", settings: tried, values: [...base.tried] };
  const changed = once([...all, trying].flatMap((one) => cellsOf(one.settings)));
  const inputs = new Map(changed.map((cell) => [cellKeyOf(cell), mustAsk(book, cell)]));
  return {
    ...base,
    kind: "cases",
    cases: tried.length > 0 ? [...all, trying] : all,
    inputs,
    gaps: gapTexts(base.results, found.gaps),
  };
}
