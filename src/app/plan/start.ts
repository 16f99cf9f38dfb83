// From the answers of the start dialog to an edition.
import { chanceOfTiers, specialAmong, startsForTiers, type TierPlan } from "../../ceramics/tiers";
import { wantedOverYield } from "../../ceramics/yields";
import { currencyDigits } from "../../core/currency";
import { type CellName, rowOf } from "../../core/document/access";
import { withExamples } from "../../core/document/examples";
import { type NextAnswers, type NextEdition, nextEdition } from "../../core/document/next-edition";
import { startEdition } from "../../core/document/start-edition";
import type { Template } from "../../core/document/template-schema";
import type { Row, Workbook } from "../../core/document/workbook";
import { fail, ok, type Problem, problem, type Result } from "../../core/problem";
import { starterRecipes } from "../../core/record/recipes";
import { checkFormula } from "../edition/formula-check";
import { allFields, planParts } from "./plan-parts";
import { listTemplates } from "./templates";

/** What was typed into the start dialog. */
export interface StartForm {
  readonly title: string;
  readonly wanted: string;
  /** Id of a template, or of the edition to start from. */
  readonly template: string;
  readonly currency: string;
  readonly firstPiece: string;
  /** How much of the currency is about one euro, as typed; blank takes what `usualPerEuro` says. */
  readonly perEuro?: string;
}

/**
 * How much of a currency is about as much as one euro: sizes to begin with and no rates, from memory. Those of the euro's
 * own size are 1 and not asked about.
 */
const PER_EURO: Readonly<Record<string, number>> = {
  ...{ EUR: 1, GBP: 1, USD: 1, CAD: 1, AUD: 1, NZD: 1, CHF: 1, SGD: 1 },
  ...{ SEK: 11, NOK: 11, DKK: 7.5, PLN: 4, CZK: 25, HUF: 400, ZAR: 20, INR: 90, BRL: 6, MXN: 20, CNY: 8 },
  ...{ JPY: 160, KRW: 1500, KWD: 0.33, BHD: 0.4, OMR: 0.4, JOD: 0.75, TND: 3.3 },
};

/** The size of a currency where it is known. */
export function usualPerEuro(currency: string): number | undefined {
  return PER_EURO[currency.trim().toUpperCase()];
}

/** The size to start with: what was typed, otherwise what is known of the currency; undefined where neither is a number. */
function perEuroOf(form: StartForm): number | undefined {
  if ((form.perEuro ?? "").trim() === "") return usualPerEuro(form.currency);
  const typed = Number((form.perEuro ?? "").trim().replace(",", "."));
  return typed > 0 && Number.isFinite(typed) ? typed : undefined;
}

/** The templates that can be used, and what is wrong with those that can't. */
export function templates(): { readonly good: readonly Template[]; readonly broken: readonly Problem[] } {
  const read = listTemplates(checkFormula).map((entry) => entry.template);
  return {
    good: read.flatMap((one) => (one.ok ? [one.value] : [])),
    broken: read.flatMap((one) => (one.ok ? [] : one.problems)),
  };
}

/** An edition from a filled-in form, with as many pieces as the planned losses ask for. */
export function startFrom(form: StartForm, today: string): Result<Workbook> {
  const template = templates().good.find((one) => one.id === form.template);
  const problems = [...problemsOf(form), ...moneyProblems(form)];
  if (!template)
    problems.unshift(
      problem({ code: "start.template", where: "Template", found: form.template, allowed: "one of the list" }),
    );
  if (!template || problems.length > 0) return fail(...problems);
  const answers = answersOf(form, today);
  const starts = startsOf(basisOfTemplate(template), answers.wanted);
  if (!starts.ok) return starts;
  const currency = form.currency.trim().toUpperCase();
  const book = startEdition(template, { ...answers, currency, perEuro: perEuroOf(form) ?? 1 }, starts.value);
  return ok(withStarterRecipes(withExamples(book, examplesOf(book))));
}

/** The next edition from one that there is. Amounts of an invented one are examples, as a template's are. */
export function startNext(form: StartForm, today: string, from: Workbook): Result<NextEdition> {
  const problems = problemsOf(form);
  if (problems.length > 0) return fail(...problems);
  const answers = { ...answersOf(form, today), ...(form.template === "" ? {} : { from: form.template }) };
  const starts = startsOf(basisOfBook(from), answers.wanted);
  if (!starts.ok) return starts;
  const next = nextEdition(from, answers, starts.value);
  return ok(from.meta.invented ? { ...next, book: withExamples(next.book, examplesOf(next.book)) } : next);
}

const answersOf = ({ title, wanted, firstPiece }: StartForm, started: string): NextAnswers => {
  return { title: title.trim(), wanted: Number(wanted.trim()), firstPiece, started };
};

const startsOf = (basis: Basis, wanted: number) => startsForTiers(tiersOf(basis, wanted), basis.confidence);

/** What is wrong with name, number and first piece. */
function problemsOf({ title, wanted, firstPiece }: StartForm): Problem[] {
  const problems: Problem[] = [];
  if (title.trim() === "")
    problems.push(problem({ code: "start.title", where: "Name", found: "", allowed: "a name for the edition" }));
  if (!isWanted(Number(wanted.trim())))
    problems.push(
      problem({
        code: "start.wanted",
        where: "Pieces to deliver",
        found: wanted,
        allowed: "a whole number from 1 to 10 000",
      }),
    );
  if (firstPiece.trim() === "")
    problems.push(
      problem({ code: "start.first", where: "First piece number", found: "", allowed: "a number such as 001" }),
    );
  return problems;
}

const isWanted = (wanted: number) => Number.isInteger(wanted) && wanted >= 1 && wanted <= 10_000;

/** What is wrong with the currency and its size, which an edition that one is started from has already. */
function moneyProblems(form: StartForm): Problem[] {
  const currency = form.currency.trim().toUpperCase();
  if (!currencyDigits(currency).ok)
    return [
      problem({
        code: "start.currency",
        where: "Currency",
        found: form.currency,
        allowed: "an ISO 4217 code such as EUR, GBP or USD",
      }),
    ];
  if (perEuroOf(form) !== undefined) return [];
  return [
    problem({
      code: "start.size",
      where: `${currency} to one euro`,
      found: form.perEuro,
      allowed: "about how many make one euro, so that wage and prices begin with amounts of their size",
    }),
  ];
}

/** The amounts of a template that the Plan page asks for, but how many to deliver, which was just typed. */
function examplesOf(book: Workbook): readonly CellName[] {
  const asked = allFields(planParts(book)).map(({ cell }) => cell);
  // It is asked for once there are special pieces.
  const later: CellName = { sheet: "edition", row: "price_special", column: "value" };
  return [...asked.filter(({ row }) => row !== "wanted"), later];
}

/** The edition with the rescue recipes that its route, materials and kilns allow. */
function withStarterRecipes(book: Workbook): Workbook {
  const recipes = starterRecipes(book).map((recipe, at) => ({ ...recipe, id: `r${at + 1}` }));
  return { ...book, lists: { ...book.lists, recipes } };
}

/** What a template and a wanted number come to, before anything is made. */
export interface StartPlan {
  readonly starts: number;
  /** Share of what is started that the planned losses leave. */
  readonly chainYield: number;
  readonly confidence: number;
  /** Wanted ÷ yield, rounded up, and the chance that it delivers. */
  readonly naive: number;
  readonly naiveChance: number;
  /** Titles of the steps all pieces have, in order. */
  readonly steps: readonly string[];
}

/** The plan that the form would start with, from a template or an edition; undefined while the number is none. */
export function planOf(form: StartForm, from?: Workbook): StartPlan | undefined {
  const template = templates().good.find((one) => one.id === form.template);
  const basis = from ? basisOfBook(from) : template && basisOfTemplate(template);
  const wanted = Number(form.wanted.trim());
  if (!basis || !isWanted(wanted)) return undefined;
  const tiers = tiersOf(basis, wanted);
  const { confidence, steps } = basis;
  const { standard, special, yieldOfAll, yieldOfSpecial } = tiers;
  const chainYield = (yieldOfAll * wanted) / (standard + special / yieldOfSpecial);
  const [starts, naive] = [startsForTiers(tiers, confidence), wantedOverYield(wanted, chainYield)];
  if (!starts.ok || !naive.ok) return undefined;
  const split = specialAmong(naive.value, tiers);
  const chance = chanceOfTiers(naive.value, split.ok ? split.value : 0, tiers);
  return {
    starts: starts.value,
    ...{ chainYield, confidence, naive: naive.value },
    naiveChance: chance.ok ? chance.value : Number.NaN,
    steps: steps.filter(({ who }) => who !== "as needed").map(({ title }) => String(title)),
  };
}

/** What the number of starts follows from. */
interface Basis {
  /** How sure to be of delivering. */
  readonly confidence: number;
  readonly special: number;
  /** Cells of the steps of the route. */
  readonly steps: readonly Row["cells"][];
}

const numberOf = (value: unknown, otherwise = 0) => (typeof value === "number" ? value : otherwise);

const basisOfTemplate = ({ inputs, route }: Template): Basis => ({
  confidence: inputs.confidence ?? 0.9,
  special: inputs.special_wanted ?? 0,
  steps: route.map(({ title, cells }) => ({ title, ...cells })),
});

function basisOfBook(book: Workbook): Basis {
  const line = (id: string) => rowOf(book, "edition", id)?.cells.value;
  return {
    confidence: numberOf(line("confidence"), 0.9),
    special: numberOf(line("special_wanted")),
    steps: book.sheets.route.rows.map(({ cells }) => cells),
  };
}

/** Wanted pieces and yields of both tiers, as the Edition sheet will have them. */
function tiersOf({ special: asked, steps }: Basis, wanted: number): TierPlan {
  const special = Math.min(asked, wanted);
  const isSpecial = ({ who }: Basis["steps"][number]) => who === "special";
  const kept = (some: Basis["steps"]) =>
    some
      .map(({ loss, who, needed }) => numberOf(loss) * (who === "as needed" ? numberOf(needed) : 1))
      .reduce((left, loss) => left * (1 - loss), 1);
  return {
    ...{ standard: wanted - special, special },
    yieldOfAll: kept(steps.filter((step) => !isSpecial(step))),
    yieldOfSpecial: kept(steps.filter(isSpecial)),
  };
}
