// From the answers of the start dialog to an edition.
import { chanceOf, startsNeeded, wantedOverYield, yieldChain } from "../ceramics/yields";
import { currencyDigits } from "../core/money";
import { fail, ok, type Problem, problem, type Result } from "../core/problem";
import { startEdition } from "../core/start-edition";
import type { Template } from "../core/template-schema";
import type { Workbook } from "../core/workbook";
import { checkFormula } from "./formula-check";
import { listTemplates } from "./templates";

/** What was typed into the start dialog. */
export interface StartForm {
  readonly title: string;
  readonly wanted: string;
  readonly template: string;
  readonly currency: string;
  readonly firstPiece: string;
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
  const wanted = Number(form.wanted.trim());
  const currency = form.currency.trim().toUpperCase();
  const problems: Problem[] = [];
  if (!template)
    problems.push(
      problem({ code: "start.template", where: "Template", found: form.template, allowed: "one of the list" }),
    );
  if (form.title.trim() === "")
    problems.push(problem({ code: "start.title", where: "Name", found: "", allowed: "a name for the edition" }));
  if (!Number.isInteger(wanted) || wanted < 1 || wanted > 10_000)
    problems.push(
      problem({
        code: "start.wanted",
        where: "Pieces to deliver",
        found: form.wanted,
        allowed: "a whole number from 1 to 10 000",
      }),
    );
  if (!currencyDigits(currency).ok)
    problems.push(
      problem({
        code: "start.currency",
        where: "Currency",
        found: form.currency,
        allowed: "an ISO 4217 code such as EUR, GBP or USD",
      }),
    );
  if (form.firstPiece.trim() === "")
    problems.push(
      problem({ code: "start.first", where: "First piece number", found: "", allowed: "a number such as 001" }),
    );
  if (!template || problems.length > 0) return fail(...problems);
  const starts = startsFor(template, wanted);
  if (!starts.ok) return starts;
  const answers = { title: form.title.trim(), wanted, currency, firstPiece: form.firstPiece, started: today };
  return ok(startEdition(template, answers, starts.value));
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

/** The plan that the form would start with; undefined while the number is none. */
export function planOf(form: StartForm): StartPlan | undefined {
  const template = templates().good.find((one) => one.id === form.template);
  const wanted = Number(form.wanted.trim());
  if (!template || !Number.isInteger(wanted) || wanted < 1 || wanted > 10_000) return undefined;
  const starts = startsFor(template, wanted);
  const chain = yieldChain(plannedLosses(template));
  const naive = chain.ok ? wantedOverYield(wanted, chain.value) : chain;
  if (!starts.ok || !chain.ok || !naive.ok) return undefined;
  const chance = chanceOf(wanted, naive.value, chain.value);
  return {
    starts: starts.value,
    chainYield: chain.value,
    confidence: template.inputs.confidence ?? 0.9,
    naive: naive.value,
    naiveChance: chance.ok ? chance.value : Number.NaN,
    steps: template.route.filter(({ cells }) => cells.who !== "as needed").map(({ title }) => title),
  };
}

/** Pieces to start so that the wanted number is delivered at the template's certainty. */
function startsFor(template: Template, wanted: number): Result<number> {
  const chain = yieldChain(plannedLosses(template));
  return chain.ok ? startsNeeded(wanted, chain.value, template.inputs.confidence ?? 0.9) : chain;
}

/** Planned losses of the steps that count for the whole edition. */
function plannedLosses(template: Template): readonly number[] {
  const hasSpecial = (template.inputs.special_wanted ?? 0) > 0;
  return template.route
    .filter(({ cells }) => cells.who !== "as needed" && (cells.who !== "special" || hasSpecial))
    .map((step) => (typeof step.cells.loss === "number" ? step.cells.loss : 0));
}
