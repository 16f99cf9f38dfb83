// Ways forward for a flawed piece, from now on only: what each takes and brings, which to choose and why. What was spent
// already is shown and never counted.

import {
  type LeavingWay,
  type RescueInput,
  type RescuingWay,
  type WeighedWays,
  weighWays,
} from "../../accounts/decide";
import { workAtStep } from "../../accounts/piece-cost";
import type { PlainEntry, PlainStep } from "../../accounts/plain-edition";
import { listed } from "../../core/counted";
import { rowLabel, rowOf } from "../../core/document/access";
import type { Row } from "../../core/document/workbook";
import { fail, ok, type Problem, problem, type Result } from "../../core/problem";
import { type Recipe, recipeProblems } from "../../core/record/recipes";
import type { SoldTier } from "../../core/sheets/price-terms";
import { amountOf, isFiringStep, KIND_INPUTS, rulesOf, STEP_KIND_RULES } from "../../core/sheets/step-kinds";
import { type ExtraStep, repeatOf } from "../../core/steps/extra-steps";
import { lastStepHad, stepsToCome } from "../../core/steps/piece-steps";
import type { Session } from "../edition/session";
import { readerOf } from "../settle/cell-reader";
import { netOfPrice } from "../settle/price-terms";
import { estimateFiring, type FiringEstimate } from "./rescue-firing";

/** How the question is put. */
export interface RescueTerms {
  /** Whether its firings ride in loads that are fired anyway. */
  readonly rides: boolean;
  /** Whether the work is counted at the wage, and at the overhead an hour besides. */
  readonly countsLabour: boolean;
  readonly countsOverhead: boolean;
  /** What a place in the kiln would have earned; 0 while there is room to spare. */
  readonly roomEach: number;
  /** What a buyer would pay for it just as it is. */
  readonly asIsPrice: number;
  /** Chances other than the recipes' own, by recipe. */
  readonly chances: Readonly<Record<string, number>>;
  /** Prices agreed for some pieces alone, by `priceKey`. */
  readonly prices: Readonly<Record<string, number>>;
}

/** What some steps take, a piece. */
interface StepsTake {
  readonly material: number;
  readonly labour: number;
  readonly overhead: number;
  readonly minutes: number;
  readonly firings: readonly FiringEstimate[];
  /** Firings in loads that are fired anyway, and on their own. */
  readonly riding: number;
  readonly alone: number;
}

/** A recipe put to this piece. */
export interface RescueColumn {
  readonly recipe: Recipe;
  readonly takes: StepsTake;
  readonly room: number;
  readonly chance: number;
  /** What success and failure fetch, net of tax, fees and packing; success also less what is then still to do. */
  readonly success: number;
  readonly failure: number;
  readonly input: Omit<RescueInput, "asIs">;
}

/** What pieces are sold at at the end of a way, as prices are typed. */
interface WayPrice {
  readonly tier: SoldTier;
  readonly price: number;
  /** Whether it is theirs alone, and not that of their tier. */
  readonly isOwn: boolean;
}

/** The whole question, ready to be shown. */
export interface RescueTable {
  readonly pieces: readonly string[];
  readonly piece: string;
  /** Own cost so far: shown greyed, never counted. */
  readonly spent: number;
  /** What is still to do to it were it not flawed. */
  readonly toCome: StepsTake;
  readonly toComeTitles: readonly string[];
  /** The step at which it would be lost were it scrapped. */
  readonly lastStep: string | undefined;
  readonly leaving: readonly LeavingWay[];
  /** What it was weighed to be sold at, by the way that is chosen. */
  readonly prices: ReadonlyMap<string, WayPrice>;
  readonly columns: readonly RescueColumn[];
  readonly weighed: WeighedWays;
  /** Recipes that can't be used here, and why. */
  readonly refused: readonly Problem[];
}

const numberOr = (value: unknown, other: number) => (typeof value === "number" ? value : other);
const line = (session: Session, id: string) => numberOr(session.result(id, "edition"), 0);

/** What a price of some pieces at the end of a way is kept by: other pieces are asked anew. */
export const priceKey = (pieces: readonly string[], way: string): string => `${way} ${pieces.join(" ")}`;

/** Terms to begin with: riding, work counted, overhead not, room to spare, sold as a second would be. */
export function usualTerms(session: Session): RescueTerms {
  return {
    ...{ rides: true, countsLabour: true, countsOverhead: false, roomEach: 0, chances: {}, prices: {} },
    asIsPrice: line(session, "price_second"),
  };
}

/** Weighs the ways forward for one flawed piece, or several alike: amounts are for one of them. */
export function rescueTable(session: Session, pieces: readonly string[], terms: RescueTerms): Result<RescueTable> {
  const book = session.book.value;
  const rows = pieces.flatMap((id) => rowOf(book, "pieces", id) ?? []);
  const [piece] = rows;
  const wrong = pieceProblems(rows);
  if (!piece || wrong.length > 0) return fail(...wrong);
  const coming = stepsToCome(book, piece);
  const toCome = stepsTake(
    session,
    piece,
    rows.length,
    coming.flatMap((row) => repeatOf(book, row.id) ?? []),
  );
  const prices = wayPrices(session, rows, terms);
  const leaving = leavingWays(session, piece, toCome, terms, prices);
  const broken = book.lists.recipes.flatMap((recipe) => recipeProblems(book, recipe).slice(0, 1));
  const columns = book.lists.recipes
    .filter((recipe) => recipeProblems(book, recipe).length === 0)
    .map((recipe) => columnOf(session, piece, rows.length, recipe, toCome, terms, prices));
  const ways = columns.map(({ recipe, input }): RescuingWay => ({ id: recipe.id, title: recipe.title, input }));
  const weighed = weighWays(leaving, ways);
  if (!weighed.ok) return weighed;
  return ok({
    pieces: rows.map(({ id }) => id),
    piece: piece.id,
    spent: numberOr(session.value({ sheet: "pieces", row: piece.id, column: "own" }), 0),
    toCome,
    toComeTitles: coming.map((row) => rowLabel("route", row)),
    lastStep: book.sheets.route.rows[Math.max(0, lastStepHad(book, piece))]?.id,
    ...{ prices, leaving, columns, weighed: weighed.value, refused: [...broken, ...weighed.value.refused] },
  });
}

function pieceProblems(rows: readonly Row[]): readonly Problem[] {
  if (rows.length === 0)
    return [problem({ code: "rescue.piece", where: "Rescue", found: "", allowed: "a flawed piece, or several alike" })];
  const lost = rows.filter(({ cells }) => cells.lost_at !== undefined);
  const names = listed(lost.map((row) => rowLabel("pieces", row)));
  return lost.length === 0
    ? []
    : [
        problem({
          code: "rescue.lost",
          where: "Rescue",
          found: `lost pieces: ${names}`,
          allowed: "pieces that are not lost",
          fix: "Record them as not lost first.",
        }),
      ];
}

const countedWork = (takes: StepsTake, terms: RescueTerms) =>
  (terms.countsLabour ? takes.labour : 0) + (terms.countsOverhead ? takes.overhead : 0);

/** What is still to do costs from now on; its firings are fired anyway. */
const costToFinish = (toCome: StepsTake, terms: RescueTerms) =>
  toCome.material + countedWork(toCome, terms) + toCome.riding;

/** What the pieces are sold at at the end of each way, some of it agreed for them alone. */
function wayPrices(session: Session, rows: readonly Row[], terms: RescueTerms): ReadonlyMap<string, WayPrice> {
  const ids = rows.map(({ id }) => id);
  const second = line(session, "price_second");
  const agreed = (way: string) => terms.prices[priceKey(ids, way)];
  const of = (tier: SoldTier, usual: number, own: number | undefined): WayPrice => ({
    ...{ tier, price: own ?? usual, isOwn: own !== undefined },
  });
  return new Map([
    ["as is", of("second", second, terms.asIsPrice === second ? undefined : terms.asIsPrice)],
    ["second", of("second", second, agreed("second"))],
    ...session.book.value.lists.recipes.map((recipe): [string, WayPrice] => {
      const tier = recipe.grade === "second" ? "second" : rows[0]?.cells.tier === "special" ? "special" : "standard";
      const held = rows[0]?.cells.own_price;
      const usual = typeof held === "number" ? held : line(session, `price_${tier}`);
      return [recipe.id, of(tier, usual, agreed(recipe.id) ?? recipe.fetches)];
    }),
  ]);
}

const netOf = (session: Session, tier: SoldTier, price: number) => netOfPrice(readerOf(session), tier, price);
const brings = (session: Session, sold: WayPrice | undefined) => (sold ? netOf(session, sold.tier, sold.price) : 0);

function leavingWays(
  session: Session,
  piece: Row,
  toCome: StepsTake,
  terms: RescueTerms,
  prices: RescueTable["prices"],
): readonly [LeavingWay, ...LeavingWay[]] {
  const second = brings(session, prices.get("second")) - costToFinish(toCome, terms);
  return [
    { id: "as is", title: "Sell it as it is", brings: brings(session, prices.get("as is")) },
    { id: "second", title: "Finish it as a second", brings: second },
    { id: "scrap", title: "Scrap it", brings: scrapOf(session, piece) },
  ];
}

/** Scrap of a piece that has been fired; of one that has not, the slip that can be used again. */
function scrapOf(session: Session, piece: Row): number {
  const { rows } = session.book.value.sheets.route;
  const last = lastStepHad(session.book.value, piece);
  const firstFiring = rows.findIndex(isFiringStep);
  if (firstFiring < 0 || last >= firstFiring) return line(session, "scrap_value");
  const clay = rows
    .filter((row) => rulesOf(row)?.isMaking)
    .map((row) => session.value({ sheet: "pieces", row: piece.id, column: `${row.id}.material` }))
    .reduce<number>((sum, value) => sum + numberOr(value, 0), 0);
  return line(session, "reclaim") * clay;
}

function columnOf(
  session: Session,
  piece: Row,
  count: number,
  recipe: Recipe,
  toCome: StepsTake,
  terms: RescueTerms,
  prices: RescueTable["prices"],
): RescueColumn {
  const takes = stepsTake(session, piece, count, recipe.steps);
  // A piece that rides takes one place; a kiln fired for these pieces takes all its places from others.
  const places = takes.firings.reduce((sum, one) => sum + (terms.rides ? 1 : one.places / count), 0);
  const room = terms.roomEach * places;
  const success = brings(session, prices.get(recipe.id)) - costToFinish(toCome, terms);
  const failure = netOf(session, "second", recipe.failed);
  const chance = terms.chances[recipe.id] ?? recipe.chance;
  const firings = takes.firings.map(({ marginalEach, aloneEach }) => ({
    ridesInPlannedLoad: terms.rides,
    marginalCost: marginalEach,
    fullCost: aloneEach,
  }));
  const input = {
    material: takes.material,
    labour: countedWork(takes, terms),
    firings,
    room,
    chance,
    success,
    failure,
  };
  return { recipe, takes, room, chance, success, failure, input };
}

/** What steps take of one piece where `count` go through them together. */
function stepsTake(session: Session, piece: Row, count: number, steps: readonly ExtraStep[]): StepsTake {
  const rates = { wagePerHour: line(session, "wage"), overheadPerHour: line(session, "overhead_normal") };
  const work = steps.map((step) => workAtStep(rates, plainStep(session, step), entryOf(step)));
  const pieceKg = numberOr(session.value({ sheet: "pieces", row: piece.id, column: "kg" }), 0);
  const firings = steps
    .filter((step) => STEP_KIND_RULES[step.kind].entered === "firing")
    .map(({ cells: { kiln, programme } }) =>
      estimateFiring(session, { kiln: kiln ?? firstKiln(session), programme, pieceKg, pieces: count }),
    );
  const sum = (of: (one: (typeof work)[number]) => number) => work.reduce((total, one) => total + of(one), 0);
  return {
    material: sum((one) => one.material),
    labour: sum((one) => one.labour),
    overhead: sum((one) => one.overhead),
    minutes: sum((one) => one.minutes),
    firings,
    riding: firings.reduce((total, one) => total + one.marginalEach, 0),
    alone: firings.reduce((total, one) => total + one.aloneEach, 0),
  };
}

const firstKiln = (session: Session) => session.book.value.sheets.kilns.rows[0]?.cells.id;

function plainStep(session: Session, step: ExtraStep): PlainStep {
  const { cells, kind } = step;
  const material = session.book.value.sheets.materials.rows.find((row) => row.cells.id === cells.material);
  const perGram = material && session.value({ sheet: "materials", row: material.id, column: "per_gram" });
  const inputs = KIND_INPUTS.map(({ key }) => [key, cells[key]] as const);
  const numbers = Object.entries({ minutesEach: cells.minutes, pricePerGram: perGram });
  return {
    ...{ id: step.title, kind, order: 0 },
    ...Object.fromEntries([...inputs, ...numbers].filter(([, raw]) => typeof raw === "number")),
  };
}

function entryOf(step: ExtraStep): PlainEntry {
  const amount = amountOf(STEP_KIND_RULES[step.kind]);
  if (!amount) return {};
  return { [amount.column]: step.amount ?? numberOr(step.cells[amount.usual], amount.otherwise ?? 0) };
}
