// The question of chance, put together from the edition: its steps and losses, what is wanted, what pieces bring in.
import { chanceOfTiersUnsure } from "../../ceramics/uncertain-tiers";
import type { CellName } from "../../core/document/access";
import { rowOf } from "../../core/document/access";
import type { Result } from "../../core/problem";
import { askChance, type ChanceQuestion, runsOf } from "../../whatif/questions/chance";
import type { InputRange } from "../../whatif/questions/ranking";
import {
  bestOf,
  type Stakes,
  startsToWeigh,
  sureEnough,
  type WeighedStarts,
  weigh,
} from "../../whatif/questions/start-choice";
import { askSweep } from "../../whatif/questions/sweep";
import { type Setting, sameCell } from "../../whatif/run/case-matrix";
import type { RouteStep } from "../../whatif/run/run-draws";
import { baseOf, type QuestionContext } from "./question-context";
import type { ChanceAnswer } from "./whatif-answers";
import { chanceSettings } from "./whatif-apply";
import { askCell, lineCell, lossCell } from "./whatif-cells";
import { numberToday } from "./whatif-ranges";
import { once } from "./whatif-settings";

const STARTS = lineCell("edition", "starts");
const SPECIAL_STARTS = lineCell("edition", "special_starts");
const COST = lineCell("edition", "plan_cost");
const MOST_WEIGHED = 121;
/** Lines of the Edition sheet whose price may be drawn. */
const UNCERTAIN_LINES = ["tariff", "wage", "overhead_rate", "mould_cost"];

/** Asks what may become of the run in the case that is tried. */
export async function askOfChance(context: QuestionContext, tried: readonly Setting[]): Promise<ChanceAnswer> {
  const question = await questionOf(context, tried);
  const { session, client, options, breathe } = context;
  const cells = tried.map(({ cell }) => cell);
  const drawn = question.ranges.map(({ input }) => input);
  const prepared = await context.prepare(once([...question.entries, ...drawn, ...cells]), [COST]);
  const asking = { client, prepared, base: baseOf(context, prepared, tried), options };
  const chance = must(await askChance(asking, question, breathe));
  const weighed = await weighStarts(context, question, tried);
  const best = bestOf(weighed);
  const wanted = question.wanted.standard + question.wanted.special;
  return {
    starts: question.starts,
    wanted,
    chance,
    weighed,
    best,
    sure: sureOf(weighed, question),
    unsureChance: unsureChance(context, question),
    draws: question.draws,
    seed: question.seed,
    drawn: drawn.map((cell) => askCell(session.book.value, cell)?.title ?? cell.row),
    isBestAtEnd: best !== undefined && best === weighed.at(-1),
  };
}

function must<T>(result: Result<T>): T {
  if (result.ok) return result.value;
  throw new Error(result.problems.map(({ message }) => message).join(" "));
}

async function questionOf(context: QuestionContext, tried: readonly Setting[]): Promise<ChanceQuestion> {
  const { session, client, options } = context;
  const book = session.book.value;
  const prepared = await context.prepare(
    tried.map(({ cell }) => cell),
    [STARTS, SPECIAL_STARTS],
  );
  const signal = options.signal ? { signal: options.signal } : {};
  const found = tried.length === 0 ? undefined : await client.run(prepared, baseOf(context, prepared, tried), signal);
  const [starts = 0, specialStarts = 0] = found?.outputs ?? prepared.todayOutputs;
  const at = (cell: CellName) => tried.find((one) => sameCell(one.cell, cell))?.value ?? numberToday(session, cell);
  const line = (id: string) => at(lineCell("edition", id)) || 0;
  const special = Math.min(line("special_wanted"), line("wanted"));
  const { draws, seed } = chanceSettings(session);
  const steps = book.sheets.route.rows;
  return {
    steps: steps.map(
      (row): RouteStep => ({
        id: row.id,
        loss: at(lossCell(row.id)) || 0,
        who: row.cells.who === "special" ? "special" : "all",
        needed: row.cells.who === "as needed" ? at({ sheet: "route", row: row.id, column: "needed" }) || 0 : 1,
      }),
    ),
    entries: steps.map((row) => ({ sheet: "route", row: row.id, column: "plan_entries" })),
    ...{ starts, specialStarts, draws, seed },
    wanted: { standard: line("wanted") - special, special },
    stakes: stakesOf(context, line),
    ranges: uncertainPrices(context),
    cost: 0,
  };
}

function stakesOf({ session }: QuestionContext, line: (id: string) => number): Stakes {
  const taken = (tier: string) => line(`gross_${tier}`) * line("fee_rate") + line("fee_fixed") + line("packing");
  const worth = (tier: string) => line(`net_${tier}`) - taken(tier);
  const { shortfall, surplus } = chanceSettings(session);
  return {
    worth: { standard: worth("standard"), special: worth("special") },
    ...{ shortfall, surplus, fixed: line("fixed_costs") },
  };
}

/** The prices for which the maker has given a range: of materials, of power, of work. */
function uncertainPrices({ session }: QuestionContext): readonly InputRange[] {
  const book = session.book.value;
  return book.lists.ranges
    .filter(
      ({ sheet, row, column }) =>
        (sheet === "materials" && column === "pack_price") ||
        (sheet === "edition" && column === "value" && UNCERTAIN_LINES.includes(row)),
    )
    .filter(({ sheet, row }) => rowOf(book, sheet, row) !== undefined)
    .map(({ sheet, row, column, low, high }) => ({ input: { sheet, row, column }, low, high }));
}

async function weighStarts(context: QuestionContext, question: ChanceQuestion, tried: readonly Setting[]) {
  const wanted = question.wanted.standard + question.wanted.special;
  const coarse = await weighAll(context, question, tried, startsToWeigh(wanted, question.starts, MOST_WEIGHED));
  const best = bestOf(coarse);
  const stride = (coarse[1]?.starts ?? 0) - (coarse[0]?.starts ?? 0);
  if (!best || stride <= 1) return coarse;
  const near = Array.from({ length: 2 * stride - 1 }, (_, at) => best.starts - stride + 1 + at);
  const known = new Set(coarse.map(({ starts }) => starts));
  const fine = near.filter((starts) => starts >= 0 && !known.has(starts));
  const added = await weighAll(context, question, tried, Float64Array.from(fine));
  return [...coarse, ...added].sort((a, b) => a.starts - b.starts);
}

async function weighAll(
  context: QuestionContext,
  question: ChanceQuestion,
  tried: readonly Setting[],
  starts: Float64Array,
): Promise<readonly WeighedStarts[]> {
  const { client, options, breathe } = context;
  const cells = tried.map(({ cell }) => cell);
  const prepared = await context.prepare(once([STARTS, ...cells]), [COST, SPECIAL_STARTS]);
  const asking = { client, prepared, base: baseOf(context, prepared, tried), options };
  const [costs, ofSpecial] = (await askSweep(asking, STARTS, starts)).outputs;
  const weighed: WeighedStarts[] = [];
  for (const [at, count] of starts.entries()) {
    if (at % 20 === 19) {
      await breathe();
      options.signal?.throwIfAborted();
    }
    const runs = runsOf({ ...question, starts: count, specialStarts: ofSpecial?.[at] || 0 });
    weighed.push(must(weigh({ starts: count, runs, cost: costs?.[at] ?? Number.NaN }, question.stakes)));
  }
  return weighed;
}

/** How sure to be, about: one more start costs its own cost ÷ yield where it was not needed, and saves a sale where it was. */
function sureOf(weighed: readonly WeighedStarts[], { stakes, wanted }: ChanceQuestion): number {
  const [first, last] = [weighed[0], weighed.at(-1)];
  const pieces = wanted.standard + wanted.special;
  if (!first || !last || last.starts <= first.starts || pieces === 0) return Number.NaN;
  // With two tiers there is no one number: a start may be needed for either.
  if (wanted.standard > 0 && wanted.special > 0) return Number.NaN;
  const costPerGood = (last.cost - first.cost) / (last.expectedGood - first.expectedGood);
  const worth = (wanted.standard * stakes.worth.standard + wanted.special * stakes.worth.special) / pieces;
  return sureEnough(worth + stakes.shortfall - costPerGood, stakes.surplus + costPerGood);
}

/** The chance of these starts when of the yields no more is known than what was counted; no number where nothing was. */
function unsureChance({ session }: QuestionContext, { starts, specialStarts, wanted }: ChanceQuestion): number {
  const today = (id: string) => numberToday(session, lineCell("edition", id));
  if (Number.isNaN(today("starts_unsure"))) return Number.NaN;
  const chance = chanceOfTiersUnsure(starts, specialStarts, {
    ...wanted,
    ...{ seenGood: today("seen_good"), seen: today("seen_pieces") },
    ...{ specialSeenGood: today("seen_special_good") || 0, specialSeen: today("seen_special") || 0 },
  });
  return chance.ok ? chance.value : Number.NaN;
}
