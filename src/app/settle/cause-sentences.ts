// A cause in one sentence of plain words, and its numbers as they are written.
import { CAUSES, type Cause, type Variance } from "../../accounts/plan-causes";
import type { RoundedCause } from "../../accounts/variance-rounding";
import { plural } from "../../core/counted";
import { rowLabel, rowOf } from "../../core/document/access";
import { fromMinorUnits } from "../../core/money";
import { scaleOfUnit } from "../../core/units/shown";
import { showNumber } from "../edition/format";
import { moneyText, withCurrency } from "../edition/money-text";
import type { Session } from "../edition/session";
import { CAUSE_WORDS, cellOfCause } from "./cause-words";
import type { Sentence } from "./story";

/** Adverse lowers the margin, favourable raises it; said in words beside the sign. What is not made yet is neither. */
export function verdictOf(minor: number, cause?: Cause): string {
  if (cause !== undefined && CAUSES[cause] === "still to come") return "to come";
  return minor < 0 ? "adverse" : minor > 0 ? "favourable" : "";
}

/** A signed amount of minor units with its currency. */
export function signedMoney(session: Session, minor: number): string {
  return `${minor > 0 ? "+" : ""}${moneyText(session, fromMinorUnits(minor, session.digits))}`;
}

/** What a cause is about: a step by its title, a tier in words; nothing where it is the whole edition. */
export function partName(session: Session, of: string | undefined): string {
  if (of === undefined) return "";
  const book = session.book.value;
  const row = rowOf(book, "route", of);
  if (row) return rowLabel("route", row);
  for (const plan of book.lists.plans.toReversed()) {
    const step = plan.steps.find((one) => one.step === of);
    if (step) return step.title;
  }
  return TIERS[of] ?? of;
}

const TIERS: Readonly<Record<string, string>> = {
  standard: "standard",
  special: "special",
  second: "seconds",
  "standard second": "seconds, standard",
  "special second": "seconds, special",
};

/** A planned or real number of a cause with its unit, as the edition shows units. */
export function measureText(session: Session, cause: Cause, value: number): string {
  const { unit, decimals } = CAUSE_WORDS[cause].measure;
  const { meta } = session.book.value;
  const scale = scaleOfUnit(unit, meta);
  const shown = scale ? scale.toShown(value) : value;
  const [least, most] =
    decimals === "money" ? [session.digits, session.digits] : [0, decimals + (scale?.moreDigits ?? 0)];
  const text = showNumber(shown, least, Math.max(0, most), session.formats.locale);
  const rest = unit === "pieces" ? plural(value, "piece", unit) : (scale?.unit ?? unit).replace(/^¤/, "");
  const withUnit = unit.startsWith("¤") ? withCurrency(session.formats, text) : text;
  return rest === "" ? withUnit : unit.startsWith("¤") ? `${withUnit}${rest}` : `${withUnit}\u00a0${rest}`;
}

/** The sentence of a cause: what happened most of all, and what it came to. */
export function causeSentence(session: Session, { cause, minor, parts }: RoundedCause): Sentence {
  const largest = parts.toSorted((a, b) => Math.abs(b.minor) - Math.abs(a.minor)).at(0);
  const cell = largest && cellOfCause(session.book.value, largest, 1);
  const { title } = CAUSE_WORDS[cause];
  const linked = (amount: number) => {
    const text = signedMoney(session, amount);
    return cell ? { text, cell } : text;
  };
  const said = largest ? clauseOf(session, largest) : "";
  const isAlone =
    largest !== undefined && Math.abs(largest.minor) >= 0.9 * Math.abs(minor) && largest.minor * minor > 0;
  const verdict = ` ${verdictOf(minor)}`;
  if (said === "") return { question: title, parts: [`${title}: `, linked(minor), `${verdict}.`] };
  if (isAlone) return { question: title, parts: [`${capital(said)}: `, linked(minor), `${verdict}.`] };
  const most = [`; the most is that ${said} (`, linked(largest?.minor ?? 0), ")."];
  return { question: title, parts: [`${title}: `, signedMoney(session, minor), verdict, ...most] };
}

const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1);

/** What happened at a step or in a tier, without its amount. */
function clauseOf(session: Session, part: Variance): string {
  const { cause, planned = 0, real = 0, pieces = 0 } = part;
  const name = partName(session, part.of);
  const text = (value: number) => measureText(session, cause, value);
  const insteadOf = `${text(real)} instead of ${text(planned)}`;
  const eachMore = pieces === 0 ? 0 : (real - planned) / pieces;
  switch (cause) {
    case "materialPrice":
      return `the material of ${name} cost ${insteadOf}`;
    case "grams":
      return `${name} used ${eachText(session, "g", Math.abs(eachMore))} a piece ${eachMore > 0 ? "more" : "less"} than planned`;
    case "minutes":
      return `${name} took ${eachText(session, "min", Math.abs(eachMore))} a piece ${eachMore > 0 ? "longer" : "less"} than planned`;
    case "overheadHours":
      return `${name} took ${insteadOf}`;
    case "wage":
      return `an hour of ${name} cost ${insteadOf}`;
    case "overheadRate":
      return `an hour of ${name} carried ${insteadOf}`;
    case "tariff":
      return `energy of ${name} cost ${insteadOf}`;
    case "filling":
      return `a load of ${name} held ${insteadOf}`;
    case "kwh":
    case "loading":
      return `a load of ${name} took ${insteadOf}`;
    case "kilnWear":
      return `a load of ${name} wore off ${insteadOf}`;
    default:
      return clauseOfRun(name, cause, part, text);
  }
}

/** An amount a piece, to a tenth. */
function eachText(session: Session, unit: string, value: number): string {
  const scale = scaleOfUnit(unit, session.book.value.meta);
  const digits = 1 + Math.max(0, scale?.moreDigits ?? 0);
  const shown = showNumber(scale ? scale.toShown(value) : value, 1, digits, session.formats.locale);
  return `${shown}\u00a0${scale?.unit ?? unit}`;
}

function clauseOfRun(name: string, cause: Cause, part: Variance, text: (value: number) => string): string {
  const { planned = 0, real = 0 } = part;
  const bare = (value: number) => text(value).replace(/\u00a0pieces?$/, "");
  switch (cause) {
    case "lossesInPlan":
      return `losses at ${name} cost ${text(real)} where ${text(planned)} was planned for as many good pieces`;
    case "lossesBeyond":
      return `${name} lost ${text(real - planned)} more than its planned rate allows`;
    case "refires":
      return `${name} was done to ${text(real)}, where ${bare(planned)} were expected to need it`;
    case "steps":
      return part.planned === undefined
        ? `${name} was left out of some pieces, or added`
        : `${name} was not in the plan`;
    case "number":
      return `${text(real)} are sold or expected to be, planned ${bare(planned)}`;
    case "mix":
      return `${text(real)} are ${name}, where ${bare(planned)} would be the planned mix`;
    case "spare":
      return `${real === 0 ? `no ${name} piece is` : `${bare(real)} ${name} pieces are`} left over, where ${bare(planned)} were planned`;
    case "price":
      return `${name.endsWith("second") ? `${name}s` : `${name} pieces`} fetch ${text(real)} on average instead of ${text(planned)}`;
    default:
      return "";
  }
}
